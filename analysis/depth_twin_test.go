package analysis

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/netlist/settest"
)

// TestDepthAgainstBruteForce: depth, depth as marked, minimal fault sets, worst states at points and
// hand to hand, and how many states were not judged.
func TestDepthAgainstBruteForce(t *testing.T) {
	for _, c := range []struct{ limit, most, times int }{{1, 2, 60}, {1, 3, 40}, {2, 3, 40}, {3, 4, 20}} {
		limit, most := c.limit, c.most
		t.Run("K="+itoa(limit)+"/together="+itoa(most), func(t *testing.T) {
			settest.Check(t, c.times, func(t *rapid.T) {
				text := settest.Draw(t, settest.Limits{Parts: [2]int{2, 10 - limit}, Switches: 1, Controls: 1, Sections: 1, Failed: true}).Text()
				set := settest.Load(t, text)
				c := newCircuit(t, set, drawBench(t, set))
				if count := len(c.Faults); count > 36/limit || len(c.Positions) > 6 {
					t.Skip("too many faults to try all of their sets")
				}
				compareDepth(t, c, limit, most, text)
			})
		})
	}
}

func compareDepth(t settest.TB, c *Circuit, limit, most int, text string) {
	t.Helper()
	b := newBruteSearch(t, c, limit)
	b.most = most
	b.run()
	r := c.Examine(Options{Faults: limit, Together: most})
	b.compareSets(r, text)
	for k, x := range b.targets {
		normal, oneFault := b.found(r, k).normal, b.found(r, k).oneFault
		b.compareWorst(b.nameOf(x)+" normal", normal, k, noFault, text)
		b.compareWorst(b.nameOf(x)+" one fault", oneFault, k, anyState, text)
	}
	if r.NotJudged != b.cut {
		t.Fatalf("%+v not judged, want %+v\n%s", r.NotJudged, b.cut, text)
	}
}

// targetResult is what the search found of a target.
type targetResult struct {
	depth, asMarked  int
	normal, oneFault *Worst
	sets             []FaultSet
	guards           []string // the points of which the guard must be off
}

func (b *bruteSearch) nameOf(x bruteTarget) string {
	if x.b < 0 {
		return b.names[x.a]
	}
	return b.names[x.a] + " to " + b.names[x.b]
}

// found is the result of a target, which of two pieces of metal is told by one point of each.
func (b *bruteSearch) found(r *Result, k int) targetResult {
	b.t.Helper()
	guards := func(points ...*TouchPoint) []string {
		var names []string
		for _, p := range points {
			if p.GuardFault != nil {
				names = append(names, p.Name)
			}
		}
		return names
	}
	if k < len(b.names) {
		p := r.Points[k]
		return targetResult{p.Depth, p.DepthAsMarked, p.Normal, p.OneFault, p.FaultSets, guards(p.TouchPoint)}
	}
	if len(r.Between) != len(b.targets)-len(b.names) {
		b.t.Fatalf("%d pairs of metal, want %d", len(r.Between), len(b.targets)-len(b.names))
	}
	x, p := b.targets[k], r.Between[k-len(b.names)]
	if p.A.Name != b.names[x.a] || p.B.Name != b.names[x.b] {
		b.t.Fatalf("the pair is %s to %s, want %s", p.A.Name, p.B.Name, b.nameOf(x))
	}
	return targetResult{p.Depth, p.DepthAsMarked, p.Normal, p.OneFault, p.FaultSets, guards(p.A, p.B)}
}

// compareSets holds each target's minimal sets and depths to those that were found here.
func (b *bruteSearch) compareSets(r *Result, text string) {
	b.t.Helper()
	for k, x := range b.targets {
		p, name := b.found(r, k), b.nameOf(x)
		var sets [][]int
		for _, s := range p.sets {
			var members []int
			var off []string
			cost := 0
			for _, f := range s.Faults {
				cost += f.Cost
				if f.Kind != GuardOff {
					members = append(members, f.Index)
				} else {
					off = append(off, f.Part)
				}
			}
			if cost != s.Cost || !slices.Equal(off, p.guards) {
				b.t.Fatalf("%s: the set %v has cost %d; its guards are %v\n%s", name, s.Faults, s.Cost, p.guards, text)
			}
			sets = append(sets, members)
		}
		if !slices.IsSortedFunc(p.sets, func(x, y FaultSet) int {
			return cmp.Or(cmp.Compare(x.Cost, y.Cost), cmp.Compare(len(x.Faults), len(y.Faults)))
		}) {
			b.t.Fatalf("%s: %v is not in order of cost and number\n%s", name, p.sets, text)
		}
		slices.SortFunc(sets, func(x, y []int) int { return slices.Compare(x, y) })
		want := b.minimal(k)
		if !slices.EqualFunc(sets, want, slices.Equal) {
			b.t.Fatalf("%s %v: fault sets %v, want %v of %v\n%s", name, r.Circuit.Bench, sets, want, r.Circuit.Faults, text)
		}
		depth, asMarked := b.depths(k, want)
		if p.depth != depth || p.asMarked != asMarked {
			b.t.Fatalf("%s: depth %d, as marked %d; want %d, %d\n%s", name, p.depth, p.asMarked, depth, asMarked, text)
		}
	}
}

// depths are the depth and the depth as marked of a target, None where over the limit.
func (b *bruteSearch) depths(k int, sets [][]int) (depth, asMarked int) {
	depth, asMarked = None, None
	for _, s := range sets {
		cost := b.guards[k]
		for _, f := range s {
			cost += b.list[f].cost
		}
		if depth == None || cost < depth {
			depth = cost
		}
	}
	if b.marked[k] != None {
		asMarked = b.marked[k] + b.guards[k]
	}
	if depth != None {
		turned := depth
		if b.w.plug.Style == "polarized" || b.w.plug.Style == "grounding" {
			turned++
		}
		if asMarked == None || turned < asMarked {
			asMarked = turned
		}
	}
	if asMarked > b.limit {
		asMarked = None
	}
	return depth, asMarked
}

// compareWorst holds the worst and how plain its state is. Where two states are as bad and as plain,
// either may be told; figures then differ by no more than the share that counts as as bad.
func (b *bruteSearch) compareWorst(what string, got *Worst, k int, only func(bruteState) bool, text string) {
	b.t.Helper()
	want, ok := b.worst(k, only)
	if ok != (got != nil) {
		b.t.Fatalf("%s: got %v, want one: %v\n%s", what, got, ok, text)
	}
	if !ok {
		return
	}
	w := want.readings[k]
	if math.Abs(severityOf(w)) < 1e-4 && got.Severity() < 1e-4 {
		return // nothing but rounding sets the states apart
	}
	if got.State.Rectifier != want.rectifier || got.State.Plug != want.plug || got.State.Cost() != want.cost || len(got.State.Faults) != len(want.faults) ||
		got.State.Away() != want.away ||
		!agree(got.Reading, w, got.State.Rectifier != "") {
		b.t.Fatalf("%s: got %+v, want %+v %v %v\n%s", what, got, w, want, b.list, text)
	}
}

// TestTogetherAgainstTwin: all bare points joined as by one hand, in the worst normal state; a state
// is cleared as it stands without the hand.
func TestTogetherAgainstTwin(t *testing.T) {
	settest.Check(t, 60, func(t *rapid.T) {
		text := settest.Draw(t, settest.Limits{Parts: [2]int{2, 12}, Switches: 1, Controls: 1, Sections: 1, Failed: true}).Text()
		set := settest.Load(t, text)
		c := newCircuit(t, set, drawBench(t, set))
		b := newBruteSearch(t, c, 0)
		var bare []string
		for i, name := range b.names {
			if b.guards[i] == 0 {
				bare = append(bare, name)
			}
		}
		got := c.Examine(Options{Faults: 0}).Together
		if len(bare) < 2 {
			if got != nil {
				t.Fatalf("%d bare points cannot be joined, got %+v\n%s", len(bare), got, text)
			}
			return
		}
		b.w.eachSetting(func(x condition) {
			b.judged(x, func(x condition, _ map[string]solved) {
				x.joined = bare
				found := b.w.all(t, x, bare[:1])
				for _, label := range append([]string{""}, b.w.labels(x)...) {
					b.states = append(b.states, bruteState{plug: x.plug, at: x.at, rectifier: label, away: b.w.away(x.at), readings: []Reading{found[label].reading(0, -1)}})
				}
			})
		})
		want, ok := b.worst(0, anyState)
		if ok != (got != nil) {
			t.Fatalf("together: got %v, want one: %v\n%s", got, ok, text)
		}
		// The hand is a conductor from point to point and makes no node of them: each keeps its
		// minimum conductance, so the whole current is compared, not what stands on those alone.
		if !ok || severityOf(want.readings[0]) < 1e-4 && got.Severity() < 1e-4 {
			return
		}
		w := want.readings[0]
		if math.Abs(got.Milliamps-w.Milliamps) > 1e-3*w.Milliamps+1e-3 || math.Abs(got.Severity()-severityOf(w)) > 1e-3*severityOf(w)+1e-2 ||
			got.State.Plug != want.plug || got.State.Rectifier != want.rectifier {
			t.Fatalf("together: got %+v, want %+v %v\n%s", got, w, want, text)
		}
	})
}

// TestDepthOnLargerSets: the minimal sets and depths of sets of up to 18 parts, against every set of
// up to K + 1 faults read one state at a time.
func TestDepthOnLargerSets(t *testing.T) {
	const limit = 2
	settest.Check(t, 30, func(t *rapid.T) {
		text := settest.Draw(t, settest.Limits{Parts: [2]int{7, 18}, Switches: 1, Controls: 1, Sections: 2, Failed: true}).Text()
		set := settest.Load(t, text)
		c := newCircuit(t, set, drawBench(t, set))
		if len(c.Faults) > 26 || len(c.Positions) > 6 {
			t.Skip("too many faults to try all of their sets")
		}
		b := newBruteSearch(t, c, limit)
		var members []*Fault
		size := 0
		var choose func(n, from, cost int)
		choose = func(n, from, cost int) {
			if n > 0 {
				for k := from; k < len(c.Faults); k++ {
					if f := c.Faults[k]; circuit.Compatible(members, f) && b.within(size, cost+f.Cost) {
						members = append(members, f)
						choose(n-1, k+1, cost+f.Cost)
						members = members[:len(members)-1]
					}
				}
				return
			}
			if !b.within(len(members), cost) {
				return
			}
			var places []int
			for _, f := range members {
				places = append(places, f.Index)
			}
			b.readByState(c, members, places, cost)
		}
		for ; size <= b.most; size++ {
			choose(size, 0, 0)
		}
		b.chains()
		b.compareSets(c.Examine(Options{Faults: limit}), text)
	})
}

// readByState notes what a set of faults makes live, each state read by itself.
func (b *bruteSearch) readByState(c *Circuit, members []*Fault, places []int, cost int) {
	for _, row := range c.Judged(members...) {
		if row.Cleared {
			continue
		}
		s := c.Solve(row.State)
		for i, target := range b.targets {
			if cost+b.guards[i] > b.limit {
				continue
			}
			r := Reading{}
			if target.b < 0 {
				r = row.Readings[i]
			} else {
				r = s.Read(b.names[target.a], b.names[target.b])
			}
			if !isLive(r) {
				continue
			}
			b.live[i] = append(b.live[i], places)
			if row.State.Plug == AsMarked && (b.marked[i] == None || cost < b.marked[i]) {
				b.marked[i] = cost
			}
		}
	}
}

// TestFuseInTheEarthLead: a fuse opens before any breaker does, and leaves the chassis to the broken
// insulation whose current it carried: one failure. Its strap to the earth contact is live when that is
// open too.
func TestFuseInTheEarthLead(t *testing.T) {
	const text = `PL1 = { kind = "plug", style = "grounding", hot = "L", neutral = "N", earth = "strap" }
F1 = { kind = "fuse", ends = ["chassis", "strap"] }
S1 = { kind = "switch", ends = ["L", "N"] }
R1 = { kind = "resistor", ends = ["L", "N"], value = 22, frame = "chassis", frame_insulation = "basic" }`
	c := circuitOf(t, text, "chassis", "strap")
	compareDepth(t, c, 2, 3, settest.With(text, "chassis", "strap"))
	r := c.Examine(Options{Faults: 2})
	for node, want := range map[string]string{
		"chassis": "[{1 [R1 failed [L chassis]]} {1 [R1 failed [N chassis]]}]",
		"strap":   "[{2 [R1 failed [L chassis] supply earth-lost]} {2 [R1 failed [N chassis] supply earth-lost]}]",
	} {
		if got := fmt.Sprint(r.Point(node).FaultSets); got != want {
			t.Errorf("%s is live by %s, want %s", node, got, want)
		}
	}
	if x := r.Point("chassis").OneFault; x == nil || !slices.Equal(x.State.Blown, []string{"F1"}) {
		t.Errorf("the worst at one fault is %+v, want it with F1 blown", x)
	}
}

// TestBatteriesOnAFloatingSet: on an isolated supply with a side of it open, what floats stands at
// volts by its batteries, and drives nothing.
func TestBatteriesOnAFloatingSet(t *testing.T) {
	text := settest.With(`S1 = { kind = "selector", common = "L", throws = ["building earth", "B-", ""], positions = ["first", "second", "third"] }
L2 = { kind = "lamp", ends = ["L", "chassis"], volts = 6.3, amps = 0.15 }
T3 = { kind = "tube", type = "50C5", pins = { 3 = "N" } }
R4 = { kind = "resistor", ends = ["shaft", "N"], value = "1k" }
B5 = { kind = "battery", positive = "N", negative = "shaft", volts = 9 }
B6 = { kind = "battery", positive = "N", negative = "L", volts = 67.5 }
R7 = { kind = "resistor", ends = ["shaft", "chassis"], value = "1k" }
R8 = { kind = "resistor", ends = ["B-", "building earth"], value = "150" }`, "chassis", "shaft")
	c := newCircuit(t, settest.Load(t, text), Bench{Isolated: true})
	compareDepth(t, c, 2, 3, text)
	if p := c.Examine(Options{Faults: 2}).Point("shaft"); p.Depth != None {
		t.Errorf("shaft: depth %d by %v; nothing drives it", p.Depth, p.FaultSets)
	}
}

// TestStuckDeckOpensItsOwnThrow: a deck that earths the chassis in one position and ties it to its own wire in the
// other. Stuck there it joins nothing that is not joined, and yet takes the earth off: with the capacitor shorted the
// chassis is live, where one of the two failures alone leaves it earthed or without volts.
func TestStuckDeckOpensItsOwnThrow(t *testing.T) {
	set := settest.Load(t, `[set]
name = "trial"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", style = "grounding", hot = "line 1", neutral = "line 2", earth = "earth" }
C1 = { kind = "capacitor", ends = ["line 1", "chassis"], value = "1 nF" }
R1 = { kind = "resistor", ends = ["line 1", "line 2"], value = 500 }
W1 = { kind = "wire", ends = ["chassis", "tag"] }
SL1 = { kind = "selector", decks = [{ common = "chassis", throws = ["earth", "tag"] }, { common = "line 2", throws = ["a", "b"] }], positions = ["earthed", "not"], fixed = "earthed" }
`)
	c := newCircuit(t, set, Bench{})
	r := c.Examine(Options{Faults: 2})
	var found []string
	for _, x := range r.Points[0].FaultSets {
		var names []string
		for _, f := range x.Faults {
			names = append(names, fmt.Sprintf("%s %s", f.Part, f.Kind))
		}
		found = append(found, strings.Join(names, " + "))
	}
	for _, want := range []string{"C1 shorted + SL1 stuck", "C1 shorted + supply earth-lost"} {
		if !slices.Contains(found, want) {
			t.Errorf("the chassis is made live by %q, want %q among them", found, want)
		}
	}
	if r.Points[0].Depth != 2 {
		t.Errorf("depth %d, want 2", r.Points[0].Depth)
	}
}
