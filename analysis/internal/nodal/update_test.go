package nodal

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/circuit/circuittest"
	"coldcheck/netlist/settest"
)

// drawFaults draws some faults that can be together.
func drawFaults(d *settest.Drawer, c *circuit.Circuit, tries int) []*circuit.Fault {
	var faults []*circuit.Fault
	for range tries {
		if f := settest.OneOf(d, c.Faults...); circuit.Compatible(faults, f) && !slices.Contains(faults, f) {
			faults = append(faults, f)
		}
	}
	return faults
}

// figures are those of all watched ports in an update, port by port: what the sources show there, then
// what a unit into each port does.
func (u *Update) figures() [][]complex128 {
	u.know(len(u.watch.ports))
	return u.own
}

// figuresOn are those of an update on another.
func (u *Update) figuresOn(under *Update) [][]complex128 {
	var all [][]complex128
	for k, row := range under.figures() {
		var shows, currents [maxChanged]complex128
		for i := range u.n {
			shows[i] = u.rows[i][u.watch.sources+k]
		}
		u.currents(&shows, &currents)
		figures := slices.Clone(row)
		for m := range figures {
			figures[m] = u.less(figures[m], m, &currents)
		}
		all = append(all, figures)
	}
	return all
}

// What figures may differ by. An impedance counts against the two ports' own; volts of a point that
// hangs on minimum conductances alone are known to three digits.
const (
	impedancePart, leastOhms = 1e-3, 1e-2
	transferLeast            = 1e-4
	voltsOff, voltsPart      = 1e-3, 5e-4
	driftOhms, driftShare    = 1e8, 20
)

// sameFigures fails where the figures of watched ports differ.
func sameFigures(t settest.TB, n *Network, w *watch, what string, got, want [][]complex128, text string) {
	t.Helper()
	own := func(k int) float64 { return cmplx.Abs(want[k][w.sources+k]) }
	side := func(k int) bool { return n.ports[w.ports[k]].branch >= 0 }
	adrift := func(k int) bool { return !side(k) && own(k) > driftOhms }
	for k := range want {
		for m, x := range want[k] {
			l, off := m-w.sources, 0.0
			if l >= 0 && adrift(k) && adrift(l) {
				continue // what floats reads nothing: how many minimum conductances it hangs on is no matter
			}
			switch {
			case l < 0:
				off = voltsOff + voltsPart*cmplx.Abs(x)
			case side(k) != side(l):
				off = transferLeast
			case side(k): // siemens; the last digits of the conductors of 1 µΩ beside it
				off = impedancePart*(math.Sqrt(own(k)*own(l))+1/circuit.MeterOhms) + 0x1p-50/circuit.JoinOhms
			default:
				off = impedancePart * (math.Sqrt(own(k)*own(l)) + leastOhms)
			}
			if l < 0 || side(k) != side(l) {
				if adrift(k) || l >= 0 && adrift(l) {
					off *= driftShare
				}
			}
			// a pole that sticks joins two nodes with their minimum conductances, fresh equations make them one
			ohms := 0.0
			for _, at := range []int{k, l} {
				if at >= 0 && !side(at) {
					ohms = max(ohms, own(at))
				}
			}
			off += 2 * circuit.MinimumSiemens * ohms * max(cmplx.Abs(x), 1)
			if cmplx.Abs(got[k][m]-x) > off {
				t.Fatalf("%s: figure %d of port %d is %v, want %v within %g\n%s", what, m, k, got[k][m], x, off, text)
			}
		}
	}
}

// TestUpdateOnUpdate: a set of faults put in at once, some of them put on an update of the others, and
// all written into fresh equations show the same, in every mode.
func TestUpdateOnUpdate(t *testing.T) {
	tried, compared := 0, 0
	settest.Check(t, 400, func(t *rapid.T) {
		c, text := circuittest.Draw(t, settest.Limits{Parts: [2]int{3, 16}, Switches: 2, Controls: 1, Sections: 2, Failed: true}, true)
		n, d := NewNetwork(c), settest.NewDrawer(t)
		faults := drawFaults(d, c, 2+d.N(4))
		cut := d.N(len(faults) + 1)
		plug, mode := settest.OneOf(d, circuit.Polarities[:]...), settest.OneOf(d, circuit.Blocking, circuit.Held, circuit.Small, circuit.Direct, circuit.Drawn, circuit.Alone, circuit.AloneDrawn)
		k := n.keyOf(d.N(len(c.Positions)), mode, plug, variant{without: d.Percent(20) && c.HasFailed})
		ports := n.portsOfAll(faults, plug, k.position)
		// what an opened side of the supply shows means nothing
		watched := slices.DeleteFunc(slices.Concat(n.side[:], n.point), func(p int) bool { return slices.Contains(ports, p) })
		b := n.equations(k)
		w := b.watching(watched)
		var whole, under, upon, fresh Update
		tried++
		if !whole.put(b, w, ports, 0) || !under.put(b, w, n.portsOfAll(faults[:cut], plug, k.position), 0) ||
			!upon.on(&under, n.portsOfAll(faults[cut:], plug, k.position), nil) {
			return
		}
		compared++
		afresh := n.assemble(k, ports)
		fresh.stand(afresh, afresh.watching(watched))
		text = fmt.Sprintf("%v on %v, %s %v, mode %d, %+v\n%s", faults[cut:], faults[:cut], plug, c.Positions[k.position], mode, c.Bench, text)
		sameFigures(t, n, w, "at once", whole.figures(), fresh.figures(), text)
		sameFigures(t, n, w, "one on the other", upon.figuresOn(&under), fresh.figures(), text)
	})
	if 2*compared < tried {
		t.Errorf("%d of %d sets were put in as updates: that proves little", compared, tried)
	}
}

// TestIllConditionedPorts: where the ports of two faults are so nearly one that of the second next to
// nothing is left, an update refuses. R1 and R2 side by side hold a point that else hangs on its minimum
// conductance: once R1 is open, R2's branch shows 1e-10 S in place of 1/(R1 + R2). C1 and C2 shorted
// join a floating point to two ends of R3, and of the 10 GΩ that C2's port shows, R3 is left.
func TestIllConditionedPorts(t *testing.T) {
	beside := func(ohms float64) string {
		return fmt.Sprintf(`R1 = { kind = "resistor", ends = ["L", "shaft"], value = %g }
R2 = { kind = "resistor", ends = ["L", "shaft"], value = %g }`, ohms, ohms)
	}
	ring := func(ohms float64) string {
		return fmt.Sprintf(`C1 = { kind = "capacitor", ends = ["L", "shaft"], value = "100 pF" }
C2 = { kind = "capacitor", ends = ["Y", "shaft"], value = "100 pF" }
R3 = { kind = "resistor", ends = ["L", "Y"], value = %g }
B1 = { kind = "battery", positive = "x", negative = "N", volts = 9 }`, ohms)
	}
	opens, shorts := [2]circuit.FaultKind{circuit.Open, circuit.Open}, [2]circuit.FaultKind{circuit.Shorted, circuit.Shorted}
	for _, x := range []struct {
		what, parts string
		names       [2]string
		kinds       [2]circuit.FaultKind
		want        bool
	}{
		{"open, 2e-10 S times 0.49 Ω", beside(0.49), [2]string{"R1", "R2"}, opens, false},
		{"open, 2e-10 S times 0.51 Ω", beside(0.51), [2]string{"R1", "R2"}, opens, true},
		{"shorted, 0.96 Ω of 10 GΩ", ring(0.94), [2]string{"C1", "C2"}, shorts, false},
		{"shorted, 1.06 Ω of 10 GΩ", ring(1.04), [2]string{"C1", "C2"}, shorts, true},
	} {
		c := circuittest.With(t, x.parts, "shaft")
		n := NewNetwork(c)
		first, second := circuittest.Fault(t, c, x.names[0], x.kinds[0]), circuittest.Fault(t, c, x.names[1], x.kinds[1])
		b := n.equations(n.keyOf(0, circuit.Direct, circuit.AsMarked, variant{}))
		nothing := n.watchingNothing()
		var whole, under, upon Update
		if got := whole.put(b, nothing, n.portsOfAll([]*circuit.Fault{first, second}, circuit.AsMarked, 0), 0); got != x.want {
			t.Errorf("%s, at once: %v", x.what, got)
		}
		if !under.put(b, nothing, n.portsOf(first, circuit.AsMarked, 0), 0) {
			t.Errorf("%s: the first alone is refused", x.what)
		}
		if got := upon.on(&under, n.portsOf(second, circuit.AsMarked, 0), nil); got != x.want {
			t.Errorf("%s, one on the other: %v", x.what, got)
		}
	}
}

// TestShuntBesideFaults: an admittance put across two nodes beside no fault, one or two is a resistor
// there.
func TestShuntBesideFaults(t *testing.T) {
	const parts = `R1 = { kind = "resistor", ends = ["L", "chassis"], value = "22k" }
R2 = { kind = "resistor", ends = ["N", "shaft"], value = "47k" }
C1 = { kind = "capacitor", ends = ["L", "chassis"], value = "0.01 uF" }
C2 = { kind = "capacitor", ends = ["shaft", "chassis"], value = "0.1 uF" }
B1 = { kind = "battery", positive = "shaft", negative = "m", volts = 90 }
R4 = { kind = "resistor", ends = ["m", "N"], value = "10k" }
`
	const shunted = parts + `R3 = { kind = "resistor", ends = ["chassis", "shaft"], value = "33k" }`
	with, without := circuittest.With(t, shunted, "chassis", "shaft"), circuittest.With(t, parts, "chassis", "shaft")
	n, bare := NewNetwork(with), NewNetwork(without)
	p := bare.PortBetween(without.Points[0].Index, without.Points[1].Index)
	for _, names := range [][]string{nil, {"R1"}, {"R1", "R2"}, {"R4", "R1", "R2"}} {
		var faults [2][]*circuit.Fault
		for _, name := range names {
			faults[0] = append(faults[0], circuittest.Fault(t, with, name, circuit.Open))
			faults[1] = append(faults[1], circuittest.Fault(t, without, name, circuit.Open))
		}
		var want []Source
		e := n.Evaluator(0)
		e.Evaluate(faults[0], Ask{Plugs: Both}, func(x *Evaluation) bool {
			want = append(want, x.Source(0, -1), x.Source(0, 1))
			return true
		})
		ask := Ask{Plugs: Both, BlockingAlone: true, Shunts: []Shunt{{Port: p, AC: 1 / 33e3, DC: 1 / 33e3}}}
		bare.Evaluator(0).Evaluate(faults[1], ask, func(x *Evaluation) bool {
			for _, got := range []Source{x.Source(0, -1), x.Source(0, 1)} {
				settest.Near(t, fmt.Sprint(names, " volts"), cmplx.Abs(got.Volts), cmplx.Abs(want[0].Volts), 1e-6)
				settest.Below(t, fmt.Sprint(names, " ohms"), cmplx.Abs(got.Ohms-want[0].Ohms), 1e-6*cmplx.Abs(want[0].Ohms))
				settest.Near(t, fmt.Sprint(names, " volts DC"), got.VoltsDC, want[0].VoltsDC, 1e-5)
				settest.Near(t, fmt.Sprint(names, " ohms DC"), got.OhmsDC, want[0].OhmsDC, 1e-6)
				want = want[1:]
			}
			return true
		})
		if len(want) > 0 {
			t.Errorf("%v: %d figures are missing", names, len(want))
		}
	}
}
