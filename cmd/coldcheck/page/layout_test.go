package page

import (
	"math"
	"slices"
	"strings"
	"testing"

	"coldcheck/analysis/survey"
	"coldcheck/netlist"
	"coldcheck/netlist/examples"
)

// forms are the ways in which a scene can be drawn.
var forms = []form{{}, {fold: true}, {fold: true, tall: true}}

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
		for _, f := range forms {
			count := map[int]int{}
			for _, c := range newLayout(s, f).cells {
				for _, i := range c.branches {
					count[i]++
				}
			}
			for _, r := range s.Paths {
				for _, i := range r.Branches {
					if count[i] != 1 {
						t.Errorf("%s, drawn %v: %s drawn %d times", name, f, s.branches[i].short(), count[i])
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
		for _, f := range forms {
			l := newLayout(s, f)
			for _, j := range l.joints {
				if math.IsNaN(j.x) || math.IsNaN(j.y) || j.x < l.m.left || j.x > l.target.x {
					t.Errorf("%s: %s stands at %g, %g; the metal at %g", name, j.node, j.x, j.y, l.target.x)
				}
			}
			for i, c := range l.cells {
				if !c.bridge && c.from.x >= c.to.x {
					t.Errorf("%s: %s goes from %g to %g", name, l.name(c.branches), c.from.x, c.to.x)
				}
				for _, o := range l.cells[:i] {
					if o.y == c.y && math.Abs(o.x-c.x) < 2*symbolHalf && l.together(c, o) {
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
		l := newLayout(s, form{fold: true})
		for i, j := range l.joints {
			for _, o := range l.joints[:i] {
				if j.x == o.x && j.top <= o.low && o.top <= j.low && !l.apart(j, o) {
					t.Errorf("%s: %s and %s share a vertical", name, j.node, o.node)
				}
			}
		}
	})
}

// A long heater string is drawn as one, with the names of all that it stands for; unfolded each heater is
// drawn.
func TestFoldedString(t *testing.T) {
	s := exampleSheet(t, "hot-chassis-line-switch").scenes[1]
	heaters := func(f form) (n int) {
		for _, c := range newLayout(s, f).draw("x", "").Cells {
			if c.Symbol == "heater" {
				n++
			}
		}
		return n
	}
	d := newLayout(s, form{fold: true}).draw("x", "")
	if d.Folded < foldFrom {
		t.Fatalf("folded %d", d.Folded)
	}
	if f, w := heaters(form{fold: true}), heaters(form{}); w < f+d.Folded-1 {
		t.Errorf("%d heaters folded, %d whole", f, w)
	}
	for _, c := range d.Cells {
		if n := len(c.branches); n >= foldFrom && c.Symbol == "heater" {
			if c.Texts[0].Full == "" || strings.Count(c.Texts[0].Full, ",") != n-1 {
				t.Errorf("%d heaters are named %q", n, c.Texts[0].Full)
			}
		}
	}
}

// Every symbol that has a right way round stands so: a rectifier's anode, an electrolytic's plus and a
// battery's at their own ends.
func TestPolarity(t *testing.T) {
	looked := 0
	eachScene(t, func(name string, s *scene) {
		for _, f := range forms {
			for _, c := range newLayout(s, f).cells {
				b := s.branches[c.branches[0]]
				first := ""
				switch d := b.part().Detail.(type) {
				case *netlist.Rectifier:
					first = d.Anode
				case *netlist.Capacitor:
					first = d.Positive
				case *netlist.Battery:
					first = d.Positive
				case *netlist.Tube:
					for _, section := range slices.Concat(d.Type.Rectifiers, d.Type.Diodes) {
						if a, k := d.Node(section.Anode), d.Node(section.Cathode); b.Class == survey.Rectifies && (a == b.A && k == b.B || a == b.B && k == b.A) {
							first = a
						}
					}
				}
				if first == "" {
					continue
				}
				looked++
				if got, want := b.mirrored(c.from.node), c.from.node != first; got != want {
					t.Errorf("%s: %s from %s to %s, its first end at %s, is mirrored: %v", name, b.short(), c.from.node, c.to.node, first, got)
				}
			}
		}
	})
	if looked < 100 {
		t.Errorf("%d symbols", looked)
	}
}
