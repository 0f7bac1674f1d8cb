package analysis

import (
	"cmp"
	"slices"

	"coldcheck/netlist/settest"
)

// The brute-force search: every set of faults, every state, by the definition of depth, with no
// set left out because another was found; then the chains. Figures come from the twin's solver.

// bruteState is a state with what was read at each target.
type bruteState struct {
	plug      Polarity
	at        map[string]string
	rectifier string
	blown     []string
	away      int   // controls that are not at rest
	faults    []int // by place in the list
	cost      int
	readings  []Reading // by target
}

type bruteSearch struct {
	t       settest.TB
	w       *twin
	list    []twinFault
	names   []string // of the touch points
	guarded []bool
	guards  []int // by target: cost of its guards, 0 for none
	targets []bruteTarget
	limit   int
	most    int          // faults in a set
	states  []bruteState // of sets with no fault, and of cost 1 or less in at most two faults
	live    [][][]int    // by target
	marked  []int        // by target: least cost with the plug as marked
	cut     Count
}

// bruteTarget is a touch point against earth, b -1, or two pieces of metal, each by one of its points.
type bruteTarget struct{ a, b int }

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
	b := &bruteSearch{t: t, w: newTwin(c.Set, c.Bench), limit: limit, most: limit + 1}
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
		b.guards, b.guarded = append(b.guards, guard), append(b.guarded, p.Guard != "")
		b.targets = append(b.targets, bruteTarget{len(b.names) - 1, -1})
	}
	metal := b.pieces()
	for i, p := range metal {
		for _, q := range metal[i+1:] {
			b.targets = append(b.targets, bruteTarget{p, q})
			b.guards = append(b.guards, b.guards[p]+b.guards[q])
		}
	}
	b.live = make([][][]int, len(b.targets))
	for range b.targets {
		b.marked = append(b.marked, None)
	}
	return b
}

// pieces are the pieces of metal, each by that of its points that is touched most easily: points that
// conductors join in every state without faults are one. Between two are over 20 A where 0.1 V stands
// across nothing; that they are joined is seen by their being one row of the matrix.
func (b *bruteSearch) pieces() []int {
	var found [][]int
	together := func(i, j int) bool {
		one := true
		b.w.eachSetting(func(x condition) {
			n := b.w.build(x, twinMode{})
			one = one && n.root(b.w.nodes[b.names[i]]) == n.root(b.w.nodes[b.names[j]])
		})
		return one
	}
	for i := range b.names {
		k := slices.IndexFunc(found, func(piece []int) bool { return together(piece[0], i) })
		if k < 0 {
			found = append(found, []int{i})
		} else {
			found[k] = append(found[k], i)
		}
	}
	var first []int
	for _, piece := range found {
		first = append(first, slices.MinFunc(piece, func(i, j int) int {
			return cmp.Or(cmp.Compare(flag(b.guarded[i]), flag(b.guarded[j])), cmp.Compare(b.guards[i], b.guards[j]))
		}))
	}
	return first
}

// within reports whether a set is among those that are searched completely: at most K + 1 faults, or as
// many as were asked for.
func (b *bruteSearch) within(size, cost int) bool { return cost <= b.limit && size <= b.most }

func (b *bruteSearch) run() {
	b.w.eachFaults(b.most, func(faults []twinFault) {
		cost, members := 0, []int{}
		for _, f := range faults {
			cost += f.cost
			members = append(members, b.placeOf(f))
		}
		if b.within(len(faults), cost) {
			b.w.eachSetting(func(x condition) {
				x.faults = faults
				if !b.w.sideBySide(x) {
					b.state(x, members, cost)
				}
			})
		}
	})
	b.chains()
}

// sideBySide reports whether two faults of a state join the same rows of the matrix: they are told as one, since
// what two shorts side by side do that one does not is the work of the ohms that a short is taken to have.
func (w *twin) sideBySide(x condition) bool {
	n := w.build(condition{plug: x.plug, at: x.at}, twinMode{})
	rows := func(f twinFault) [2]int {
		a, b := n.root(w.nodes[f.short[0]]), n.root(w.nodes[f.short[1]])
		return [2]int{min(a, b), max(a, b)}
	}
	for i, f := range x.faults {
		for _, g := range x.faults[:i] {
			if f.short[0] != "" && g.short[0] != "" && !f.deck && !g.deck && rows(f) == rows(g) {
				return true
			}
		}
	}
	return false
}

// placeOf is a fault's place in the list.
func (b *bruteSearch) placeOf(f twinFault) int {
	return slices.IndexFunc(b.list, func(g twinFault) bool {
		return f.part == g.part && f.kind == g.kind && f.short == g.short && f.pole == g.pole && f.throw == g.throw
	})
}

// judged visits what is found in a state that is not cleared: as it stands, or else as it is solved once
// more. What is cleared then too is not judged.
func (b *bruteSearch) judged(x condition, visit func(x condition, found map[string]solved)) (cleared bool, states int) {
	found := b.w.all(b.t, x, b.names)
	if !found[""].cleared {
		visit(x, found)
		return false, len(found)
	}
	if again, ok := b.w.uncleared(b.t, x); ok {
		if found := b.w.all(b.t, again, b.names); !found[""].cleared {
			visit(again, found)
		}
	}
	return true, len(found)
}

func (b *bruteSearch) state(x condition, members []int, cost int) {
	cleared, states := b.judged(x, func(x condition, found map[string]solved) {
		for _, label := range append([]string{""}, b.w.labels(x)...) {
			s := bruteState{plug: x.plug, at: x.at, rectifier: label, blown: x.blown, away: b.w.away(x.at), faults: members, cost: cost}
			for i, target := range b.targets {
				r := found[label].reading(target.a, target.b)
				s.readings = append(s.readings, r)
				if !isLive(r) || cost+b.guards[i] > b.limit {
					continue
				}
				b.live[i] = append(b.live[i], members)
				if x.plug == AsMarked && (b.marked[i] == None || cost < b.marked[i]) {
					b.marked[i] = cost
				}
			}
			if len(members) == 0 || cost <= 1 && len(members) <= 2 {
				b.states = append(b.states, s)
			}
		}
	})
	if len(members) <= 1 {
		b.cut.Of += states
		if cleared {
			b.cut.States += states
		}
	}
}

// minimal are the sets that make a target live while no part of them does, as lists of places.
func (b *bruteSearch) minimal(k int) [][]int {
	sets := slices.Clone(b.live[k])
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
			cmp.Compare(flag(x.rectifier != ""), flag(y.rectifier != "")), cmp.Compare(flag(x.plug != AsMarked), flag(y.plug != AsMarked)),
			cmp.Compare(x.away, y.away))
	}), true
}

func noFault(s bruteState) bool { return len(s.faults) == 0 }

func anyState(bruteState) bool { return true }
