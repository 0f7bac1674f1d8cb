package analysis

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"testing"

	"coldcheck/netlist"

	"pgregory.net/rapid"
)

// The brute-force search: every set of faults, every state, by the definition of depth, with no
// set left out because another was found. Figures come from the twin's solver.

// bruteState is a state with what was read at each point, then at each pair of points.
type bruteState struct {
	way       Way
	at        map[string]string
	rectifier string
	faults    []int // by place in the list
	cost      int
	readings  []Reading
}

type bruteSearch struct {
	t      fataler
	w      *twin
	list   []twinFault
	names  []string
	guards []int // cost of each point's guard, 0 for none
	limit  int
	states []bruteState // of sets with no fault, and of cost 1 or less in at most two faults
	live   map[string][][]int
	marked []int // least cost with the plug as marked
	cut    Count
}

func exceeds(r Reading, acVolts, dcVolts, acAmps, dcAmps float64) bool {
	return r.VoltsOpen/acVolts+r.VoltsDC/dcVolts > 1 && r.Milliamps/acAmps+r.MilliampsDC/dcAmps > 1
}

func isLive(r Reading) bool { return exceeds(r, 50, 120, 5, 25) }

func bandOf(r Reading) int {
	switch {
	case isLive(r):
		return 2
	case exceeds(r, 30, 60, 0.5, 2):
		return 1
	}
	return 0
}

func severityOf(r Reading) float64 { return r.Milliamps/5 + r.MilliampsDC/25 }

func newBruteSearch(t fataler, c *Circuit, limit int) *bruteSearch {
	b := &bruteSearch{t: t, w: newTwin(c.Set, c.Bench), limit: limit, live: map[string][][]int{}}
	b.list = b.w.faults()
	for _, p := range c.Set.Nodes {
		if p.Touch == "" {
			continue
		}
		b.names = append(b.names, p.Name)
		guard := 0
		if p.Guard != "" && !p.GuardSuspect {
			guard = 1
		}
		b.guards = append(b.guards, guard)
		b.marked = append(b.marked, None)
	}
	return b
}

// within tells whether a set is among those that are searched: at most K + 1 faults, or four where
// they cost nothing.
func (b *bruteSearch) within(size, cost int) bool {
	return cost <= b.limit && (size <= b.limit+1 || size <= 4 && cost == 0)
}

func (b *bruteSearch) run() {
	place := map[string]int{}
	for i, f := range b.list {
		place[f.part+"\x00"+string(f.kind)+"\x00"+strings.Join(f.short[:], "\x00")+itoa(f.pole)] = i
	}
	b.w.eachFaults(max(4, b.limit+1), func(faults []twinFault) {
		cost, members := 0, []int{}
		for _, f := range faults {
			cost += f.cost
			members = append(members, place[f.part+"\x00"+string(f.kind)+"\x00"+strings.Join(f.short[:], "\x00")+itoa(f.pole)])
		}
		if b.within(len(faults), cost) {
			b.w.eachSetting(func(x condition) {
				x.faults = faults
				b.state(x, members, cost)
			})
		}
	})
}

func (b *bruteSearch) state(x condition, members []int, cost int) {
	found := b.w.all(b.t, x, b.names)
	if !x.without && len(members) <= 1 {
		b.cut.Of += len(found)
		if found[""].cleared {
			b.cut.States += len(found)
		}
	}
	if found[""].cleared {
		if !x.without && slices.ContainsFunc(b.w.set.Parts, func(p *netlist.Part) bool { return p.Condition == "failed" && len(failedShorts(p)) > 0 }) {
			x.without = true
			b.state(x, members, cost)
		}
		return
	}
	for _, label := range append([]string{""}, b.w.labels(x)...) {
		s := bruteState{way: x.way, at: x.at, rectifier: label, faults: members, cost: cost}
		for i, name := range b.names {
			r := found[label].reading(i, -1)
			s.readings = append(s.readings, r)
			if !isLive(r) || cost+b.guards[i] > b.limit {
				continue
			}
			b.live[name] = append(b.live[name], members)
			if x.way == AsMarked && (b.marked[i] == None || cost < b.marked[i]) {
				b.marked[i] = cost
			}
		}
		for i := range b.names {
			for j := i + 1; j < len(b.names); j++ {
				s.readings = append(s.readings, found[label].reading(i, j))
			}
		}
		if len(members) == 0 || cost <= 1 && len(members) <= 2 {
			b.states = append(b.states, s)
		}
	}
}

// minimal are the sets that make a point live while no part of them does, as lists of places.
func (b *bruteSearch) minimal(name string) [][]int {
	sets := slices.Clone(b.live[name])
	subset := func(x, y []int) bool {
		return !slices.ContainsFunc(x, func(f int) bool { return !slices.Contains(y, f) })
	}
	var least [][]int
	for _, x := range sets {
		if !slices.ContainsFunc(sets, func(y []int) bool { return len(y) < len(x) && subset(y, x) }) {
			least = append(least, x)
		}
	}
	slices.SortFunc(least, func(x, y []int) int { return slices.Compare(x, y) })
	return slices.CompactFunc(least, slices.Equal)
}

// worst is the worst state at a point or a pair; ok is false where there is none.
func (b *bruteSearch) worst(k int, only func(bruteState) bool) (bruteState, bool) {
	var kept []bruteState
	band, most := -1, 0.0
	for _, s := range b.states {
		if only(s) {
			band = max(band, bandOf(s.readings[k]))
		}
	}
	for _, s := range b.states {
		if only(s) && bandOf(s.readings[k]) == band {
			most = max(most, severityOf(s.readings[k]))
			kept = append(kept, s)
		}
	}
	kept = slices.DeleteFunc(kept, func(s bruteState) bool { return severityOf(s.readings[k]) < 0.99*most })
	if len(kept) == 0 {
		return bruteState{}, false
	}
	return slices.MinFunc(kept, func(x, y bruteState) int {
		return cmp.Or(cmp.Compare(x.cost, y.cost), cmp.Compare(len(x.faults), len(y.faults)),
			cmp.Compare(flag(x.rectifier != ""), flag(y.rectifier != "")), cmp.Compare(flag(x.way != AsMarked), flag(y.way != AsMarked)))
	}), true
}

func noFault(s bruteState) bool { return len(s.faults) == 0 }

func anyState(bruteState) bool { return true }

// TestDepthAgainstBruteForce: depth, depth as marked, minimal fault sets, worst states at points and
// hand to hand, and how many states were not judged.
func TestDepthAgainstBruteForce(t *testing.T) {
	for limit, times := range []int{1: 100, 2: 60, 3: 30} {
		if limit == 0 {
			continue
		}
		t.Run("K="+itoa(limit), func(t *testing.T) {
			checkTimes(t, times, func(t *rapid.T) {
				text := drawSet(t, limits{[2]int{2, 10 - limit}, 1, 1, true}).text()
				set := loadText(t, text)
				c := newCircuit(t, set, drawBench(t, set))
				if count := len(c.Faults); count > 42/limit {
					t.Skip("too many faults to try all of their sets")
				}
				compareDepth(t, c, limit, text)
			})
		})
	}
}

func compareDepth(t fataler, c *Circuit, limit int, text string) {
	t.Helper()
	b := newBruteSearch(t, c, limit)
	b.run()
	r := c.Examine(Options{Faults: limit})
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
					members = append(members, f.index)
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
	if got.State.Rectifier != want.rectifier || got.State.Plug != want.way || got.State.Cost() != want.cost || len(got.State.Faults) != len(want.faults) ||
		!agree(got.Reading, w, got.State.Rectifier != "") {
		b.t.Fatalf("%s: got %+v, want %+v %v %v\n%s", what, got, w, want, b.list, text)
	}
}

// TestTogetherAgainstTwin: all bare points joined as by one hand, in the worst normal state; a state
// is cleared as it stands without the hand.
func TestTogetherAgainstTwin(t *testing.T) {
	checkTimes(t, 60, func(t *rapid.T) {
		text := drawSet(t, limits{[2]int{2, 12}, 1, 1, true}).text()
		set := loadText(t, text)
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
			x.hand = bare
			found := b.w.all(t, x, bare[:1])
			for _, label := range append([]string{""}, b.w.labels(x)...) {
				b.states = append(b.states, bruteState{way: x.way, at: x.at, rectifier: label, readings: []Reading{found[label].reading(0, -1)}})
			}
		})
		want, ok := b.worst(0, anyState)
		if ok != (got != nil) {
			t.Fatalf("together: got %v, want one: %v\n%s", got, ok, text)
		}
		// The hand is a conductor from point to point and makes no node of them: each keeps its earth
		// leak, so the whole current is compared, not what stands on the leaks alone.
		if !ok || severityOf(want.readings[0]) < 1e-4 && got.Severity() < 1e-4 {
			return
		}
		w := want.readings[0]
		if math.Abs(got.Milliamps-w.Milliamps) > 1e-3*w.Milliamps+1e-3 || math.Abs(got.Severity()-severityOf(w)) > 1e-3*severityOf(w)+1e-2 ||
			got.State.Plug != want.way || got.State.Rectifier != want.rectifier {
			t.Fatalf("together: got %+v, want %+v %v\n%s", got, w, want, text)
		}
	})
}

// TestDepthOnLargerSets: the minimal sets and depths of sets of up to 18 parts, against every set of
// up to K + 1 faults read one state at a time.
func TestDepthOnLargerSets(t *testing.T) {
	const limit = 2
	checkTimes(t, 50, func(t *rapid.T) {
		text := drawSet(t, limits{[2]int{7, 18}, 1, 2, true}).text()
		set := loadText(t, text)
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
					if f := c.Faults[k]; compatible(members, f) && b.within(size, cost+f.Cost) {
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
				places = append(places, f.index)
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
