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
func drawFaults(d *settest.Drawer, c *circuit.Circuit, least, most int) []*circuit.Fault {
	var faults []*circuit.Fault
	for range least + d.N(most-least+1) {
		f := settest.OneOf(d, c.Faults...)
		if circuit.Compatible(faults, f) && !slices.Contains(faults, f) {
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

var worstDiff = map[string]float64{}

func alike(t settest.TB, n *Network, w *watch, what string, got, want [][]complex128, text string) {
	t.Helper()
	own := func(k int) float64 { return cmplx.Abs(want[k][w.sources+k]) }
	side := func(k int) bool { return n.ports[w.ports[k]].branch >= 0 }
	for k := range want {
		for m, x := range want[k] {
			d := cmplx.Abs(got[k][m] - x)
			kind := what
			l := m - w.sources
			switch {
			case l < 0:
				kind += " source"
			case side(k) != side(l):
				kind += " transfer"
			case side(k):
				kind += " side"
				d /= math.Sqrt(own(k)*own(l)) + 1e-9
			default:
				kind += " point"
				d /= math.Sqrt(own(k)*own(l)) + 1e-2
			}
			if m-w.sources < 0 || side(k) != side(l) {
				if !side(k) && own(k) > 1e8 || l >= 0 && !side(l) && own(l) > 1e8 {
					kind += " adrift"
				}
			}
			if d > worstDiff[kind] {
				worstDiff[kind] = d
				if d > 1e-3 {
					fmt.Println(text)
				}
				fmt.Println(kind, "port", k, "figure", m, got[k][m], x, d)
			}
		}
	}
}

// TestUpdateOnUpdate: a set of faults put in at once, some of them put on an update of the others, and
// all written into fresh equations show the same, in every mode.
func TestUpdateOnUpdate(t *testing.T) {
	compared := 0
	settest.Check(t, 400, func(t *rapid.T) {
		c, text := circuittest.Draw(t, settest.Limits{Parts: [2]int{3, 16}, Controls: 2, Sections: 2, Failed: true}, true)
		n, d := NewNetwork(c), settest.NewDrawer(t)
		plug := settest.OneOf(d, circuit.Polarities[:]...)
		faults := drawFaults(d, c, 2, 5)
		cut := d.N(len(faults) + 1)
		position, m, without := d.N(len(c.Positions)), settest.OneOf(d, circuit.Blocking, circuit.Held, circuit.Direct), d.Percent(20)
		key := n.keyOf(position, m, plug, without)
		b := n.equations(key)
		ports := n.portsOfAll(faults, plug)
		watched := slices.DeleteFunc(slices.Concat(n.side[:], n.point), func(p int) bool { return slices.Contains(ports, p) })
		watching := func(b *Equations) *watch {
			if m == circuit.Direct {
				return b.watching([][]complex128{b.batteryAt()}, watched)
			}
			return b.watching(nil, watched)
		}
		w := watching(b)
		var whole, under, upon, fresh Update
		if !whole.put(b, w, ports, 0, true) || !under.put(b, w, n.portsOfAll(faults[:cut], plug), 0, true) || !upon.on(&under, n.portsOfAll(faults[cut:], plug), true, nil) {
			return
		}
		compared++
		f := n.assemble(key, ports)
		fresh.stand(f, watching(f))
		want := fresh.figures()
		text = fmt.Sprintf("%v of %v, %s %v %v %v\n%s", cut, faults, plug, c.Positions[position], m, c.Bench, text)
		alike(t, n, w, "at once", whole.figures(), want, text)
		alike(t, n, w, "in two", upon.figuresOn(&under), want, text)
	})
	fmt.Println(compared, worstDiff)
}
