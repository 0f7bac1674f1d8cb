package survey

import (
	"slices"
	"testing"

	"coldcheck/analysis"
	"coldcheck/netlist/settest"
)

// The hot chassis of the textbook: through the switch with the plug one way, through the heaters
// with the switch off the other way.
func TestPathsOfHotChassis(t *testing.T) {
	s := exampleSurvey(t, "hot-chassis")
	target := s.Targets[0]
	through, heaters := pathBy(target, "S1"), pathBy(target, "V3")
	if through < 0 || heaters < 0 {
		t.Fatalf("paths through S1 %d, through the heaters %d", through, heaters)
	}
	for _, x := range []struct {
		plug             analysis.Polarity
		at               string
		through, heaters PathState
	}{
		{analysis.AsMarked, "on", Idle, Idle},
		{analysis.AsMarked, "off", PathOpen, Brings},
		{analysis.Reversed, "on", Brings, Idle},
		{analysis.Reversed, "off", PathOpen, Idle},
	} {
		for n, state := range s.States {
			if state.Plug != x.plug || state.At("S1") != x.at {
				continue
			}
			e := s.At(Place{0, n}, 0)
			if e.Paths[through] != x.through || e.Paths[heaters] != x.heaters {
				t.Errorf("%s, S1 %s: through S1 %d, through the heaters %d", x.plug, x.at, e.Paths[through], e.Paths[heaters])
			}
		}
	}
}

// pathBy is the path without safeguards that goes through a part, -1 for none.
func pathBy(t *Target, part string) int {
	return slices.IndexFunc(t.Paths, func(p *Path) bool {
		return p.Cost == 0 && slices.ContainsFunc(p.Branches, func(i int) bool { return slices.Contains(t.Branches[i].Parts, part) })
	})
}

// TestWaysToAnEarth: metal is told to be tied to an earth through what holds nothing back, a wire or a resistor; not
// through a capacitor, and not by way of the line.
func TestWaysToAnEarth(t *testing.T) {
	for tie, want := range map[string]int{
		`W1 = { kind = "wire", ends = ["chassis", "G"] }`:                        1,
		`R1 = { kind = "resistor", ends = ["chassis", "G"], value = "1k" }`:      1,
		`C1 = { kind = "capacitor", ends = ["chassis", "G"], value = "0.1 uF" }`: 0,
		`R1 = { kind = "resistor", ends = ["chassis", "N"], value = "1k" }`:      0,
	} {
		s := surveyOf(t, settest.With(`PL1 = { kind = "plug", style = "grounding", hot = "L", neutral = "N", earth = "G" }
C9 = { kind = "capacitor", ends = ["L", "chassis"], value = "0.01 uF" }
`+tie, "chassis"))
		earths := s.Targets[0].Earths
		if len(earths) != want {
			t.Fatalf("%s: %d ways to an earth, want %d", tie, len(earths), want)
		}
		if want > 0 && (earths[0].From != "chassis" || earths[0].To() != "G") {
			t.Errorf("%s: the way is from %s to %s", tie, earths[0].From, earths[0].To())
		}
	}
}
