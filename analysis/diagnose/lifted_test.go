package diagnose

import (
	"math"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

// With one lead of a part off, the rest is read: 220 kΩ in place of the 110 kΩ that it makes with a leak of
// 220 kΩ beside it, so that the capacitor is at fault and not the resistor.
func TestLeadOffTellsTheLeakFromTheResistor(t *testing.T) {
	together := reading(coldBlade, `ohms = "110k"`)
	apart := reading(coldBlade, "ohms = \"220k\"\nlifted = [\"C1\"]")
	a := explained(t, floating, together, apart)
	e := first(t, a, Leaks, "C1")
	settest.Near(t, "leak", e.Value, 220e3, 0.03)
	if a.Leading > 1 && a.Explanations[1].Part == "R1" {
		t.Errorf("R1 is told beside C1: %+v", a.Explanations[1])
	}
	apart = reading(coldBlade, "ohms = \"110k\"\nlifted = [\"C1\"]")
	if a = explained(t, floating, together, apart); a.Explanations[0].Part != "R1" {
		t.Errorf("with C1 off and 110 kΩ left it is R1, not %s of %s", a.Explanations[0].Kind, a.Explanations[0].Part)
	}
}

// With both parts between B-minus and the chassis off, the meter shows open; and what hangs on a lead that is off
// brings no volts.
func TestAllLeadsOffReadsOpen(t *testing.T) {
	a := explained(t, floating,
		reading(coldBlade, "ohms = \"OL\"\nlifted = [\"C1\", \"R1\"]"),
		reading(`"chassis", "building earth"`, "volts = 0\nplug = \"reversed\"\nlifted = [\"C1\", \"R1\"]"))
	if !a.Agree() {
		t.Errorf("predicted %v for %v", a.Described.Predicted, a.Shown)
	}
}

// plate is a triode behind 220 kΩ on a B-plus of 160 V.
const plate = `D1 = { kind = "rectifier", anode = "L", cathode = "B+", type = "silicon" }
C1 = { kind = "capacitor", ends = ["B+", "B-"], value = "47 uF", type = "electrolytic", positive = "B+" }
W1 = { kind = "wire", ends = ["N", "B-"] }
R1 = { kind = "resistor", ends = ["B+", "plate"], value = "220k", tolerance = 5 }
R2 = { kind = "resistor", ends = ["plate", "B-"], value = "470k", tolerance = 5 }
C2 = { kind = "capacitor", ends = ["B-", "chassis"], value = "0.05 uF", type = "film" }
`

// A meter of 1 MΩ behind 150 kΩ shows that much less of a set that plays (Thévenin).
func TestMeterLoadsASetThatPlays(t *testing.T) {
	set := settest.Load(t, settest.With(plate, "chassis")+
		reading(`"plate", "B-"`, "dc_volts = 100\nplug = \"as-marked\"\nmeter = \"10 meg\"")+
		reading(`"plate", "B-"`, "dc_volts = 100\nplug = \"as-marked\"\nmeter = \"1 meg\""))
	a := Explain(analysistest.New(t, set, analysis.Bench{}))
	behind := 220e3 * 470e3 / 690e3
	open := a.Described.Predicted[0] * (10e6 + behind) / 10e6
	settest.Near(t, "on 1 MΩ", a.Described.Predicted[1], open*1e6/(1e6+behind), 0.005)
	peak := math.Sqrt2 * set.Volts
	if share := open / peak; share < 0.6 || share > 470.0/690 {
		t.Errorf("%s of a peak of %s", netlist.FormatValue(open, netlist.Volt), netlist.FormatValue(peak, netlist.Volt))
	}
}

// A leak beside a resistor and a resistor that is too low read alike everywhere, but with a lead of one of them
// off: that is the measurement to take next.
func TestFurtherMeasurementWithALeadOff(t *testing.T) {
	a := explained(t, floating, reading(coldBlade, `ohms = "110k"`))
	beside := map[string]bool{}
	for i := range a.Explanations[:a.Leading] {
		beside[a.Explanations[i].Part] = true
	}
	if !beside["C1"] || !beside["R1"] {
		t.Fatalf("the leak of C1 and R1's value are not both in front: %s", names(a.Explanations[:a.Leading]))
	}
	f := a.Further
	if f == nil || len(f.Lifted) != 1 || f.Lifted[0] != "C1" && f.Lifted[0] != "R1" {
		t.Fatalf("next: %+v", f)
	}
	apart := map[string]float64{}
	for i, ohms := range f.Predicted {
		apart[a.Explanations[i].Part] = ohms
	}
	if ratio := apart["C1"] / apart["R1"]; ratio < 1.5 && ratio > 1/1.5 {
		t.Errorf("with %s off both read alike: %v", f.Lifted[0], apart)
	}
}
