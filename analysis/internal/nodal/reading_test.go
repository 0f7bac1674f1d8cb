package nodal

import (
	"fmt"
	"testing"

	"coldcheck/analysis/internal/circuit"
)

// TestClassesAtTheirLimits: IEC 62368-1 table 4. A reading is over a class where both its volts and its
// current are, AC and DC added: 30 V and 0.5 mA or 60 V DC and 2 mA DC for ES1, 50 V and 5 mA or 120 V
// DC and 25 mA DC for ES2.
func TestClassesAtTheirLimits(t *testing.T) {
	ac := func(volts, milliamps float64) Reading { return Reading{VoltsOpen: volts, Milliamps: milliamps} }
	dc := func(volts, milliamps float64) Reading { return Reading{VoltsDC: volts, MilliampsDC: milliamps} }
	both := func(r, s Reading) Reading { r.VoltsDC, r.MilliampsDC = s.VoltsDC, s.MilliampsDC; return r }
	for _, x := range []struct {
		r    Reading
		want Class
	}{
		{ac(30, 0.51), UnderLimit}, {ac(30.1, 0.5), UnderLimit}, {ac(30.1, 0.501), Startles}, {ac(29.9, 50), UnderLimit}, {ac(120, 0.499), UnderLimit},
		{dc(60, 2.01), UnderLimit}, {dc(60.1, 2), UnderLimit}, {dc(60.1, 2.01), Startles}, {dc(59.9, 20), UnderLimit}, {dc(119, 1.99), UnderLimit},
		{ac(50, 5.01), Startles}, {ac(50.1, 5), Startles}, {ac(50.1, 5.01), Live}, {ac(49.9, 50), Startles}, {ac(230, 4.99), Startles},
		{dc(120, 25.1), Startles}, {dc(120.1, 25), Startles}, {dc(120.1, 25.1), Live}, {dc(119.9, 200), Startles}, {dc(300, 24.9), Startles},
		// halves that make a whole, and a little less
		{both(ac(15.1, 0.251), dc(30.1, 1.01)), Startles}, {both(ac(14.9, 0.251), dc(30.1, 1.01)), UnderLimit}, {both(ac(15.1, 0.249), dc(30.1, 0.99)), UnderLimit},
		{both(ac(25.1, 2.51), dc(60.1, 12.6)), Live}, {both(ac(24.9, 2.51), dc(60.1, 12.6)), Startles}, {both(ac(25.1, 2.49), dc(60.1, 12.4)), Startles},
	} {
		if got := x.r.Class(); got != x.want {
			t.Errorf("%+v is of class %d, want %d", x.r, got, x.want)
		}
	}
}

// TestAtLimit: within a fifth below a current limit, or as far above: from 0.8 of it to 1.25 times it.
func TestAtLimit(t *testing.T) {
	for _, x := range []struct {
		limit float64
		of    func(float64) Reading
	}{
		{0.5, func(i float64) Reading { return Reading{Milliamps: i} }},
		{2, func(i float64) Reading { return Reading{MilliampsDC: i} }},
		{5, func(i float64) Reading { return Reading{Milliamps: i} }},
		{25, func(i float64) Reading { return Reading{MilliampsDC: i} }},
		{0.5, func(i float64) Reading { return Reading{Milliamps: i / 2, MilliampsDC: 2 * i} }},
	} {
		for share, want := range map[float64]bool{0.79: false, 0.81: true, 1: true, 1.24: true, 1.26: false} {
			if got := x.of(share * x.limit).AtLimit(); got != want {
				t.Errorf("%g times %g mA is at the limit: %v", share, x.limit, got)
			}
		}
	}
}

// TestSeverity is the current against ES2, AC and DC added.
func TestSeverity(t *testing.T) {
	if got := (Reading{Milliamps: 2.5, MilliampsDC: 50}).Severity(); got != 2.5 {
		t.Errorf("half of 5 mA and twice 25 mA DC make %g", got)
	}
	s := Source{Volts: 120, Ohms: 0, VoltsDC: -100, OhmsDC: 500}
	r := s.Reading(1e-9) // at next to no frequency the body is 2000 Ω
	if got, want := fmt.Sprintf("%.4f %.4f %.4f %.4f", r.VoltsMeter, r.Milliamps, r.VoltsDC, r.MilliampsDC), "120.0000 60.0000 100.0000 40.0000"; got != want {
		t.Errorf("120 V straight and -100 V behind 500 Ω read %s, want %s", got, want)
	}
	if s := (Source{Volts: 10, Ohms: 10e6}); s.Reading(1).VoltsMeter != 5 || s.Into(circuit.MeterOhms) != 5 {
		t.Error("10 V behind 10 MΩ are not 5 V on a meter of 10 MΩ")
	}
}

// TestJustUnder: within ES1, but not with mains and parts a fifth off; what is over is not just under.
func TestJustUnder(t *testing.T) {
	for name, c := range map[string]struct {
		volts, milliamps, dcVolts, dcMilliamps float64
		want                                   bool
	}{
		"nothing":                    {0, 0, 0, 0, false},
		"both near their limits":     {0.9 * circuit.ES1VoltsAC, 0.9 * circuit.ES1AmpsAC, 0, 0, true},
		"the volts far over theirs":  {4 * circuit.ES1VoltsAC, 0.9 * circuit.ES1AmpsAC, 0, 0, true},
		"the current far under":      {4 * circuit.ES1VoltsAC, 0.1 * circuit.ES1AmpsAC, 0, 0, false},
		"the volts far under":        {0.1 * circuit.ES1VoltsAC, 4 * circuit.ES1AmpsAC, 0, 0, false},
		"over both":                  {1.1 * circuit.ES1VoltsAC, 1.1 * circuit.ES1AmpsAC, 0, 0, false},
		"DC near its limits":         {0, 0, 0.9 * circuit.ES1VoltsDC, 0.9 * circuit.ES1AmpsDC, true},
		"AC and DC, half of each":    {0.45 * circuit.ES1VoltsAC, 0.45 * circuit.ES1AmpsAC, 0.45 * circuit.ES1VoltsDC, 0.45 * circuit.ES1AmpsDC, true},
		"AC and DC, a third of each": {0.3 * circuit.ES1VoltsAC, 0.3 * circuit.ES1AmpsAC, 0.3 * circuit.ES1VoltsDC, 0.3 * circuit.ES1AmpsDC, false},
	} {
		r := Reading{VoltsOpen: c.volts, Milliamps: c.milliamps, VoltsDC: c.dcVolts, MilliampsDC: c.dcMilliamps}
		if got := r.JustUnder(); got != c.want {
			t.Errorf("%s: %v, class %v", name, got, r.Class())
		}
	}
}
