package analysis

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

// Laws that hold for every set, whatever its figures.

// table is the table of states with up to one fault by a name of the state that does not depend on
// the order of the file; unname takes back what nodes and parts were renamed to.
func table(c *Circuit, unname func(string) string) map[string]Row {
	rows := map[string]Row{}
	c.EachState(1, Filter{Controls: true}, func(row Row) bool {
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
		words = append(words, unname(x.Name)+"="+x.At)
	}
	for _, x := range s.Controls {
		words = append(words, unname(x.Name)+"="+unname(x.At))
	}
	for _, f := range s.Faults {
		nodes := []string{unname(f.Nodes[0]), unname(f.Nodes[1])}
		if f.Kind == NeutralLost { // of two hot legs each has its own
			nodes = nil
			for _, blade := range f.Between {
				nodes = append(nodes, unname(blade))
			}
			words = append(words, fmt.Sprint(f.Kind, nodes))
			continue
		}
		slices.Sort(nodes)
		part := f.Part
		if part != SupplyName {
			part = unname(part)
		}
		words = append(words, fmt.Sprintf("%s %s %v %d", part, f.Kind, nodes, f.Pole))
	}
	slices.Sort(words)
	rectifier, pin, _ := strings.Cut(s.Rectifier, ":")
	if rectifier != "" {
		rectifier = unname(rectifier) + ":" + pin
	}
	return fmt.Sprint(s.Plug, words, rectifier)
}

// compareTables holds two tables of the same points, in any order, to be one.
func compareTables(t settest.TB, got, want map[string]Row, gotPoint map[string]int, points []string, text string) {
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

var lawful = settest.Limits{Parts: [2]int{3, 16}, Switches: 1, Controls: 1, Sections: 2, Failed: true}

// TestNamesAndOrderChangeNoFigure: nodes and parts called otherwise, and the parts in another order.
func TestNamesAndOrderChangeNoFigure(t *testing.T) {
	settest.Check(t, 40, func(t *rapid.T) {
		r := settest.Draw(t, lawful)
		c := newCircuit(t, settest.Load(t, r.Text()), Bench{})
		points := pointNames(c)
		other := *r
		other.Parts = rapid.Permutation(r.Parts).Draw(t, "order")
		for i := range other.Parts {
			other.Parts[i].Name = "Z-" + other.Parts[i].Name
		}
		text := other.TextWith(func(name string) string { return "Z-" + name })
		unname := func(name string) string { return strings.TrimPrefix(name, "Z-") }
		d := newCircuit(t, settest.Load(t, text), Bench{})
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
	settest.Check(t, 40, func(t *rapid.T) {
		r := settest.Draw(t, lawful)
		d := settest.NewDrawer(t, slices.DeleteFunc(slices.Clone(nodesOf(t, r)), func(n string) bool { return n == netlist.BuildingEarth })...)
		ends := d.Nodes(2)
		whole, halves := *r, *r
		whole.Parts = append(slices.Clone(r.Parts), settest.Part{Name: "W99", Kind: "wire", Keys: "ends = " + settest.Nodes(ends...)})
		halves.Parts = append(slices.Clone(r.Parts), settest.Part{Name: "W98", Kind: "wire", Keys: "ends = " + settest.Nodes(ends[0], "middle")},
			settest.Part{Name: "W99", Kind: "wire", Keys: "ends = " + settest.Nodes("middle", ends[1])})
		c, e := newCircuit(t, settest.Load(t, whole.Text()), Bench{}), newCircuit(t, settest.Load(t, halves.Text()), Bench{})
		compareTables(t, table(e, same), table(c, same), places(pointNames(e)), pointNames(c), halves.Text())
	})
}

// TestControlIsTwoResistors: a control at the middle is two resistors of half its value, and turned to an end one of
// the whole beside one of what is left there, which is TurnedOhms, in every state, whatever else has failed.
func TestControlIsTwoResistors(t *testing.T) {
	few := lawful
	few.Controls, few.Parts[1] = 0, 12
	settest.Check(t, 40, func(t *rapid.T) {
		r := settest.Draw(t, few)
		d := settest.NewDrawer(t, slices.DeleteFunc(nodesOf(t, r), func(n string) bool { return n == netlist.BuildingEarth })...)
		n := d.Nodes(3)
		control := *r
		control.Parts = append(slices.Clone(r.Parts), settest.Part{Name: "R99", Kind: "potentiometer", Keys: "ends = " + settest.Nodes(n[0], n[1]) + ", wiper = ‹" + n[2] + `›, value = "50k"`})
		c := newCircuit(t, settest.Load(t, control.Text()), Bench{})
		turned := tablesByTurn(c)
		for at, ohms := range map[string][2]string{Middle: {"25k", "25k"}, n[0]: {"0.01", "50k"}, n[1]: {"50k", "0.01"}} {
			halves := *r
			halves.Parts = append(slices.Clone(r.Parts),
				settest.Part{Name: "R98", Kind: "resistor", Keys: "ends = " + settest.Nodes(n[0], n[2]) + ", value = \"" + ohms[0] + "\""},
				settest.Part{Name: "R99", Kind: "resistor", Keys: "ends = " + settest.Nodes(n[2], n[1]) + ", value = \"" + ohms[1] + "\""})
			e := newCircuit(t, settest.Load(t, halves.Text()), Bench{})
			two := tablesByTurn(e)[""]
			if len(two) == 0 {
				t.Fatal("no state is compared")
			}
			compareTables(t, turned[at], two, places(pointNames(c)), pointNames(e), at+"\n"+halves.Text())
		}
	})
}

// tablesByTurn are the tables of states by how R99 is turned, "" where it does not turn, under names that do not say so.
// States in which it or R98 has failed itself are left out: a control that opens is off at once on both sides of its
// wiper, and one of two resistors is not.
func tablesByTurn(c *Circuit) map[string]map[string]Row {
	turned := map[string]map[string]Row{}
	c.EachState(1, Filter{Controls: true}, func(row Row) bool {
		if slices.ContainsFunc(row.State.Faults, func(f *Fault) bool { return f.Part == "R98" || f.Part == "R99" }) {
			return true
		}
		at := row.State.At("R99")
		if turned[at] == nil {
			turned[at] = map[string]Row{}
		}
		row.State.Controls = nil
		row.Readings = slices.Clone(row.Readings)
		turned[at][stateName(row.State, same)] = row
		return true
	})
	return turned
}

func nodesOf(t settest.TB, r *settest.Drawn) []string {
	var names []string
	for _, n := range settest.Load(t, r.Text()).Nodes {
		names = append(names, n.Name)
	}
	return names
}

// TestScalingTheMainsScalesTheFigures: every AC figure, and DC where no battery drives, is in
// proportion to the mains, so long as nothing is cleared.
func TestScalingTheMainsScalesTheFigures(t *testing.T) {
	settest.Check(t, 40, func(t *rapid.T) {
		r := settest.Draw(t, lawful)
		r.Mains = "100 V 60 Hz"
		c := newCircuit(t, settest.Load(t, r.Text()), Bench{})
		r.Mains = "130 V 60 Hz"
		text := r.Text()
		d := newCircuit(t, settest.Load(t, text), Bench{})
		battery := slices.ContainsFunc(c.Set.Parts, func(p *netlist.Part) bool { return p.Kind == netlist.KindBattery })
		want := table(c, same)
		for name, row := range table(d, same) {
			small := want[name]
			if row.Cleared || small.Cleared {
				continue
			}
			for k, r := range small.Readings {
				scaled := Reading{VoltsOpen: 1.3 * r.VoltsOpen, VoltsMeter: 1.3 * r.VoltsMeter, Milliamps: 1.3 * r.Milliamps,
					VoltsDC: 1.3 * r.VoltsDC, MilliampsDC: 1.3 * r.MilliampsDC}
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

// TestPlugTurnedRound: the blades of a plug exchanged exchange its two polarities, and leave the depth.
func TestPlugTurnedRound(t *testing.T) {
	settest.Check(t, 40, func(t *rapid.T) {
		r := settest.Draw(t, lawful)
		c := newCircuit(t, settest.Load(t, r.Text()), Bench{})
		r.Parts[0].Keys = strings.NewReplacer("‹line 1›", "‹line 2›", "‹line 2›", "‹line 1›").Replace(r.Parts[0].Keys)
		text := r.Text()
		d := newCircuit(t, settest.Load(t, text), Bench{})
		turned := map[string]Row{}
		d.EachState(1, Filter{Controls: true}, func(row Row) bool {
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

// TestCurrentsAtANodeAddUp: what flows into a node by its parts flows out again, but for its
// minimum conductance (Kirchhoff), AC and DC.
func TestCurrentsAtANodeAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := settest.NewDrawer(t, "line 1", "line 2", "a", "b", "c", "chassis")
		r := &settest.Drawn{Mains: "120 V 60 Hz", Points: []settest.Point{{Name: "chassis", Keys: `touch = "chassis"`}}}
		r.Parts = []settest.Part{{Name: "PL1", Kind: "plug", Keys: "hot = ‹line 1›, neutral = ‹line 2›"},
			{Name: "RC", Kind: "resistor", Keys: `ends = [‹chassis›, ‹a›], value = "1k"`},
			{Name: "B1", Kind: "battery", Keys: "positive = ‹line 1›, negative = ‹line 2›, volts = 9"}}
		for k := range 3 + d.N(10) {
			kind := settest.OneOf(d, "resistor", "coil", "lamp", "motor", "potentiometer", "fuse")
			r.Parts = append(r.Parts, settest.Part{Name: fmt.Sprintf("X%d", k), Kind: kind, Keys: d.Keys(kind)})
		}
		text := r.Text()
		c := newCircuit(t, settest.Load(t, text), Bench{})
		state := settest.OneOf(d, c.Normal()...)
		if f := settest.OneOf(d, c.Faults...); d.Percent(50) && f.Kind == Open {
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
			// minimum conductance: 1e-10 S a node, shared among those that fuses join
			if cabs(sum) > 1e-7 || math.Abs(direct) > 1e-7 {
				t.Fatalf("%v: at %s %v A and %v A DC are left over\n%s", state, node, sum, direct, text)
			}
		}
	})
}

// TestWireFromTheLineIsDepthZero: a wire from a line conductor to a touch point makes it live
// without a failure, behind a sound guard with one, unless that shorts the line.
func TestWireFromTheLineIsDepthZero(t *testing.T) {
	settest.Check(t, 100, func(t *rapid.T) {
		r := settest.Draw(t, settest.Limits{Parts: [2]int{2, 12}, Switches: 1, Controls: 1, Sections: 1})
		if r.Earthed == "nowhere" {
			r.Earthed = "" // no current would return
		}
		d := settest.NewDrawer(t)
		blade, point := settest.OneOf(d, "line 1", "line 2"), settest.OneOf(d, r.Points...)
		r.Parts = append(r.Parts, settest.Part{Name: "W99", Kind: "wire", Keys: "ends = " + settest.Nodes(blade, point.Name)})
		text := r.Text()
		c := newCircuit(t, settest.Load(t, text), Bench{})
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
		if strings.Contains(point.Keys, "guard =") && !strings.Contains(point.Keys, "suspect") && r.Condition == "" {
			want = 1
		}
		p := c.Examine(Options{Faults: 1}).Point(point.Name)
		if p.Depth != want || p.Normal == nil || p.Normal.Class() != Live {
			t.Fatalf("%s on %s: depth %d, want %d, normal %+v\n%s", point.Name, blade, p.Depth, want, p.Normal, text)
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
