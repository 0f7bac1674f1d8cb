package analysis

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

// TestDepthAgainstBruteForce: depth, depth as marked, minimal fault sets, worst states at points and
// hand to hand, and how many states were not judged.
func TestDepthAgainstBruteForce(t *testing.T) {
	for _, c := range []struct{ limit, most, times int }{{1, 2, 100}, {1, 3, 100}, {2, 3, 60}, {3, 4, 30}} {
		limit, most := c.limit, c.most
		t.Run("K="+itoa(limit)+"/together="+itoa(most), func(t *testing.T) {
			settest.Check(t, c.times, func(t *rapid.T) {
				text := settest.Draw(t, settest.Limits{Parts: [2]int{2, 10 - limit}, Controls: 1, Sections: 1, Failed: true}).Text()
				set := settest.Load(t, text)
				c := newCircuit(t, set, drawBench(t, set))
				if count := len(c.Faults); count > 42/limit {
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
	for k, p := range r.Points {
		name := b.names[k]
		b.compareWorst(name+" normal", p.Normal, k, noFault, text)
		b.compareWorst(name+" one fault", p.OneFault, k, anyState, text)
	}
	for k, p := range r.Between {
		at := len(b.names) + k
		b.compareWorst(p.A.Name+" to "+p.B.Name+" normal", p.Normal, at, noFault, text)
		b.compareWorst(p.A.Name+" to "+p.B.Name+" one fault", p.OneFault, at, anyState, text)
	}
}

// compareSets holds each point's minimal sets and depths to those that were found here.
func (b *bruteSearch) compareSets(r *Result, text string) {
	b.t.Helper()
	for k, p := range r.Points {
		name := b.names[k]
		var sets [][]int
		for _, s := range p.FaultSets {
			var members []int
			cost := 0
			for _, f := range s.Faults {
				cost += f.Cost
				if f.Kind != GuardOff {
					members = append(members, f.Index)
				}
			}
			if cost != s.Cost || p.GuardFault != nil && s.Faults[0] != p.GuardFault {
				b.t.Fatalf("%s: the set %v has cost %d\n%s", name, s.Faults, s.Cost, text)
			}
			sets = append(sets, members)
		}
		if !slices.IsSortedFunc(p.FaultSets, func(x, y FaultSet) int {
			return cmp.Or(cmp.Compare(x.Cost, y.Cost), cmp.Compare(len(x.Faults), len(y.Faults)))
		}) {
			b.t.Fatalf("%s: %v is not in order of cost and number", name, p.FaultSets)
		}
		slices.SortFunc(sets, func(x, y []int) int { return slices.Compare(x, y) })
		want := b.minimal(name)
		if !slices.EqualFunc(sets, want, slices.Equal) {
			b.t.Fatalf("%s %v: fault sets %v, want %v of %v\n%s", name, r.Circuit.Bench, sets, want, r.Circuit.Faults, text)
		}
		depth, asMarked := b.depths(k, want)
		if p.Depth != depth || p.DepthAsMarked != asMarked {
			b.t.Fatalf("%s: depth %d, as marked %d; want %d, %d\n%s", name, p.Depth, p.DepthAsMarked, depth, asMarked, text)
		}
	}
}

// depths are the depth and the depth as marked of a point, None where over the limit.
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
		!agree(got.Reading, w, got.State.Rectifier != "") {
		b.t.Fatalf("%s: got %+v, want %+v %v %v\n%s", what, got, w, want, b.list, text)
	}
}

// TestTogetherAgainstTwin: all bare points joined as by one hand, in the worst normal state; a state
// is cleared as it stands without the hand.
func TestTogetherAgainstTwin(t *testing.T) {
	settest.Check(t, 60, func(t *rapid.T) {
		text := settest.Draw(t, settest.Limits{Parts: [2]int{2, 12}, Controls: 1, Sections: 1, Failed: true}).Text()
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
		failed := slices.ContainsFunc(set.Parts, func(p *netlist.Part) bool { return p.Condition == netlist.Failed && len(failedShorts(p)) > 0 })
		b.w.eachSetting(func(x condition) {
			if b.w.all(t, x, nil)[""].cleared {
				x.without = true
				if !failed || b.w.all(t, x, nil)[""].cleared {
					return
				}
			}
			x.joined = bare
			found := b.w.all(t, x, bare[:1])
			for _, label := range append([]string{""}, b.w.labels(x)...) {
				b.states = append(b.states, bruteState{plug: x.plug, at: x.at, rectifier: label, readings: []Reading{found[label].reading(0, -1)}})
			}
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
	settest.Check(t, 50, func(t *rapid.T) {
		text := settest.Draw(t, settest.Limits{Parts: [2]int{7, 18}, Controls: 1, Sections: 2, Failed: true}).Text()
		set := settest.Load(t, text)
		c := newCircuit(t, set, drawBench(t, set))
		if len(c.Faults) > 40 {
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
			for _, row := range c.Judged(members...) {
				for i, name := range b.names {
					if row.Cleared || !isLive(row.Readings[i]) || cost+b.guards[i] > limit {
						continue
					}
					b.live[name] = append(b.live[name], places)
					if row.State.Plug == AsMarked && (b.marked[i] == None || cost < b.marked[i]) {
						b.marked[i] = cost
					}
				}
			}
		}
		for ; size <= 4; size++ {
			choose(size, 0, 0)
		}
		b.compareSets(c.Examine(Options{Faults: limit}), text)
	})
}

// TestFuseInTheEarthLead: open, it leaves the chassis to a broken insulation that it would have
// cleared; the fuse and the insulation are one set, the earth contact and the insulation another.
func TestFuseInTheEarthLead(t *testing.T) {
	const text = `PL1 = { kind = "plug", style = "grounding", hot = "L", neutral = "N", earth = "strap" }
F1 = { kind = "fuse", ends = ["chassis", "strap"] }
S1 = { kind = "switch", ends = ["L", "N"] }
R1 = { kind = "resistor", ends = ["L", "N"], value = 22, frame = "chassis", frame_insulation = "basic" }`
	c := circuitOf(t, text, "chassis", "strap")
	compareDepth(t, c, 2, 3, text)
	for _, node := range []string{"chassis", "strap"} {
		want := map[string]int{"chassis": 4, "strap": 2}[node]
		if p := c.Examine(Options{Faults: 2}).Point(node); p.Depth != 2 || len(p.FaultSets) != want {
			t.Errorf("%s: depth %d by %v; want 2 by %d sets", node, p.Depth, p.FaultSets, want)
		}
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
