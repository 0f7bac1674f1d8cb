package page

import (
	"math"
	"slices"
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/netlist/examples"
)

func eachScene(t *testing.T, see func(name string, table *table, i int, s *scene)) {
	t.Helper()
	for _, e := range examples.Sets() {
		table := exampleTable(t, e.Name)
		for i, s := range table.scenes {
			see(e.Name+", "+s.target, table, i, s)
		}
	}
}

// Every part of every way that is drawn is drawn exactly once, folded or not.
func TestEachPartOnce(t *testing.T) {
	eachScene(t, func(name string, _ *table, _ int, s *scene) {
		for _, fold := range []bool{true, false} {
			count := map[int]int{}
			for _, c := range newLayout(s, fold).cells {
				for _, i := range c.edges {
					count[i]++
				}
			}
			for _, r := range s.routes {
				for _, i := range r.edges {
					if count[i] != 1 {
						t.Errorf("%s, folded %v: %s drawn %d times", name, fold, s.edges[i].short(), count[i])
					}
				}
			}
		}
	})
}

// The blades stand left, the metal right, every symbol between its two joints, and no two symbols
// on each other.
func TestPlaces(t *testing.T) {
	eachScene(t, func(name string, _ *table, _ int, s *scene) {
		for _, fold := range []bool{true, false} {
			l := newLayout(s, fold)
			for _, j := range l.joints {
				if math.IsNaN(j.x) || math.IsNaN(j.y) || j.x < leftMargin || j.x > l.target.x {
					t.Errorf("%s: %s stands at %g, %g; the metal at %g", name, j.node, j.x, j.y, l.target.x)
				}
			}
			for i, c := range l.cells {
				if !c.bridge && c.from.x >= c.to.x {
					t.Errorf("%s: %s goes from %g to %g", name, l.name(c.edges), c.from.x, c.to.x)
				}
				for _, o := range l.cells[:i] {
					if o.y == c.y && math.Abs(o.x-c.x) < 2*symbolHalf {
						t.Errorf("%s: %s and %s stand on each other", name, l.name(c.edges), l.name(o.edges))
					}
				}
			}
		}
	})
}

// Verticals of two nodes never run into each other: they would be taken for one node.
func TestVerticalsApart(t *testing.T) {
	eachScene(t, func(name string, _ *table, _ int, s *scene) {
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

// A way is said to bring current only where it is closed, current is to be felt, and no breaker
// opens; and where a hand feels something, some way brings it or the page says that none is drawn.
func TestWaysAgreeWithFigures(t *testing.T) {
	brought := 0
	eachScene(t, func(name string, table *table, i int, s *scene) {
		for c := range table.cases {
			for n := range table.states {
				r := &table.readings[c][n][i]
				any := slices.Contains(r.routes, routeBrings)
				switch {
				case any && (r.cleared || r.Severity() < leastDrawn):
					t.Errorf("%s, %s: a way brings nothing", name, table.stateWords(place{c, n}, r))
				case !any && !r.cleared && r.Class() > analysis.UnderLimit && !r.unseen:
					t.Errorf("%s, %s: %s and no way", name, table.stateWords(place{c, n}, r), bodyWords(r.Reading))
				}
				for k, state := range r.routes {
					if state != routeBrings {
						continue
					}
					brought++
					for _, e := range s.routes[k].edges {
						if r.edges[e] != bringing && r.edges[e] != brokenBring {
							t.Errorf("%s, %s: %s is in a way that brings current and is drawn as %q", name, table.stateWords(place{c, n}, r), s.edges[e].short(), r.edges[e])
						}
					}
				}
			}
		}
	})
	if brought == 0 {
		t.Error("no way brings anything")
	}
}

// The hot chassis of the textbook: through the switch with the plug one way, through the heaters
// with the switch off the other way.
func TestWaysOfHotChassis(t *testing.T) {
	table := newTable(exampleReport(t, "hot-chassis").Case)
	s := table.scenes[0]
	way := func(part string) int {
		return slices.IndexFunc(s.routes, func(r *route) bool {
			return r.cost == 0 && slices.ContainsFunc(r.edges, func(i int) bool { return slices.Contains(s.edges[i].parts, part) })
		})
	}
	through, heaters := way("S1"), way("V3")
	if through < 0 || heaters < 0 {
		t.Fatalf("ways through S1 %d, through the heaters %d", through, heaters)
	}
	for _, x := range []struct {
		plug             analysis.Polarity
		at               string
		through, heaters routeState
	}{
		{analysis.AsMarked, "on", routeIdle, routeIdle},
		{analysis.AsMarked, "off", routeOpen, routeBrings},
		{analysis.Reversed, "on", routeBrings, routeIdle},
		{analysis.Reversed, "off", routeOpen, routeIdle},
	} {
		for n, state := range table.states {
			if state.Plug != x.plug || state.At("S1") != x.at {
				continue
			}
			r := table.readings[0][n][0]
			if r.routes[through] != x.through || r.routes[heaters] != x.heaters {
				t.Errorf("%s, S1 %s: through S1 %q, through the heaters %q", x.plug, x.at, r.routes[through], r.routes[heaters])
			}
		}
	}
}

// A set of too many states keeps the supply's faults, and says how many are left out.
func TestTooManyStates(t *testing.T) {
	var b strings.Builder
	b.WriteString("format = 1\n[set]\nname = \"switches\"\n[nodes]\nchassis = { touch = \"chassis\" }\nantenna = { touch = \"antenna\" }\n[parts]\nPL1 = { kind = \"plug\", ends = [\"line 1\", \"line 2\"] }\n")
	last := "line 1"
	for i := range 10 {
		name := string(rune('a' + i))
		b.WriteString("S" + name + " = { kind = \"switch\", ends = [\"" + last + "\", \"n" + name + "\"] }\n")
		b.WriteString("R" + name + " = { kind = \"resistor\", ends = [\"n" + name + "\", \"line 2\"], value = \"20k\" }\n")
		last = "n" + name
	}
	b.WriteString("C1 = { kind = \"capacitor\", ends = [\"" + last + "\", \"chassis\"], value = \"0.01 uF\", rating = \"400 V\" }\nC2 = { kind = \"capacitor\", ends = [\"chassis\", \"antenna\"], value = \"0.01 uF\", rating = \"400 V\" }\n")
	table := newTable(reportOf(t, "switches", b.String()).Case)
	if table.dropped == 0 {
		t.Fatal("nothing was left out")
	}
	lost := slices.ContainsFunc(table.cases, func(c faultCase) bool { return c.has(analysis.NeutralLost) })
	if !lost {
		t.Error("the lost neutral was left out")
	}
	if n := len(table.cases) * len(table.states) * len(table.scenes); n > entriesMost {
		t.Errorf("%d entries", n)
	}
}
