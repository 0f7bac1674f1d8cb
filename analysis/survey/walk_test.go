package survey

import (
	"testing"

	"coldcheck/analysis"
	"coldcheck/netlist/examples"
)

// A step that finds no difference for the worse has tried every failure of its sort in every state.
func TestNoDifferenceIsWhole(t *testing.T) {
	tried := 0
	for _, e := range examples.Sets() {
		s := exampleSurvey(t, e.Name)
		foremost := s.Foremost()
		steps := map[StepKind]Step{}
		for _, step := range s.Walk(foremost) {
			steps[step.Kind] = step
		}
		w := &walk{Survey: s, target: foremost}
		for _, kind := range failureKinds {
			sets := w.singles(func(f *analysis.Fault) bool { return kind.fits(s.Circuit.Set, f) })
			if len(sets) == 0 {
				continue
			}
			tried++
			harm := false
			for _, n := range sets {
				for i := range s.States {
					a, b := s.At(Place{0, i}, foremost), s.At(Place{n, i}, foremost)
					harm = harm || !a.Cleared && !b.Cleared && b.Class() > a.Class()
				}
			}
			step, is := steps[kind.kind]
			if !is || harm && !step.Worse {
				t.Errorf("%s: step %d is there %v, worse %v, and there is harm %v", e.Name, kind.kind, is, step.Worse, harm)
			}
		}
	}
	if tried == 0 {
		t.Error("no failure was tried")
	}
}

// A walk begins with both plug polarities, moves every control, and what it says of a failure is so.
func TestWalkIsTrue(t *testing.T) {
	for _, e := range examples.Sets() {
		s := exampleSurvey(t, e.Name)
		foremost := s.Foremost()
		steps := s.Walk(foremost)
		if steps[0].At != (Place{}) || steps[1].At != (Place{0, s.Positions()}) || steps[1].Before != (Place{}) {
			t.Errorf("%s: the walk begins at %v, then %v", e.Name, steps[0].At, steps[1].At)
		}
		moved := 0
		for _, step := range steps {
			from, to := s.At(step.Before, foremost), s.At(step.At, foremost)
			switch {
			case step.Kind == ControlMoved:
				moved++
				if step.OffIsLive && to.Class() != analysis.Live {
					t.Errorf("%s: off is said to be live at %.3g mA", e.Name, to.Milliamps)
				}
			case step.Worse && (to.Cleared || to.Most() < from.Most() || step.At.State != step.Before.State):
				t.Errorf("%s: step %d goes from %.3g mA to %.3g mA and is said to be worse", e.Name, step.Kind, from.Milliamps, to.Milliamps)
			}
		}
		want := 0
		for _, c := range s.Circuit.Switches {
			if len(c.Positions) > 1 {
				want++
			}
		}
		if moved != want {
			t.Errorf("%s: %d of %d controls are moved", e.Name, moved, want)
		}
	}
}
