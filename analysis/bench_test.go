package analysis

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

// sixtyParts is a random set of sixty parts besides its plug, always the same one.
func sixtyParts(b *testing.B) *netlist.Set {
	b.Helper()
	return settest.Load(b, rapid.Custom(func(t *rapid.T) string {
		return settest.Draw(t, settest.Limits{Parts: [2]int{60, 60}, Switches: 1, Controls: 1, Sections: 2}).Text()
	}).Example(1))
}

func benchmarkExamine(b *testing.B, set *netlist.Set, faults int) {
	b.ReportMetric(float64(len(set.Parts)), "parts")
	for b.Loop() {
		newCircuit(b, set, Bench{}).Examine(Options{Faults: faults})
	}
}

func BenchmarkExamineLargestExample2(b *testing.B) { benchmarkExamine(b, settest.LargestExample(b), 2) }

func BenchmarkExamineLargestExample3(b *testing.B) { benchmarkExamine(b, settest.LargestExample(b), 3) }

func BenchmarkExamineSixtyParts2(b *testing.B) { benchmarkExamine(b, sixtyParts(b), 2) }

func BenchmarkEachState2(b *testing.B) {
	set := settest.LargestExample(b)
	rows := 0
	for b.Loop() {
		rows = 0
		newCircuit(b, set, Bench{}).EachState(2, Filter{}, func(Row) bool {
			rows++
			return true
		})
	}
	b.ReportMetric(float64(rows), "rows")
}

func BenchmarkPaths(b *testing.B) {
	c := newCircuit(b, settest.LargestExample(b), Bench{})
	state := c.Normal()[0]
	for b.Loop() {
		w := c.Wiring(state)
		for _, p := range c.Points {
			for _, blade := range []string{c.Plug.Hot, c.Plug.Neutral} {
				w.Paths(blade, p.Name, 3, Query{})
			}
		}
	}
}

func largeCircuit(b *testing.B, parts int) *Circuit {
	b.Helper()
	return newCircuit(b, settest.Load(b, settest.Large(parts, 1)), Bench{})
}

// BenchmarkLarge: sets of doubling size, every single fault.
func BenchmarkLarge(b *testing.B) {
	for _, parts := range []int{500, 1000, 2000, 4000, 8000} {
		b.Run(fmt.Sprintf("parts=%d", parts), func(b *testing.B) {
			for b.Loop() {
				largeCircuit(b, parts).Examine(Options{Faults: 1})
			}
		})
	}
}

// BenchmarkLargePaths: 20,000 parts, the paths from the hot side to every touch point.
func BenchmarkLargePaths(b *testing.B) {
	c := largeCircuit(b, 19980)
	state := c.Normal()[0]
	hot, _ := c.Blades(state.Plug)
	for b.Loop() {
		w := c.Wiring(state)
		for _, p := range c.Points {
			w.Paths(hot, p.Name, 3, Query{})
		}
	}
}
