package heating

import (
	"fmt"
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist/settest"
)

func heatingOf(t *testing.T, parts ...string) *Heating {
	t.Helper()
	text := settest.With(strings.Join(parts, "\n"), "chassis")
	h := Of(analysistest.New(t, settest.Load(t, text), analysis.Bench{}))
	if h == nil {
		t.Fatalf("the set does not play\n%s", text)
	}
	return h
}

const metal = `C9 = { kind = "capacitor", ends = ["N", "chassis"], value = "1 nF" }`

// heaterWinding feeds x and y.
func heaterWinding(volts float64) string {
	return fmt.Sprintf(`T1 = { kind = "transformer", windings = { primary = ["L", "N"], heaters = ["x", "y"] }, volts = { primary = 120, heaters = %g } }`, volts)
}

// names are the tubes of a run.
func names(r *Run) string {
	var all []string
	for _, p := range r.Tubes {
		all = append(all, p.Name)
	}
	return strings.Join(all, " ")
}

// TestSeriesString: heaters of one current in series share the line as they are rated, whatever stands at which end.
// A heater's ohms are R·(1/6 + 5/6·share^0.6) of its rated ones, so that equal shares s give 120 V over 122.8 V.
func TestSeriesString(t *testing.T) {
	h := heatingOf(t, metal,
		`V1 = { kind = "tube", type = "50C5", pins = { 3 = "L", 4 = "a" } }`,
		`V2 = { kind = "tube", type = "12BA6", pins = { 3 = "a", 4 = "b" } }`,
		`V3 = { kind = "tube", type = "12BE6", pins = { 3 = "b", 4 = "c" } }`,
		`V4 = { kind = "tube", type = "35W4", pins = { 3 = "c", 4 = "d" } }`,
		`V5 = { kind = "tube", type = "12AV6", pins = { 3 = "d", 4 = "N" } }`)
	if len(h.Runs) != 1 || names(h.Runs[0]) != "V1 V2 V3 V4 V5" || !h.Runs[0].Series {
		t.Fatalf("%d runs, the first %s", len(h.Runs), names(h.Runs[0]))
	}
	settest.Near(t, "rated", h.Runs[0].Rated(), 50+12.6+12.6+35+12.6, 1e-9)
	loads, _ := h.FedMost(h.Runs[0])
	sum := 0.0
	for _, l := range loads {
		settest.Near(t, "share of "+l.Tube.Name, l.Share, 120/122.8, 2e-3)
		settest.Near(t, "amps of "+l.Tube.Name, l.Amps, loads[0].Amps, 1e-3)
		if l.FromBattery || l.FromDC || l.Lamp != "" {
			t.Errorf("%+v", l)
		}
		sum += l.Volts
	}
	settest.Near(t, "volts of all", sum, 120, 2e-3)
}

// TestOddTubeInAString: a heater of twice the current among others gets less than its share, and they more; the
// current is one.
func TestOddTubeInAString(t *testing.T) {
	h := heatingOf(t, metal, `V1 = { kind = "tube", type = "50C5", pins = { 3 = "L", 4 = "a" } }`,
		`V2 = { kind = "tube", type = "35W4", pins = { 3 = "a", 4 = "b" } }`,
		`V3 = { kind = "tube", type = "25Z6", pins = { 2 = "b", 7 = "N" } }`)
	loads, _ := h.FedMost(h.Runs[0])
	if len(loads) != 3 {
		t.Fatalf("%d loads", len(loads))
	}
	settest.Near(t, "amps", loads[2].Amps, loads[0].Amps, 5e-3)
	if loads[0].Share != loads[0].Volts/50 || loads[2].Share != loads[2].Volts/25 {
		t.Errorf("shares %g and %g of %g V and %g V", loads[0].Share, loads[2].Share, loads[0].Volts, loads[2].Volts)
	}
	if loads[0].Share < 1.1 || loads[2].Share > 0.5 {
		t.Errorf("shares %g and %g", loads[0].Share, loads[2].Share)
	}
}

// TestRuns: strings that hang on one conductor are two, heaters that branch are no series, and heaters side by side on
// one winding are one run of no series.
func TestRuns(t *testing.T) {
	for name, c := range map[string]struct {
		parts  []string
		runs   []string
		series []bool
	}{
		"two strings": {[]string{`V1 = { kind = "tube", type = "50C5", pins = { 3 = "L", 4 = "a" } }`, `V2 = { kind = "tube", type = "50C5", pins = { 3 = "a", 4 = "N" } }`,
			`V3 = { kind = "tube", type = "35W4", pins = { 3 = "N", 4 = "b" } }`, `V4 = { kind = "tube", type = "35W4", pins = { 3 = "b", 4 = "L" } }`},
			[]string{"V1 V2", "V3 V4"}, []bool{true, true}},
		"joined in the middle by a later tube": {[]string{`V1 = { kind = "tube", type = "50C5", pins = { 3 = "L", 4 = "a" } }`, `V2 = { kind = "tube", type = "50C5", pins = { 3 = "b", 4 = "N" } }`,
			`V3 = { kind = "tube", type = "12BA6", pins = { 3 = "a", 4 = "b" } }`}, []string{"V1 V2 V3"}, []bool{true}},
		"branching": {[]string{`V1 = { kind = "tube", type = "50C5", pins = { 3 = "L", 4 = "a" } }`, `V2 = { kind = "tube", type = "35W4", pins = { 3 = "a", 4 = "N" } }`,
			`V3 = { kind = "tube", type = "35W4", pins = { 3 = "a", 4 = "N" } }`}, []string{"V1 V2 V3"}, []bool{false}},
		"on a winding": {[]string{heaterWinding(6.3),
			`V1 = { kind = "tube", type = "6V6GT", pins = { 2 = "x", 7 = "y" } }`, `V2 = { kind = "tube", type = "6SK7", pins = { 2 = "x", 7 = "y" } }`,
			`W9 = { kind = "wire", ends = ["x", "chassis"] }`}, []string{"V1 V2"}, []bool{false}},
	} {
		h := heatingOf(t, append([]string{metal}, c.parts...)...)
		if len(h.Runs) != len(c.runs) {
			t.Errorf("%s: %d runs", name, len(h.Runs))
			continue
		}
		for i, r := range h.Runs {
			if names(r) != c.runs[i] || r.Series != c.series[i] {
				t.Errorf("%s: %s, in series %v", name, names(r), r.Series)
			}
		}
	}
}

// TestHeatersOnAWinding: what a winding gives is taken without the drop in the ohms that every winding is reckoned
// with, whichever of its tubes draw on it; fed by a winding and something besides, nothing is said.
func TestHeatersOnAWinding(t *testing.T) {
	tubes := []string{metal, `V1 = { kind = "tube", type = "6V6GT", pins = { 2 = "x", 7 = "y" } }`, `V2 = { kind = "tube", type = "6SK7", pins = { 2 = "y", 7 = "x" } }`,
		`W9 = { kind = "wire", ends = ["x", "chassis"] }`}
	for _, volts := range []float64{6.3, 5} {
		h := heatingOf(t, append(tubes, heaterWinding(volts))...)
		loads, _ := h.FedMost(h.Runs[0])
		if len(loads) != 2 {
			t.Fatalf("%d loads", len(loads))
		}
		for _, l := range loads {
			settest.Near(t, "volts of "+l.Tube.Name, l.Volts, volts, 1e-3)
			settest.Near(t, "share of "+l.Tube.Name, l.Share, volts/6.3, 1e-3)
		}
	}
	h := heatingOf(t, metal, `V1 = { kind = "tube", type = "6V6GT", pins = { 2 = "x", 7 = "N" } }`, `V2 = { kind = "tube", type = "6SK7", pins = { 2 = "x", 7 = "N" } }`,
		heaterWinding(6.3), `R9 = { kind = "resistor", ends = ["y", "N"], value = 1 }`)
	if loads, _ := h.FedMost(h.Runs[0]); loads != nil {
		t.Errorf("heaters behind a resistor on a winding get %+v", loads)
	}
}

// TestLampAcrossATap: of a heater whose tapped section a lamp shunts, the share is that of the rest, which carries the
// whole current; the lamp takes its part of it.
func TestLampAcrossATap(t *testing.T) {
	h := heatingOf(t, metal, `V1 = { kind = "tube", type = "35W4", pins = { 4 = "L", 3 = "a", 6 = "t" } }`, `LP1 = { kind = "lamp", ends = ["t", "L"], type = "47" }`,
		`V2 = { kind = "tube", type = "50C5", pins = { 3 = "a", 4 = "b" } }`, `V3 = { kind = "tube", type = "35W4", pins = { 4 = "b", 3 = "N", 6 = "u" } }`,
		`R9 = { kind = "resistor", ends = ["u", "b"], value = 200 }`)
	loads, _ := h.FedMost(h.Runs[0])
	if len(loads) != 3 {
		t.Fatalf("%d loads", len(loads))
	}
	shunted, other := loads[0], loads[2]
	if shunted.Lamp != "LP1" || other.Lamp != "" {
		t.Errorf("lamps %q and %q", shunted.Lamp, other.Lamp)
	}
	settest.Near(t, "what lamp and section carry", shunted.TapAmps+shunted.LampAmps, shunted.Amps, 0.02)
	settest.Near(t, "share of the rest", shunted.Share, loads[1].Share, 0.02)
	// A resistor is no lamp: the section beside it gets less than its share, and is what is furthest off.
	if other.Share > 0.9*loads[1].Share {
		t.Errorf("of a section beside a resistor the share is %g, of the string %g", other.Share, loads[1].Share)
	}
}

// TestFilamentsOnABattery: DC, and from the battery.
func TestFilamentsOnABattery(t *testing.T) {
	h := heatingOf(t, metal, `R8 = { kind = "resistor", ends = ["L", "N"], value = "10k" }`,
		`BT1 = { kind = "battery", positive = "a", negative = "N", volts = 1.5 }`, `V1 = { kind = "tube", type = "1R5", pins = { 7 = "a", 1 = "N" } }`)
	loads, _ := h.FedMost(h.Runs[0])
	if len(loads) != 1 || !loads[0].FromBattery || !loads[0].FromDC {
		t.Fatalf("%+v", loads)
	}
	// 1.5 V through 1 Ω of the battery and some 28 Ω.
	settest.Near(t, "volts", loads[0].Volts, 1.5*28/29, 0.01)
	h = heatingOf(t, metal, `D1 = { kind = "rectifier", anode = "L", cathode = "p" }`, `C7 = { kind = "capacitor", ends = ["p", "N"], value = "100 uF", rating = "200 V" }`,
		`R1 = { kind = "resistor", ends = ["p", "a"], value = "3k" }`, `V1 = { kind = "tube", type = "1R5", pins = { 7 = "a", 1 = "N" } }`)
	if loads, _ = h.FedMost(h.Runs[0]); len(loads) != 1 || loads[0].FromBattery || !loads[0].FromDC {
		t.Errorf("rectified: %+v", loads)
	}
}
