package propose

import (
	"math"
	"testing"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/netlist/settest"
	"coldcheck/rules"
)

// TestBleeders: the largest usual value that drains a capacitor from the line's peak to 60 V in time, t = R·C·ln(V/60),
// of a rating of twice what it burns at the least; none where no usual one would stand it.
func TestBleeders(t *testing.T) {
	for _, c := range []struct {
		farads string
		size   float64 // F
		ohms   float64 // Ω, 0 for none
		watts  float64
	}{
		{"0.1 uF", 0.1e-6, 1e6, 0.25},
		{"2 uF", 2e-6, 680e3, 0.25},
		{"9 uF", 9e-6, 150e3, 0.25},
		{"14 uF", 14e-6, 100e3, 0.5},
		{"40 uF", 40e-6, 0, 0},
	} {
		set := settest.Load(t, settest.With(`C1 = { kind = "capacitor", ends = ["L", "N"], value = "`+c.farads+`" }
C2 = { kind = "capacitor", ends = ["N", "chassis"], value = "1 nF" }`, "chassis"))
		all := bleeders(set, &rules.Finding{Parts: []string{"C1"}})
		if c.ohms == 0 {
			if len(all) > 0 {
				t.Errorf("%s: a bleeder is proposed", c.farads)
			}
			continue
		}
		if len(all) != 1 {
			t.Fatalf("%s: %d remedies", c.farads, len(all))
		}
		seconds := func(ohms float64) float64 {
			return ohms * c.size * math.Log(math.Sqrt2*120/60)
		}
		if seconds(c.ohms) > analysis.BladeSecondsLimit || c.watts < 2*120*120/c.ohms {
			t.Fatalf("%s: the test asks for what does not do", c.farads)
		}
		after, _, ok := carryOut(set, all)
		if !ok {
			t.Fatalf("%s: it does not fit", c.farads)
		}
		fitted := after.Part("R1").Detail.(*netlist.Resistor)
		if fitted.Ohms != c.ohms || fitted.Watts != c.watts {
			t.Errorf("%s: %g Ω of %g W, want %g Ω of %g W", c.farads, fitted.Ohms, fitted.Watts, c.ohms, c.watts)
		}
	}
}

// TestRenewed: a new part of the same sort has film for paper and insulation made to protect, and nothing of what was
// wrong with the old one.
func TestRenewed(t *testing.T) {
	set := settest.Load(t, settest.With(`C1 = { kind = "capacitor", ends = ["L", "chassis"], value = "0.05 uF", type = "paper", rating = "400 V", leakage = "1 meg", condition = "suspect", note = "waxed" }
C2 = { kind = "capacitor", ends = ["L", "chassis"], value = "250 pF", type = "mica" }
I1 = { kind = "insulation", ends = ["L", "chassis"], grade = "functional" }
I2 = { kind = "insulation", ends = ["L", "chassis"], grade = "supplementary", condition = "suspect" }
`, "chassis"))
	var remedies []*remedy
	for _, name := range []string{"C1", "C2", "I1", "I2"} {
		remedies = append(remedies, partRemedy(name, "new", renewing, 0, renew))
	}
	after, _, ok := carryOut(set, remedies)
	if !ok {
		t.Fatal("it does not fit")
	}
	paper, mica := after.Part("C1").Detail.(*netlist.Capacitor), after.Part("C2").Detail.(*netlist.Capacitor)
	if paper.Type != "film" || paper.LeakOhms != 0 || paper.Farads != 0.05e-6 || paper.Rating != 400 || mica.Type != "mica" {
		t.Errorf("capacitors %+v, %+v", paper, mica)
	}
	for name, want := range map[string]netlist.Grade{"I1": netlist.Basic, "I2": netlist.Supplementary} {
		if got := after.Part(name).Detail.(*netlist.Insulation).Grade; got != want {
			t.Errorf("%s is %s, want %s", name, got, want)
		}
	}
	for _, p := range after.Parts {
		if p.Kind != netlist.KindPlug && (p.Condition != netlist.Good || p.Note != "") {
			t.Errorf("%s is %s, noted %q", p.Name, p.Condition, p.Note)
		}
	}
}
