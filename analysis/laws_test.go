package analysis

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"coldcheck/netlist"

	"pgregory.net/rapid"
)

// Laws that hold for every set, whatever its figures.

// table is the table of states with up to one fault by a name of the state that does not depend on
// the order of the file; unname takes back what nodes and parts were renamed to.
func table(c *Circuit, unname func(string) string) map[string]Row {
	rows := map[string]Row{}
	c.EachState(1, Filter{}, func(row Row) bool {
		row.Readings = slices.Clone(row.Readings)
		rows[stateName(row.State, unname)] = row
		return true
	})
	return rows
}

func same(name string) string { return name }

func stateName(s State, unname func(string) string) string {
	var words []string
	for _, x := range s.Settings {
		words = append(words, unname(x.Control)+"="+x.At)
	}
	for _, f := range s.Faults {
		nodes := []string{unname(f.Nodes[0]), unname(f.Nodes[1])}
		slices.Sort(nodes)
		part := f.Part
		if part != SupplyName {
			part = unname(part)
		}
		words = append(words, fmt.Sprintf("%s %s %v %d", part, f.Kind, nodes, f.pole))
	}
	slices.Sort(words)
	rectifier, pin, _ := strings.Cut(s.Rectifier, ":")
	if rectifier != "" {
		rectifier = unname(rectifier) + ":" + pin
	}
	return fmt.Sprint(s.Plug, words, rectifier)
}

// compareTables holds two tables of the same points, in any order, to be one.
func compareTables(t fataler, got, want map[string]Row, gotPoint map[string]int, points []string, text string) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d states, want %d\n%s", len(got), len(want), text)
	}
	for _, name := range slices.Sorted(maps.Keys(want)) {
		g, ok := got[name]
		w := want[name]
		if !ok {
			t.Fatalf("no state %s\n%s", name, text)
		}
		if g.Cleared != w.Cleared {
			t.Fatalf("%s: cleared %v, want %v\n%s", name, g.Cleared, w.Cleared, text)
		}
		for k, point := range points {
			r := g.Readings[gotPoint[point]]
			if !agree(r, w.Readings[k], w.Cleared || w.State.Rectifier != "") {
				t.Fatalf("%s at %s: got %+v, want %+v\n%s", name, point, r, w.Readings[k], text)
			}
		}
	}
}

func places(names []string) map[string]int {
	at := map[string]int{}
	for i, n := range names {
		at[n] = i
	}
	return at
}

var lawful = limits{parts: [2]int{3, 16}, controls: 1, sections: 2, failed: true}

// TestNamesAndOrderChangeNoFigure: nodes and parts called otherwise, and the parts in another order.
func TestNamesAndOrderChangeNoFigure(t *testing.T) {
	checkTimes(t, 40, func(t *rapid.T) {
		r := drawSet(t, lawful)
		c := newCircuit(t, loadText(t, r.text()), Bench{})
		points := pointNames(c)
		other := *r
		other.parts = rapid.Permutation(r.parts).Draw(t, "order")
		for i := range other.parts {
			other.parts[i].name = "Z-" + other.parts[i].name
		}
		text := other.textWith(func(name string) string { return "Z-" + name })
		unname := func(name string) string { return strings.TrimPrefix(name, "Z-") }
		d := newCircuit(t, loadText(t, text), Bench{})
		var called []string
		for _, p := range pointNames(d) {
			called = append(called, unname(p))
		}
		compareTables(t, table(d, unname), table(c, same), places(called), points, text)
		for _, p := range c.Examine(Options{Faults: 2}).Points {
			q := d.Examine(Options{Faults: 2}).Point("Z-" + p.Name)
			if q.Depth != p.Depth || q.DepthAsMarked != p.DepthAsMarked || len(q.FaultSets) != len(p.FaultSets) {
				t.Fatalf("%s: depth %d, %d by %d sets; renamed %d, %d by %d\n%s", p.Name, p.Depth, p.DepthAsMarked, len(p.FaultSets),
					q.Depth, q.DepthAsMarked, len(q.FaultSets), text)
			}
		}
	})
}

// TestWireInTwoPieces: a wire with a node in its middle is the same wire.
func TestWireInTwoPieces(t *testing.T) {
	checkTimes(t, 40, func(t *rapid.T) {
		r := drawSet(t, lawful)
		d := &drawer{t: t, pool: slices.DeleteFunc(slices.Clone(nodesOf(t, r)), func(n string) bool { return n == netlist.BuildingEarth })}
		ends := d.nodes(2)
		whole, halves := *r, *r
		whole.parts = append(slices.Clone(r.parts), randomPart{"W99", "wire", "ends = " + list(ends...)})
		halves.parts = append(slices.Clone(r.parts), randomPart{"W98", "wire", "ends = " + list(ends[0], "middle")},
			randomPart{"W99", "wire", "ends = " + list("middle", ends[1])})
		c, e := newCircuit(t, loadText(t, whole.text()), Bench{}), newCircuit(t, loadText(t, halves.text()), Bench{})
		compareTables(t, table(e, same), table(c, same), places(pointNames(e)), pointNames(c), halves.text())
	})
}

func nodesOf(t fataler, r *randomSet) []string {
	var names []string
	for _, n := range loadText(t, r.text()).Nodes {
		names = append(names, n.Name)
	}
	return names
}

// TestScalingTheMainsScalesTheFigures: every AC figure, and DC where no battery drives, is in
// proportion to the mains, so long as nothing is cleared.
func TestScalingTheMainsScalesTheFigures(t *testing.T) {
	checkTimes(t, 40, func(t *rapid.T) {
		r := drawSet(t, lawful)
		r.mains = "100 V 60 Hz"
		c := newCircuit(t, loadText(t, r.text()), Bench{})
		r.mains = "130 V 60 Hz"
		text := r.text()
		d := newCircuit(t, loadText(t, text), Bench{})
		battery := slices.ContainsFunc(c.Set.Parts, func(p *netlist.Part) bool { return p.Kind == netlist.KindBattery })
		want := table(c, same)
		for name, row := range table(d, same) {
			small := want[name]
			if row.Cleared || small.Cleared {
				continue
			}
			for k, r := range small.Readings {
				scaled := Reading{1.3 * r.VoltsOpen, 1.3 * r.VoltsMeter, 1.3 * r.Milliamps, 1.3 * r.VoltsDC, 1.3 * r.MilliampsDC}
				got := row.Readings[k]
				if battery {
					got.VoltsDC, got.MilliampsDC, scaled.VoltsDC, scaled.MilliampsDC = 0, 0, 0, 0
				}
				if !agree(got, scaled, row.State.Rectifier != "") {
					t.Fatalf("%s at %s: at 130 V %+v, at 100 V %+v\n%s", name, c.Points[k].Name, row.Readings[k], r, text)
				}
			}
		}
	})
}

// TestPlugTurnedRound: the blades of a plug exchanged exchange its two ways, and leave the depth.
func TestPlugTurnedRound(t *testing.T) {
	checkTimes(t, 40, func(t *rapid.T) {
		r := drawSet(t, lawful)
		c := newCircuit(t, loadText(t, r.text()), Bench{})
		r.parts[0].keys = strings.NewReplacer("‹line 1›", "‹line 2›", "‹line 2›", "‹line 1›").Replace(r.parts[0].keys)
		text := r.text()
		d := newCircuit(t, loadText(t, text), Bench{})
		turned := map[string]Row{}
		d.EachState(1, Filter{}, func(row Row) bool {
			row.Readings = slices.Clone(row.Readings)
			s := row.State
			s.Plug = s.Plug.Other()
			turned[stateName(s, same)] = row
			return true
		})
		compareTables(t, turned, table(c, same), places(pointNames(d)), pointNames(c), text)
		back := d.Examine(Options{Faults: 2})
		for _, p := range c.Examine(Options{Faults: 2}).Points {
			if q := back.Point(p.Name); q.Depth != p.Depth {
				t.Fatalf("%s: depth %d, turned round %d\n%s", p.Name, p.Depth, q.Depth, text)
			}
		}
	})
}

// TestReciprocity: an ampere into one node lifts another as much as an ampere into the other lifts
// the one, in every base, ideal transformers among the parts.
func TestReciprocity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := drawSet(t, limits{[2]int{4, 25}, 2, 3, true}).text()
		set := loadText(t, text)
		c := newCircuit(t, set, drawBench(t, set))
		d := &drawer{t: t}
		b := c.base(d.n(len(c.combos)), oneOf(d, acBlocking, acHeld, dc), oneOf(d, ways[:]...), false)
		i, j := b.row[d.n(len(set.Nodes))], b.row[d.n(len(set.Nodes))]
		lift := func(into, at int) complex128 {
			x := make([]complex128, b.n)
			x[into] = 1
			b.lu.solve(x)
			return x[at]
		}
		x, y := lift(i, j), lift(j, i)
		// an island on its leaks stands at some 10 GΩ, where four digits are left
		if cabs(x-y) > 1e-3*max(cabs(x), cabs(y))+1e-6 {
			t.Fatalf("from %d to %d %v Ω, back %v Ω\n%s", i, j, x, y, text)
		}
	})
}

// TestCurrentsAtANodeAddUp: what flows into a node by its parts flows out again, but for its earth
// leak (Kirchhoff), AC and DC.
func TestCurrentsAtANodeAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := &drawer{t: t, pool: []string{"line 1", "line 2", "a", "b", "c", "chassis"}}
		r := &randomSet{mains: "120 V 60 Hz", points: []randomPoint{{"chassis", `touch = "chassis"`}}}
		r.parts = []randomPart{{"PL1", "plug", "hot = ‹line 1›, neutral = ‹line 2›"},
			{"RC", "resistor", `ends = [‹chassis›, ‹a›], value = "1k"`}, {"B1", "battery", "positive = ‹line 1›, negative = ‹line 2›, volts = 9"}}
		for k := range 3 + d.n(10) {
			kind := oneOf(d, "resistor", "coil", "lamp", "motor", "potentiometer", "fuse")
			r.parts = append(r.parts, randomPart{fmt.Sprintf("X%d", k), kind, d.keys(kind)})
		}
		text := r.text()
		c := newCircuit(t, loadText(t, text), Bench{})
		state := oneOf(d, c.Normal()...)
		if f := oneOf(d, c.Faults...); d.percent(50) && f.Kind == Open {
			state = state.WithFaults(f)
		}
		s := c.Solve(state)
		if s.Cleared {
			return
		}
		for _, node := range []string{"a", "b", "c", "chassis"} {
			if c.Set.Node(node) == nil {
				continue
			}
			sum, direct := complex(0, 0), 0.0
			for _, p := range c.Set.Parts {
				for _, f := range s.Flows(p.Name) {
					if f.A == node {
						sum, direct = sum+f.Amps, direct+f.AmpsDC
					}
					if f.B == node {
						sum, direct = sum-f.Amps, direct-f.AmpsDC
					}
				}
			}
			// leaks: 1e-10 S a node, shared among those that fuses join
			if cabs(sum) > 1e-7 || math.Abs(direct) > 1e-7 {
				t.Fatalf("%v: at %s %v A and %v A DC are left over\n%s", state, node, sum, direct, text)
			}
		}
	})
}

// TestWireFromTheLineIsDepthZero: a wire from a line conductor to a touch point makes it live
// without a failure, behind a sound guard with one, unless that shorts the line.
func TestWireFromTheLineIsDepthZero(t *testing.T) {
	checkTimes(t, 100, func(t *rapid.T) {
		r := drawSet(t, limits{[2]int{2, 12}, 1, 1, false})
		d := &drawer{t: t}
		blade, point := oneOf(d, "line 1", "line 2"), oneOf(d, r.points...)
		r.parts = append(r.parts, randomPart{"W99", "wire", "ends = " + list(blade, point.name)})
		text := r.text()
		c := newCircuit(t, loadText(t, text), Bench{})
		hot := AsMarked
		if blade == "line 2" {
			hot = Reversed
		}
		whole := false
		c.EachState(0, Filter{Plug: hot}, func(row Row) bool {
			whole = whole || !row.Cleared
			return true
		})
		if !whole {
			t.Skip("the line is shorted in every state")
		}
		want := 0
		if strings.Contains(point.keys, "guard =") && !strings.Contains(point.keys, "suspect") {
			want = 1
		}
		p := c.Examine(Options{Faults: 1}).Point(point.name)
		if p.Depth != want || p.Normal == nil || p.Normal.Band() != Live {
			t.Fatalf("%s on %s: depth %d, want %d, normal %+v\n%s", point.name, blade, p.Depth, want, p.Normal, text)
		}
	})
}

// TestManyTouchPoints: the last of seventy points is searched as the first is.
func TestManyTouchPoints(t *testing.T) {
	const count = 70
	var parts strings.Builder
	var names []string
	for k := range count {
		name := fmt.Sprintf("p%d", k)
		names = append(names, name)
		fmt.Fprintf(&parts, "C%d = { kind = \"capacitor\", ends = [\"L\", \"m%d\"], value = \"10 nF\" }\n", 2*k, k)
		fmt.Fprintf(&parts, "C%d = { kind = \"capacitor\", ends = [\"m%d\", %q], value = \"10 nF\" }\n", 2*k+1, k, name)
	}
	r := circuitOf(t, parts.String(), names...).Examine(Options{Faults: 2})
	for k, p := range r.Points {
		want := fmt.Sprintf("[C%d shorted C%d shorted]", 2*k, 2*k+1)
		if p.Depth != 2 || len(p.FaultSets) != 1 || fmt.Sprint(p.FaultSets[0].Faults) != want {
			t.Fatalf("%s: depth %d by %v, want 2 by %s", p.Name, p.Depth, p.FaultSets, want)
		}
	}
}
