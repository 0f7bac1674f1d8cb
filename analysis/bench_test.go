package analysis

import (
	"testing"

	"pgregory.net/rapid"

	"coldcheck/netlist"
	"coldcheck/netlist/examples"
)

// largestExample is the example with the most parts.
func largestExample(b *testing.B) *netlist.Set {
	b.Helper()
	var largest *netlist.Set
	for _, e := range examples.Sets() {
		if set := loadText(b, e.Text); largest == nil || len(set.Parts) > len(largest.Parts) {
			largest = set
		}
	}
	return largest
}

// sixtyParts is a random set of sixty parts besides its plug, always the same one.
func sixtyParts(b *testing.B) *netlist.Set {
	b.Helper()
	return loadText(b, rapid.Custom(func(t *rapid.T) string {
		return drawSet(t, limits{[2]int{60, 60}, 1, 2, false}).text()
	}).Example(1))
}

func benchmarkExamine(b *testing.B, set *netlist.Set, faults int) {
	b.ReportMetric(float64(len(set.Parts)), "parts")
	for b.Loop() {
		newCircuit(b, set, Bench{}).Examine(Options{Faults: faults})
	}
}

func BenchmarkExamineLargestExample2(b *testing.B) { benchmarkExamine(b, largestExample(b), 2) }

func BenchmarkExamineLargestExample3(b *testing.B) { benchmarkExamine(b, largestExample(b), 3) }

func BenchmarkExamineSixtyParts2(b *testing.B) { benchmarkExamine(b, sixtyParts(b), 2) }

// BenchmarkFactorAndColumns: the equations of one switch combination, written, factored, and solved
// once for every port.
func BenchmarkFactorAndColumns(b *testing.B) {
	c := newCircuit(b, largestExample(b), Bench{})
	for b.Loop() {
		base := c.assemble(c.key(0, acBlocking, AsMarked, false), nil)
		for p := range c.ports {
			base.column(p)
		}
	}
}

// BenchmarkOneFaultSet: one set of faults on a base whose columns are there.
func BenchmarkOneFaultSet(b *testing.B) {
	c := newCircuit(b, largestExample(b), Bench{})
	s, probes := newSolver(c), c.touchProbes()
	faults := []*Fault{c.Faults[len(c.Faults)/3], c.Faults[len(c.Faults)/2]}
	for b.Loop() {
		s.run(AsMarked, 0, faults, false, nil, probes, everything, func(string, bool, []thevenin) bool { return true })
	}
}

func BenchmarkEachState2(b *testing.B) {
	set := largestExample(b)
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
	c := newCircuit(b, largestExample(b), Bench{})
	state := c.Normal()[0]
	for b.Loop() {
		w := c.Wiring(state)
		for _, p := range c.Points {
			for _, blade := range []string{c.plug.Hot, c.plug.Neutral} {
				w.Paths(blade, p.Name, 3, Query{})
			}
		}
	}
}
