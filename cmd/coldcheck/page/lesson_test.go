package page

import (
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/survey"
	"coldcheck/netlist/examples"
	"coldcheck/rules/phrase"
)

// Every step's figure is the table's for the state to which its button sets the bench; what it
// claims of a difference is so; and both ways of the plug come first.
func TestLessonIsTrue(t *testing.T) {
	for _, e := range examples.Sets() {
		r, sheet := exampleReport(t, e.Name), exampleSheet(t, e.Name)
		foremost := sheet.Foremost()
		v := sheet.lesson(r, foremost)
		if len(v.Steps) < 3 {
			t.Errorf("%s: %d steps", e.Name, len(v.Steps))
			continue
		}
		n := sheet.Positions()
		for i, s := range v.Steps {
			at := sheet.At(survey.Place{Faults: s.Fault, State: s.Way*n + s.Combo}, foremost)
			if !strings.Contains(s.Figure, phrase.Body(at.Reading)) || !strings.Contains(s.Figure, phrase.OnMeter(at.Reading)) {
				t.Errorf("%s, step %d: %q, and the table has %s", e.Name, i+1, s.Figure, phrase.Body(at.Reading))
			}
			sound := sheet.At(survey.Place{State: s.Way*n + s.Combo}, foremost)
			switch {
			case strings.Contains(s.Text(), "Now it is live") && at.Class() != analysis.Live,
				strings.Contains(s.Text(), "Now it startles") && at.Class() != analysis.Startles:
				t.Errorf("%s, step %d: %q at %s", e.Name, i+1, s.Text(), phrase.Body(at.Reading))
			case s.Fault > 0 && strings.Contains(s.Text(), "Now it is live") && sound.Class() == analysis.Live:
				t.Errorf("%s, step %d: %q, and it was live before", e.Name, i+1, s.Text())
			case s.Fault > 0 && strings.Contains(s.Text(), "no difference") && at.Class() > sound.Class():
				t.Errorf("%s, step %d: %q, and it does", e.Name, i+1, s.Text())
			}
		}
		if v.Steps[0].Way != 0 || v.Steps[1].Way != 1 || v.Steps[0].Fault+v.Steps[1].Fault+v.Steps[0].Combo+v.Steps[1].Combo != 0 {
			t.Errorf("%s: the lesson does not begin with both ways of the plug", e.Name)
		}
	}
}

// The end of the lesson says the depth, and for a depth under two something that would make it two.
func TestLessonEnds(t *testing.T) {
	depths := map[int]bool{}
	for _, e := range examples.Sets() {
		r, sheet := exampleReport(t, e.Name), exampleSheet(t, e.Name)
		foremost := sheet.Foremost()
		p := sheet.scenes[foremost].metal.Points[0]
		v := sheet.lesson(r, foremost)
		depths[p.Depth] = true
		want := map[int]string{analysis.None: "Nothing was found", 0: "none", 1: "one", 2: "2"}[p.Depth]
		if len(v.Stands) == 0 || !strings.Contains(v.Stands[0], want) {
			t.Errorf("%s: depth %d, told as %q", e.Name, p.Depth, v.Stands)
		}
		if p.Depth >= 0 && p.Depth < 2 && len(v.Two) == 0 {
			t.Errorf("%s: depth %d, and nothing would make it two", e.Name, p.Depth)
		}
	}
	if !depths[0] || !depths[1] {
		t.Errorf("the examples' lessons have depths %v", depths)
	}
}

// A polarized plug that is the only thing between is told as what it is.
func TestPolarizedLesson(t *testing.T) {
	r := reportOf(t, `format = 1
[set]
name = "polarized"
mains = "120 V 60 Hz"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", style = "polarized", hot = "line", neutral = "chassis" }
S1 = { kind = "switch", ends = ["line", "switched"] }
R1 = { kind = "resistor", ends = ["switched", "chassis"], value = "800" }
`)
	sheet := newSheet(r.Case)
	v := sheet.lesson(r, sheet.Foremost())
	if !strings.Contains(strings.Join(v.Stands, " "), "outlet wired backwards") {
		t.Errorf("told: %q", v.Stands)
	}
}
