package analysis

import (
	"cmp"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

// The brute-force search: every set of faults, every state, by the definition of depth, with no
// set left out because another was found. Figures come from the twin's solver.

// bruteState is a state with what was read at each point, then at each pair of points.
type bruteState struct {
	plug      Polarity
	at        map[string]string
	rectifier string
	faults    []int // by place in the list
	cost      int
	readings  []Reading
}

type bruteSearch struct {
	t      settest.TB
	w      *twin
	list   []twinFault
	names  []string
	guards []int // cost of each point's guard, 0 for none
	limit  int
	most   int          // faults in a set that costs anything
	states []bruteState // of sets with no fault, and of cost 1 or less in at most two faults
	live   map[string][][]int
	marked []int // least cost with the plug as marked
	cut    Count
}

func exceeds(r Reading, acVolts, dcVolts, acAmps, dcAmps float64) bool {
	return r.VoltsOpen/acVolts+r.VoltsDC/dcVolts > 1 && r.Milliamps/acAmps+r.MilliampsDC/dcAmps > 1
}

func isLive(r Reading) bool { return exceeds(r, 50, 120, 5, 25) }

func classOf(r Reading) int {
	switch {
	case isLive(r):
		return 2
	case exceeds(r, 30, 60, 0.5, 2):
		return 1
	}
	return 0
}

func severityOf(r Reading) float64 { return r.Milliamps/5 + r.MilliampsDC/25 }

func newBruteSearch(t settest.TB, c *Circuit, limit int) *bruteSearch {
	b := &bruteSearch{t: t, w: newTwin(c.Set, c.Bench), limit: limit, most: limit + 1, live: map[string][][]int{}}
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

// within reports whether a set is among those that are searched: at most K + 1 faults, or as many as
// were asked for, or four where they cost nothing.
func (b *bruteSearch) within(size, cost int) bool {
	return cost <= b.limit && (size <= b.most || size <= 4 && cost == 0)
}

func (b *bruteSearch) run() {
	place := map[string]int{}
	for i, f := range b.list {
		place[f.part+"\x00"+string(f.kind)+"\x00"+strings.Join(f.short[:], "\x00")+itoa(f.pole)] = i
	}
	b.w.eachFaults(max(4, b.most), func(faults []twinFault) {
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
		s := bruteState{plug: x.plug, at: x.at, rectifier: label, faults: members, cost: cost}
		for i, name := range b.names {
			r := found[label].reading(i, -1)
			s.readings = append(s.readings, r)
			if !isLive(r) || cost+b.guards[i] > b.limit {
				continue
			}
			b.live[name] = append(b.live[name], members)
			if x.plug == AsMarked && (b.marked[i] == None || cost < b.marked[i]) {
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
	class, most := -1, 0.0
	for _, s := range b.states {
		if only(s) {
			class = max(class, classOf(s.readings[k]))
		}
	}
	for _, s := range b.states {
		if only(s) && classOf(s.readings[k]) == class {
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
			cmp.Compare(flag(x.rectifier != ""), flag(y.rectifier != "")), cmp.Compare(flag(x.plug != AsMarked), flag(y.plug != AsMarked)))
	}), true
}

func noFault(s bruteState) bool { return len(s.faults) == 0 }

func anyState(bruteState) bool { return true }
