package analysis

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/netlist/settest"
)

// agree reports whether two readings are one but for rounding. A conductor that may open has 1 µΩ in
// the fast solution and none in the twin: beside a short of 10 mΩ that is one part in ten thousand,
// and the hundreds of amperes of a heavy state (one that a breaker clears, or a rectifier on the line
// into a held reservoir) drop a millivolt in it.
func agree(got, want Reading, heavy bool) bool {
	least := 1e-3
	if heavy {
		least = 0.1
	}
	close := func(x, y, part, least float64) bool {
		return math.Abs(x-y) <= part*math.Max(math.Abs(x), math.Abs(y))+least
	}
	return close(got.VoltsOpen, want.VoltsOpen, voltsPart(want.Milliamps), voltsLeast(want.Milliamps, least)) &&
		close(got.VoltsMeter, want.VoltsMeter, 5e-4, least) && close(got.Milliamps, want.Milliamps, 5e-4, least/2) &&
		close(got.VoltsDC, want.VoltsDC, voltsPart(want.MilliampsDC), voltsLeast(want.MilliampsDC, least)) &&
		close(got.MilliampsDC, want.MilliampsDC, 5e-4, least/2)
}

// What hangs on the minimum conductances of 10 GΩ alone can drive next to nothing, and its open volts are
// known to some three digits in either solution: 1e-10 S beside the 100 S of a short.
const adrift = 1e-4 // mA

func voltsPart(milliamps float64) float64 {
	if milliamps < adrift {
		return 3e-3
	}
	return 5e-4
}

func voltsLeast(milliamps, least float64) float64 {
	if milliamps < adrift {
		return 0.2
	}
	return least
}

// conditionOf says a state to the twin. Faults are matched by place: both lists are in the order of
// the file, which TestFaultList holds.
func conditionOf(s State, faults []twinFault) condition {
	x := condition{plug: s.Plug, at: map[string]string{}, without: s.Without, blown: s.Blown}
	for _, setting := range slices.Concat(s.Settings, s.Controls) {
		x.at[setting.Name] = setting.At
	}
	for _, f := range s.Faults {
		x.faults = append(x.faults, faults[f.Index])
	}
	return x
}

func pointNames(c *Circuit) []string {
	var names []string
	for _, p := range c.Points {
		names = append(names, p.Name)
	}
	return names
}

// TestTableOfStatesAgainstTwin: every row of the table of states, with every set of up to two
// faults, against the whole matrix of that state built afresh.
func TestTableOfStatesAgainstTwin(t *testing.T) {
	settest.Check(t, 10, func(t *rapid.T) {
		text := settest.Draw(t, settest.Limits{Parts: [2]int{3, 9}, Switches: 1, Controls: 1, Sections: 2, Failed: true}).Text()
		set := settest.Load(t, text)
		bench := drawBench(t, set)
		compareTable(t, newCircuit(t, set, bench), newTwin(set, bench), 2, text)
	})
}

// TestLargerTablesAgainstTwin: the same with one fault on sets of up to 25 parts.
func TestLargerTablesAgainstTwin(t *testing.T) {
	settest.Check(t, 12, func(t *rapid.T) {
		text := settest.Draw(t, settest.Limits{Parts: [2]int{10, 25}, Switches: 2, Controls: 1, Sections: 3, Failed: true}).Text()
		set := settest.Load(t, text)
		bench := drawBench(t, set)
		compareTable(t, newCircuit(t, set, bench), newTwin(set, bench), 1, text)
	})
}

func compareTable(t settest.TB, c *Circuit, w *twin, faults int, text string) {
	t.Helper()
	list := w.faults()
	names := pointNames(c)
	var found map[string]solved
	rows := 0
	c.EachState(faults, Filter{Controls: true}, func(row Row) bool {
		rows++
		if row.State.Rectifier == "" {
			if len(found) > 0 {
				t.Fatalf("%d rectifier states are missing before %v\n%s", len(found), row.State, text)
			}
			found = w.all(t, conditionOf(row.State, list), names)
		}
		want, ok := found[row.State.Rectifier]
		if !ok {
			t.Fatalf("%v cannot be a state\n%s", row.State, text)
		}
		delete(found, row.State.Rectifier)
		if row.Cleared != want.cleared && math.Abs(want.amps-20) > 1e-6 {
			t.Fatalf("%v: cleared is %v; the supply carries %.6g A\n%s", row.State, row.Cleared, want.amps, text)
		}
		for k, name := range names {
			if reading := want.reading(k, -1); !agree(row.Readings[k], reading, row.Cleared || row.State.Rectifier != "") {
				t.Fatalf("%v %v at %s:\ngot  %+v\nwant %+v\n%s", row.State, w.bench, name, row.Readings[k], reading, text)
			}
		}
		return true
	})
	if want := w.countRows(faults); rows != want {
		t.Fatalf("%d rows, want %d\n%s", rows, want, text)
	}
}

// countRows counts the states with up to that many faults.
func (w *twin) countRows(limit int) int {
	settings := 0
	w.eachSetting(func(condition) { settings++ })
	count := 0
	w.eachFaults(limit, func(faults []twinFault) {
		count += settings * (1 + len(w.labels(condition{faults: faults})))
	})
	return count
}

// TestSolveAgainstTwin: every node's AC and DC volts and the supply's current of single states with
// any faults, and what is read from node to node.
func TestSolveAgainstTwin(t *testing.T) {
	settest.Check(t, 150, func(t *rapid.T) {
		text := settest.Draw(t, settest.Limits{Parts: [2]int{4, 20}, Switches: 2, Controls: 1, Sections: 3, Failed: true}).Text()
		set := settest.Load(t, text)
		bench := drawBench(t, set)
		c, w := newCircuit(t, set, bench), newTwin(set, bench)
		d := settest.NewDrawer(t)
		state := settest.OneOf(d, c.Normal()...)
		list := w.faults()
		for range d.N(4) {
			f := settest.OneOf(d, c.Faults...)
			if circuit.Compatible(state.Faults, f) && !hasFault(state.Faults, f) {
				state.Faults = append(state.Faults, f)
			}
		}
		state.Without = d.Percent(20)
		x := conditionOf(state, list)
		if labels := w.labels(x); len(labels) > 0 && d.Percent(50) {
			state.Rectifier = settest.OneOf(d, labels...)
		}
		points := []string{settest.OneOf(d, set.Nodes...).Name, settest.OneOf(d, set.Nodes...).Name}
		want := w.all(t, x, points)[state.Rectifier]
		got := c.Solve(state)
		heavy, least := want.cleared || state.Rectifier != "", 0.02
		if heavy {
			least = 0.1
		}
		close := func(what string, got, want complex128) {
			if cabs(got-want) > 3e-3*cabs(want)+least {
				t.Fatalf("%v %v: %s is %v, want %v\n%s", state, bench, what, got, want, text)
			}
		}
		for i, n := range set.Nodes {
			ac, dc := complex(0, 0), complex(0, 0)
			if want.ac.group[i] == want.ac.group[w.earth] { // what floats reads nothing
				ac = want.ac.volts[i]
			}
			if len(want.dc) > 0 && want.dc[0].group[i] == want.dc[0].group[w.earth] {
				dc = want.dc[0].volts[i]
			}
			close("AC at "+n.Name, got.Volts(n.Name), ac)
			close("DC at "+n.Name, complex(got.VoltsDC(n.Name), 0), dc)
		}
		if got.Cleared != want.cleared {
			t.Fatalf("%v: cleared is %v at %.6g A\n%s", state, got.Cleared, want.amps, text)
		}
		if state.Rectifier == "" {
			close("the supply's current", complex(got.SupplyAmps(), 0), complex(want.amps, 0))
		}
		if r := got.Read(points[0], ""); !agree(r, want.reading(0, -1), heavy) {
			t.Fatalf("%v at %s:\ngot  %+v\nwant %+v\n%s", state, points[0], r, want.reading(0, -1), text)
		}
		if points[0] != points[1] {
			if r := got.Read(points[0], points[1]); !agree(r, want.reading(0, 1), heavy) {
				t.Fatalf("%v from %s to %s:\ngot  %+v\nwant %+v\n%s", state, points[0], points[1], r, want.reading(0, 1), text)
			}
		}
	})
}

func hasFault(set []*Fault, f *Fault) bool {
	for _, g := range set {
		if f == g {
			return true
		}
	}
	return false
}

// TestShortsFromFloatingMetal: metal on its minimum conductance alone, shorted to both ends of 22 Ω. Of
// the second short next to nothing is left beside the 10 GΩ that the metal shows, and the body's
// current hangs on it.
func TestShortsFromFloatingMetal(t *testing.T) {
	text := settest.With(`R1 = { kind = "resistor", ends = ["chassis", "L"], value = "22", frame = "shaft", frame_insulation = "basic" }`, "chassis", "shaft")
	set := settest.Load(t, text)
	compareTable(t, newCircuit(t, set, Bench{}), newTwin(set, Bench{}), 2, text)
}

// TestIllConditionedFaults: sets of faults of which an update would lose the digits that are printed,
// against the whole matrix. Two coils of 0.01 Ω hold metal that is left on its minimum conductance when
// both open: 10 GΩ beside them. Two shorts lead from metal on 10 GΩ to either end of 0.01 Ω that carries
// hundreds of amperes.
func TestIllConditionedFaults(t *testing.T) {
	for _, x := range []struct{ parts, first, second string }{
		{`C1 = { kind = "coil", ends = ["L", "shaft"], ohms = 0.01, henries = "1 uH" }
C2 = { kind = "coil", ends = ["L", "shaft"], ohms = 0.01, henries = "1 uH" }`, "C1 open", "C2 open"},
		{`R1 = { kind = "resistor", ends = ["L", "Y"], value = 0.01, frame = "shaft" }
R2 = { kind = "resistor", ends = ["Y", "N"], value = 0.01 }`, "R1 failed [L shaft]", "R1 failed [Y shaft]"},
	} {
		set := settest.Load(t, settest.With(x.parts, "shaft"))
		c, w := newCircuit(t, set, Bench{}), newTwin(set, Bench{})
		list, seen := w.faults(), false
		c.EachState(3, Filter{}, func(row Row) bool {
			want := w.all(t, conditionOf(row.State, list), []string{"shaft"})[row.State.Rectifier].reading(0, -1)
			what := fmt.Sprintf("%s %v", row.State.Plug, row.State.Faults)
			settest.Near(t, what+" open volts", row.Readings[0].VoltsOpen, want.VoltsOpen, 1e-6)
			settest.Near(t, what+" milliamperes", row.Readings[0].Milliamps, want.Milliamps, 1e-6)
			seen = seen || len(row.State.Faults) == 2 && row.State.Faults[0].String() == x.first && row.State.Faults[1].String() == x.second
			return true
		})
		if !seen {
			t.Errorf("no state with %s and %s", x.first, x.second)
		}
	}
}

// TestFloatingSetKeepsItsDigits: a set that floats whole on an isolated supply, with shorts of
// 0.01 Ω beside minimum conductances of 10 GΩ. Where a small entry is taken as pivot, those are lost.
func TestFloatingSetKeepsItsDigits(t *testing.T) {
	set := settest.Load(t, settest.WithMains("220 V 50 Hz", `PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
B1 = { kind = "battery", positive = "B-", negative = "B+", volts = 180 }
C2 = { kind = "capacitor", ends = ["B-", "chassis"], value = "1 nF" }
S3 = { kind = "switch", ends = ["line 1", "line 2"] }
C4 = { kind = "capacitor", ends = ["line 1", "shaft"], value = "100 pF" }
C5 = { kind = "capacitor", ends = ["shaft", "line 2"], value = "100 pF" }
C6 = { kind = "capacitor", ends = ["line 1", "chassis"], value = "100 pF" }
F7 = { kind = "fuse", ends = ["X", "B-"] }
B8 = { kind = "battery", positive = "shaft", negative = "line 1", volts = 9 }
T9 = { kind = "tube", type = "35W4", pins = { 3 = "chassis", 6 = "line 1", 5 = "mid", 7 = "aerial" }, condition = "failed" }
S10 = { kind = "selector", common = "mid", throws = ["line 2", "B+", "line 1"], positions = ["first", "second", "third"] }
R12 = { kind = "rectifier", anode = "aerial", cathode = "line 2" }
R13 = { kind = "resistor", ends = ["h1", "mid"], value = "1k" }
C14 = { kind = "capacitor", ends = ["X", "line 2"], value = "0.25 uF" }
C15 = { kind = "capacitor", ends = ["aerial", "X"], value = "0.1 uF" }`, "chassis", "shaft", "aerial"))
	bench := Bench{Isolated: true}
	c := newCircuit(t, set, bench)
	state := on(c, AsMarked, "S3", "off", "S10", "second")
	s := c.Solve(state)
	want := newTwin(set, bench).all(t, conditionOf(state, nil), nil)[""]
	for i, n := range set.Nodes {
		ac, dc := s.Across(n.Name, set.Nodes[0].Name)
		wantAC, wantDC := complex(0, 0), 0.0
		if want.ac.group[i] == want.ac.group[0] {
			wantAC = want.ac.volts[i] - want.ac.volts[0]
		}
		for _, way := range want.dc {
			if v := real(way.volts[i] - way.volts[0]); way.group[i] == way.group[0] && math.Abs(v) > math.Abs(wantDC) {
				wantDC = v
			}
		}
		if math.Abs(ac-cabs(wantAC)) > 0.02 || math.Abs(dc-wantDC) > 0.02 {
			t.Errorf("%s stands at %.4f V AC and %.4f V DC over %s, want %.4f and %.4f", n.Name, ac, dc, set.Nodes[0].Name, cabs(wantAC), wantDC)
		}
	}
}

// TestStuckDeckKeepsItsNodes: a deck that sticks parts two nodes that its own throw joined, and joins two
// others. Metal that hangs on 100 pF shows on a meter how many minimum conductances are left: two, of the
// chassis and of line 1 with the shaft.
func TestStuckDeckKeepsItsNodes(t *testing.T) {
	text := settest.With(`C1 = { kind = "capacitor", ends = ["L", "N"], value = "100 pF" }
R2 = { kind = "thermistor", ends = ["L", "chassis"], hot = 44, cold = "400", condition = "failed" }
S3 = { kind = "selector", decks = [{ common = "L", throws = ["chassis", "shaft"] }, { common = "N", throws = ["B-", "B+"] }] }`, "chassis", "shaft")
	set := settest.Load(t, text)
	compareTable(t, newCircuit(t, set, Bench{}), newTwin(set, Bench{}), 2, text)
}
