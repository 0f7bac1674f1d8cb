package diagnose

import (
	"coldcheck/analysis/analysistest"
	"fmt"
	"math"
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/netlist/settest"
)

func names(all []Explanation) string {
	var words []string
	for _, e := range all {
		words = append(words, e.Part)
	}
	return strings.Join(words, " ")
}

func cold(t *testing.T, l *Checklist, a, b string, tied bool) []Check {
	t.Helper()
	var found []Check
	for _, c := range l.Cold {
		if c.A == a && c.B == b && c.Tied == tied {
			found = append(found, c)
		}
	}
	if len(found) == 0 {
		t.Fatalf("no cold check from %s to %s", a, b)
	}
	return found
}

// floating: 220 kΩ from B-minus, 800 Ω from the other blade, each switch position its own line
// where they differ.
func TestColdChecks(t *testing.T) {
	l := Checks(analysistest.With(t, floating, "chassis"))
	fromHot := cold(t, l, "L", "chassis", false)
	if len(fromHot) != 1 || len(fromHot[0].When) != 2 {
		t.Fatalf("from the blade ahead of the switch: %+v", fromHot)
	}
	// 5 % of 220 kΩ and of 800 Ω, independent, beside 3 % of the meter and its floor.
	expect := 220e3 + 800.0
	share := math.Hypot(0.05*220e3, 0.05*800) / expect
	settest.Near(t, "expected", fromHot[0].Expect, expect, 1e-3)
	settest.Near(t, "band", fromHot[0].High-fromHot[0].Expect, ohmsFloor+(MeterShare+share)*expect, 0.02)
	for _, part := range []string{"C1", "R1"} {
		if !strings.Contains(names(fromHot[0].Lower), part) {
			t.Errorf("%s does not lower it: %s", part, names(fromHot[0].Lower))
		}
	}
	for _, part := range []string{"R1", "R9"} {
		if !strings.Contains(names(fromHot[0].Higher), part) {
			t.Errorf("%s open does not show: %s", part, names(fromHot[0].Higher))
		}
	}
	fromNeutral := cold(t, l, "N", "chassis", false)
	if len(fromNeutral) != 2 || fromNeutral[1].Expect < OhmsRange {
		t.Errorf("behind the switch: %+v", fromNeutral)
	}
	tied := cold(t, l, "L", "chassis", true)
	settest.Near(t, "tied", tied[0].Expect, 220e3, 1e-3)
}

func TestHotChecksOfLiveMetal(t *testing.T) {
	hot := `S1 = { kind = "switch", ends = ["N", "chassis"] }
R9 = { kind = "resistor", ends = ["L", "chassis"], value = 800 }`
	for style, want := range map[string]string{"plain": "no no no no", "polarized": "yes no no yes"} {
		plug := fmt.Sprintf("PL1 = { kind = \"plug\", style = %q, hot = \"L\", neutral = \"N\" }\n", style)
		l := Checks(analysistest.With(t, plug+hot, "chassis"))
		var do []string
		for i := range l.Hot {
			word := map[bool]string{true: "yes", false: "no"}[l.Hot[i].Do()]
			for range l.Hot[i].When {
				do = append(do, word)
			}
		}
		if got := strings.Join(do, " "); got != want {
			t.Errorf("%s plug: may be done: %s, want %s", style, got, want)
		}
	}
}

// A suspect capacitor that would make the metal live is told beside the check.
func TestHotChecksOfSuspects(t *testing.T) {
	l := Checks(analysistest.With(t, strings.Replace(floating, `type = "film"`, `type = "paper"`, 1), "chassis"))
	said := false
	for _, h := range l.Hot {
		for _, f := range h.May {
			said = said || f.Part == "C1" && h.Plug == analysis.Reversed
		}
	}
	if !said {
		t.Error("no word of C1")
	}
	for _, h := range Checks(analysistest.With(t, floating, "chassis")).Hot {
		if len(h.May) > 0 {
			t.Errorf("a good part told: %v", h.May)
		}
	}
}

// 4.7 nF to the chassis and nothing else: 0.318 V across the hot check's network at 120 V 60 Hz, and
// unlike in the two plug polarities; behind 4.7 nF from each side it is alike.
func TestHotCheckFigures(t *testing.T) {
	one := `C1 = { kind = "capacitor", ends = ["L", "chassis"], value = "4.7 nF", class = "Y2" }
R9 = { kind = "resistor", ends = ["L", "N"], value = 800 }`
	two := one + "\nC2 = { kind = \"capacitor\", ends = [\"N\", \"chassis\"], value = \"4.7 nF\", class = \"Y2\" }"
	for _, h := range Checks(analysistest.With(t, one, "chassis")).Hot {
		if h.Plug == analysis.AsMarked {
			settest.Near(t, "hot check", h.Load.Expect, 0.318, 0.005)
		}
		if h.AlikeReversed {
			t.Errorf("a path to one side reads alike: %+v", h)
		}
	}
	for _, h := range Checks(analysistest.With(t, two, "chassis")).Hot {
		if !h.AlikeReversed {
			t.Errorf("a divider does not read alike: %+v", h)
		}
	}
}

func TestHeatersAndStresses(t *testing.T) {
	l := Checks(analysistest.With(t, `V1 = { kind = "tube", type = "12BE6", pins = { 3 = "L", 4 = "h" } }
R9 = { kind = "resistor", ends = ["h", "N"], value = 716 }
C1 = { kind = "capacitor", ends = ["L", "N"], value = "0.1 uF", rating = "250 V AC", class = "X2" }
I1 = { kind = "insulation", ends = ["N", "chassis"] }`, "chassis"))
	if len(l.Heaters) != 1 {
		t.Fatalf("heaters: %+v", l.Heaters)
	}
	settest.Near(t, "heater", l.Heaters[0].Expect, 120*84.0/800, 0.01)
	if len(l.Stresses) != 1 {
		t.Fatalf("stresses: %+v", l.Stresses)
	}
	settest.Near(t, "peak", l.Stresses[0].Volts, 120*math.Sqrt2, 0.01)
	settest.Near(t, "rating", l.Stresses[0].Rating, 250*math.Sqrt2, 1e-6)
}

// A set that is too large is held against its readings all the same, and said to be too large for
// the rest.
func TestLargeSetIsNotRanked(t *testing.T) {
	var b strings.Builder
	b.WriteString(floating)
	for i := range explainParts {
		fmt.Fprintf(&b, "RX%d = { kind = \"resistor\", ends = [\"B+\", \"B-\"], value = \"1 meg\" }\n", i)
	}
	if a := explained(t, b.String(), reading(coldBlade, `ohms = "22k"`)); a.Agree() || !a.Unranked || len(a.Explanations) > 0 {
		t.Errorf("agree %v, unranked %v, %d explanations", a.Agree(), a.Unranked, len(a.Explanations))
	}
	if a := explained(t, b.String(), reading(coldBlade, `ohms = "220k"`)); !a.Agree() || a.Unranked {
		t.Errorf("agree %v, unranked %v", a.Agree(), a.Unranked)
	}
}

// TestLampCases: what a lamp in series shows of a sound set, of one with its first reservoir shorted, and of one whose
// heater string is open, which leaves the lamp darker than the sound set does. Heaters side by side have no such case.
func TestLampCases(t *testing.T) {
	volts := map[string]float64{}
	for _, c := range Checks(analysistest.New(t, settest.Load(t, settest.Example(t, "hot-chassis")), analysis.Bench{})).BringingUp.Lamp {
		volts[c.Case] = c.Volts
	}
	if len(volts) != 3 || !(volts[CaseStringOpen] < volts[CaseSound] && volts[CaseSound] < volts[CaseReservoirShorted]) {
		t.Errorf("across the lamp stand %v", volts)
	}
	for _, c := range Checks(analysistest.New(t, settest.Load(t, settest.Example(t, "autotransformer")), analysis.Bench{})).BringingUp.Lamp {
		if c.Case == CaseStringOpen {
			t.Errorf("heaters side by side are a string: %+v", c)
		}
	}
}
