package page

import (
	"math"
	"testing"

	"coldcheck/netlist/examples"
)

func eachScene(t *testing.T, see func(name string, s *scene)) {
	t.Helper()
	for _, e := range examples.Sets() {
		for _, s := range exampleSheet(t, e.Name).scenes {
			see(e.Name+", "+s.Node, s)
		}
	}
}

// Every part of every path that is drawn is drawn exactly once, folded or not.
func TestEachPartOnce(t *testing.T) {
	eachScene(t, func(name string, s *scene) {
		for _, fold := range []bool{true, false} {
			count := map[int]int{}
			for _, c := range newLayout(s, fold).cells {
				for _, i := range c.branches {
					count[i]++
				}
			}
			for _, r := range s.Paths {
				for _, i := range r.Branches {
					if count[i] != 1 {
						t.Errorf("%s, folded %v: %s drawn %d times", name, fold, s.branches[i].short(), count[i])
					}
				}
			}
		}
	})
}

// The blades stand left, the metal right, every symbol between its two joints, and no two symbols
// on each other.
func TestPlaces(t *testing.T) {
	eachScene(t, func(name string, s *scene) {
		for _, fold := range []bool{true, false} {
			l := newLayout(s, fold)
			for _, j := range l.joints {
				if math.IsNaN(j.x) || math.IsNaN(j.y) || j.x < leftMargin || j.x > l.target.x {
					t.Errorf("%s: %s stands at %g, %g; the metal at %g", name, j.node, j.x, j.y, l.target.x)
				}
			}
			for i, c := range l.cells {
				if !c.bridge && c.from.x >= c.to.x {
					t.Errorf("%s: %s goes from %g to %g", name, l.name(c.branches), c.from.x, c.to.x)
				}
				for _, o := range l.cells[:i] {
					if o.y == c.y && math.Abs(o.x-c.x) < 2*symbolHalf {
						t.Errorf("%s: %s and %s stand on each other", name, l.name(c.branches), l.name(o.branches))
					}
				}
			}
		}
	})
}

// Verticals of two nodes never run into each other: they would be taken for one node.
func TestVerticalsApart(t *testing.T) {
	eachScene(t, func(name string, s *scene) {
		l := newLayout(s, true)
		for i, j := range l.joints {
			for _, o := range l.joints[:i] {
				if j.x == o.x && j.top <= o.low && o.top <= j.low {
					t.Errorf("%s: %s and %s share a vertical", name, j.node, o.node)
				}
			}
		}
	})
}

// A long heater string is drawn as one, and every heater of it on demand.
func TestFoldedString(t *testing.T) {
	v := newView(exampleReport(t, "hot-chassis"), "s", "")
	m := v.Metals[0]
	if m.Drawing.Folded < foldFrom || m.Whole == nil {
		t.Fatalf("folded %d", m.Drawing.Folded)
	}
	heaters := func(d *drawing) int {
		n := 0
		for _, c := range d.Cells {
			if c.Symbol == "heater" {
				n++
			}
		}
		return n
	}
	if f, w := heaters(m.Drawing), heaters(m.Whole); w < f+m.Drawing.Folded-1 {
		t.Errorf("%d heaters folded, %d whole", f, w)
	}
}
