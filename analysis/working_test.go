package analysis_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/settest"
)

// inTime is how far a body's current, or a bound of it, is of what is live and of what startles.
type inTime struct{ live, startles float64 }

func timesLimits(ac, dc float64) inTime {
	return inTime{ac/analysis.ES2AmpsAC + dc/analysis.ES2AmpsDC, ac/analysis.ES1AmpsAC + dc/analysis.ES1AmpsDC}
}

// holdBounds fails where a body in time would find a touch point live, or startling, and the bounds of the
// states do not say so: live to a twentieth, for a step of time has its error; startling from 0.8 of it on. What
// is held is the class, not the figure: ripple and resonance may carry more than a bound within its class.
func holdBounds(t settest.TB, c *analysis.Circuit) (points int) {
	bounds := make([]inTime, len(c.Points))
	cleared := map[[2]any]bool{}
	for _, row := range c.Judged() {
		key := [2]any{row.State.Plug, row.State.Position}
		cleared[key] = cleared[key] || row.Cleared
		for k, r := range row.Readings {
			b := timesLimits(r.Milliamps, r.MilliampsDC)
			bounds[k] = inTime{max(bounds[k].live, b.live), max(bounds[k].startles, b.startles)}
		}
	}
	for k, p := range c.Points {
		for _, state := range c.Normal() {
			if cleared[[2]any{state.Plug, state.Position}] {
				continue
			}
			o := c.WorkingAt(state.Position)
			o.Plug, o.Body = state.Plug, p.Index
			w, err := c.WorkingSet(o)
			if err != nil {
				continue
			}
			points++
			over := func(w *analysis.WorkingSet) (found inTime, over bool) {
				found = timesLimits(1e3*w.Touch.AmpsAC, 1e3*math.Abs(w.Touch.AmpsDC))
				return found, found.live > 1 && bounds[k].live <= 0.95 || found.startles > 1 && bounds[k].startles < 0.8
			}
			if found, bad := over(w); bad {
				// The bounds at AC know nothing of what a plate passes to a cathode that the line swings. What is left
				// when the tubes draw nothing must hold.
				o.Undrawn = true
				if w, err = c.WorkingSet(o); err == nil {
					if _, bad = over(w); bad {
						t.Fatalf("%s\n%s, %v: in time %+v of the limits, the bounds %+v", c.Set.Name, p.Name, state, found, bounds[k])
					}
				}
			}
		}
	}
	return points
}

// What a body would find while the set plays, the bounds say: on the examples and on random sets, with a hand
// on each touch point in every normal state.
func TestBoundsHoldInTime(t *testing.T) {
	for _, example := range examples.Sets() {
		holdBounds(t, analysistest.New(t, settest.Load(t, example.Text), analysis.Bench{}))
	}
	points := 0
	settest.Check(t, 100, func(t *rapid.T) {
		text := settest.Draw(t, settest.Limits{Parts: [2]int{4, 18}, Switches: 1, Sections: 2}).Text()
		set := settest.Load(t, text)
		set.Name = text
		points += holdBounds(t, analysistest.New(t, set, analysis.Bench{}))
	})
	if points < 200 && !testing.Short() {
		t.Errorf("%d points were held", points)
	}
}

// A set plays in the positions in which it draws from the line, and is solved once.
func TestPlaying(t *testing.T) {
	c := analysistest.New(t, settest.Load(t, settest.Example(t, "three-way-portable")), analysis.Bench{})
	p := c.Playing()
	if p != c.Playing() {
		t.Error("it is solved twice")
	}
	if len(p.OnLine) != 2 || p.Unsolved != nil || p.Cut {
		t.Errorf("on the line in %d positions, %v", len(p.OnLine), p.Unsolved)
	}
	amps, solved := c.LineAmps()
	settest.Near(t, "the most that it draws", amps, p.OnLine[0].Amps, 1e-9)
	if !solved {
		t.Error("it is not said to be solved")
	}
}

// A failed part that shorts the line does not hide what the set draws.
func TestLineAmpsBehindAShort(t *testing.T) {
	const parts = `PL1 = { kind = "plug", ends = ["a", "b"] }
R1 = { kind = "resistor", ends = ["a", "b"], value = 480 }
C1 = { kind = "capacitor", ends = ["a", "b"], value = "0.05 uF", condition = "failed" }
CY = { kind = "capacitor", ends = ["b", "chassis"], value = "1 nF", class = "Y2" }`
	c := analysistest.New(t, settest.Load(t, settest.With(parts, "chassis")), analysis.Bench{})
	if n := len(c.Playing().OnLine); n != 0 {
		t.Errorf("it plays in %d positions with the line shorted", n)
	}
	amps, _ := c.LineAmps()
	settest.Near(t, "what it draws", amps, 120/480.2, 5e-3)
}
