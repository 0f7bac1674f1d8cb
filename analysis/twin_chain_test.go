package analysis

import (
	"cmp"
	"slices"

	"coldcheck/netlist"
)

// twinEdge is what can pass current in a state without faults: fault is what must fail first, by its place
// in the list, -1 where it just passes.
type twinEdge struct {
	a, b  string
	fault int
}

// edges lists them, with one rectifier conducting, or all small diodes, or nothing.
func (b *bruteSearch) edges(x condition, label string) []twinEdge {
	var all []twinEdge
	add := func(fault int, ends ...string) { all = append(all, twinEdge{ends[0], ends[1], fault}) }
	for _, p := range b.w.set.Parts {
		for _, ends := range b.w.passes(p, x) {
			add(-1, ends[:]...)
		}
		switch d := p.Detail.(type) {
		case *netlist.Potentiometer:
			short := slices.IndexFunc(b.list, func(f twinFault) bool { return f.part == p.Name && f.kind == Shorted })
			for _, h := range halves(d, x.at[p.Name]) {
				if !h.turned && d.Ohms >= 10000 {
					add(short, h.a, h.b)
				}
			}
		case *netlist.Rectifier:
			if label == p.Name {
				add(-1, d.Anode, d.Cathode)
			}
		case *netlist.Tube:
			for _, ends := range conductingIn(p.Name, d, label) {
				add(-1, ends[:]...)
			}
		}
		if p.Condition == netlist.Failed {
			for _, ends := range failedShorts(p) {
				add(-1, ends[:]...)
			}
		}
	}
	for k, f := range b.list {
		if f.short[0] != "" && f.kind != Stuck {
			add(k, f.short[:]...)
		}
	}
	return all
}

// conductingIn is what of a tube is taken as conducting.
func conductingIn(name string, d *netlist.Tube, label string) [][2]string {
	var all [][2]string
	wired := sectionsOf(d)
	for _, s := range wired {
		if label == name && len(wired) == 1 || label == name+":"+itoa(s.Anode) {
			all = append(all, [2]string{d.Node(s.Anode), d.Node(s.Cathode)})
		}
	}
	if label == smallDiodes {
		for _, s := range smallOf(d) {
			all = append(all, [2]string{d.Node(s.Anode), d.Node(s.Cathode)})
		}
	}
	return all
}

// leastPaths are the faults on the path of least cost from a node to each, from it on: among equals the
// fewest faults, then those that stand first in the file. Every edge is relaxed until nothing changes.
func (b *bruteSearch) leastPaths(all []twinEdge, from string) map[string][]int {
	compare := func(x, y []int) int {
		return cmp.Or(cmp.Compare(b.costOf(x), b.costOf(y)), cmp.Compare(len(x), len(y)), slices.Compare(x, y))
	}
	best := map[string][]int{from: {}}
	for changed := true; changed; {
		changed = false
		for _, e := range all {
			for _, ends := range [][2]string{{e.a, e.b}, {e.b, e.a}} {
				path, ok := best[ends[0]]
				if !ok {
					continue
				}
				if e.fault >= 0 {
					path = append(slices.Clone(path), e.fault)
				}
				if old, ok := best[ends[1]]; !ok || compare(path, old) < 0 {
					best[ends[1]], changed = path, true
				}
			}
		}
	}
	return best
}

// costOf is what a set of faults costs, by places in the list.
func (b *bruteSearch) costOf(set []int) int {
	cost := 0
	for _, k := range set {
		cost += b.list[k].cost
	}
	return cost
}

// chains tries the safeguards of the least paths together, where they are more than the complete search
// goes to.
func (b *bruteSearch) chains() {
	tried := map[string]bool{}
	b.w.eachSetting(func(x condition) {
		for _, label := range append([]string{""}, b.w.labels(x)...) {
			all := b.edges(x, label)
			blades := []map[string][]int{b.leastPaths(all, b.w.plug.Hot), b.leastPaths(all, b.w.plug.Neutral)}
			for k, t := range b.targets {
				for _, chain := range b.candidates(t, blades) {
					key := itoa(k)
					for _, f := range chain {
						key += " " + itoa(f)
					}
					if len(chain) > b.most && b.costOf(chain)+b.guards[k] <= b.limit && !tried[key] {
						tried[key] = true
						b.try(k, chain)
					}
				}
			}
		}
	})
}

// candidates are the chains to a target: to a point from either blade; to two points those to either, and
// from one blade to the one together with from the other blade to the other.
func (b *bruteSearch) candidates(t bruteTarget, blades []map[string][]int) [][]int {
	var all [][]int
	for _, paths := range blades {
		all = append(all, paths[b.names[t.a]])
		if t.b >= 0 {
			all = append(all, paths[b.names[t.b]])
		}
	}
	for k := range blades {
		if t.b < 0 {
			break
		}
		one, ok := blades[k][b.names[t.a]]
		two, also := blades[1-k][b.names[t.b]]
		if ok && also {
			both := slices.Clone(one)
			for _, f := range two {
				if !slices.Contains(one, f) {
					both = append(both, f)
				}
			}
			all = append(all, both)
		}
	}
	return all
}

// try adds what is left of a chain that makes a target live, once all members that need not fail are
// dropped.
func (b *bruteSearch) try(k int, chain []int) {
	for _, markedAlone := range []bool{false, true} {
		if !b.makesLive(k, chain, markedAlone) {
			continue
		}
		kept := slices.Clone(chain)
		for before := 0; before != len(kept); {
			before = len(kept)
			for _, f := range slices.Clone(kept) {
				rest := slices.DeleteFunc(slices.Clone(kept), func(g int) bool { return g == f })
				if b.makesLive(k, rest, markedAlone) {
					kept = rest
				}
			}
		}
		cost := b.costOf(kept)
		if markedAlone {
			if b.marked[k] == None || cost < b.marked[k] {
				b.marked[k] = cost
			}
			continue
		}
		slices.Sort(kept)
		b.live[k] = append(b.live[k], kept)
	}
}

// makesLive reports whether some faults make a target live in any state, or in one with the plug as marked.
func (b *bruteSearch) makesLive(k int, set []int, markedAlone bool) bool {
	var faults []twinFault
	for _, f := range set {
		faults = append(faults, b.list[f])
	}
	live := false
	b.w.eachSetting(func(x condition) {
		if live || markedAlone && x.plug != AsMarked {
			return
		}
		x.faults = faults
		b.judged(x, func(x condition, found map[string]solved) {
			for _, label := range append([]string{""}, b.w.labels(x)...) {
				live = live || isLive(found[label].reading(b.targets[k].a, b.targets[k].b))
			}
		})
	})
	return live
}
