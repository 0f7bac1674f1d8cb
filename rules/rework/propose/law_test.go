package propose

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/rework/internal/examine"
)

// The law by which a plan brings nothing nearer to the line, by plain means: every set of few faults of cost 1
// or less is put into every state, and what is read is compared. Nothing is pruned, and no depth of the search's
// is asked.

// lawFaults is how many faults there are at most in a set that is told of one failure, lawWorst in one of which
// the current is told.
const (
	lawFaults = analysis.DefaultFaults + 1
	lawWorst  = 2
)

// stands is how a point, or a pair of points, stands: the least cost at which it is live, with the plug as marked
// too, noCost where none is 1 or less, and the worst currents.
type stands struct {
	depth, marked int
	normal, one   analysis.Reading
}

const noCost = 99

// standing reads every point of a set, and pairs of them, under two names.
func standing(set *netlist.Set, pairs [][2]string) map[[2]string]*stands {
	c := examine.Circuit(set)
	defer c.Forget()
	all := map[[2]string]*stands{}
	guards, at := map[string]int{}, map[string]int{}
	for i, p := range c.Points {
		at[p.Name] = i
		if p.Guard != "" && !p.GuardSuspect {
			guards[p.Name] = 1
		}
		all[[2]string{p.Name}] = &stands{depth: noCost, marked: noCost}
	}
	var places [][2]int
	for _, p := range pairs {
		all[p] = &stands{depth: noCost, marked: noCost}
		places = append(places, [2]int{at[p[0]], at[p[1]]})
	}
	eachFewFaults(c.Faults, func(faults []*analysis.Fault, cost int) {
		for _, row := range c.Judged(faults...) {
			for i, p := range c.Points {
				if !row.Cleared {
					all[[2]string{p.Name}].add(row.Readings[i], len(faults), cost, guards[p.Name], row.State.Plug == analysis.AsMarked)
				}
			}
		}
		for k, w := range c.WorstsBetween(places, faults...) {
			if w != nil {
				all[pairs[k]].add(w.Reading, len(faults), cost, guards[pairs[k][0]]+guards[pairs[k][1]], false)
			}
		}
	})
	_, plug := set.Plug()
	for _, s := range all {
		reversed := s.depth
		if plug.Style != "plain" {
			reversed++
		}
		s.marked = min(s.marked, reversed)
		for _, n := range []*int{&s.depth, &s.marked} {
			if *n > examine.OneFailure {
				*n = noCost
			}
		}
	}
	return all
}

// add takes in what is read in one state, with so many faults of such a cost behind guards of such a cost.
func (s *stands) add(r analysis.Reading, faults, cost, guards int, marked bool) {
	if r.Class() == analysis.Live {
		s.depth = min(s.depth, cost+guards)
		if marked {
			s.marked = min(s.marked, cost+guards)
		}
	}
	worse := func(was analysis.Reading) bool {
		return r.Class() > was.Class() || r.Class() == was.Class() && r.Severity() > was.Severity()
	}
	if faults == 0 && worse(s.normal) {
		s.normal = r
	}
	if faults <= lawWorst && worse(s.one) {
		s.one = r
	}
}

// eachFewFaults visits every set of few faults of cost 1 or less, guards aside.
func eachFewFaults(faults []*analysis.Fault, visit func([]*analysis.Fault, int)) {
	var extend func(set []*analysis.Fault, from, cost int)
	extend = func(set []*analysis.Fault, from, cost int) {
		visit(set, cost)
		for i := from; i < len(faults) && len(set) < lawFaults; i++ {
			if f := faults[i]; f.Kind != analysis.GuardOff && cost+f.Cost <= examine.OneFailure {
				extend(append(slices.Clone(set), f), i+1, cost+f.Cost)
			}
		}
	}
	extend(nil, 0, 0)
}

// law is a set as it is, to hold what is made of it against.
type law struct {
	pairs [][2]string
	was   map[[2]string]*stands
}

func lawOf(set *netlist.Set) *law {
	pairs := pairsOf(set, nil)
	return &law{pairs, standing(set, pairs)}
}

// broken tells what a change brings nearer to the line, or lets pass more current: "" where nothing.
func (l *law) broken(after *netlist.Set) string {
	passes := func(was, is analysis.Reading) bool {
		over := func(was, is float64) bool { return is > 1.02*was && is > was+0.02 }
		return over(was.Milliamps, is.Milliamps) || over(was.MilliampsDC, is.MilliampsDC)
	}
	for name, is := range standing(after, pairsOf(after, l.pairs)) {
		was := l.was[name]
		if was != nil && (is.depth < was.depth || name[1] == "" && is.marked < was.marked || passes(was.normal, is.normal) ||
			is.depth == was.depth && is.one.Class() >= analysis.Startles && passes(was.one, is.one)) {
			return name[0] + " " + name[1]
		}
	}
	return ""
}

// pairsOf are the pairs of pieces of metal of a set, of those given where there are any, each by its points.
func pairsOf(set *netlist.Set, among [][2]string) (pairs [][2]string) {
	c := examine.Circuit(set)
	defer c.Forget()
	for _, p := range c.Examine(analysis.Options{Faults: 0}).Between {
		pair := [2]string{p.A.Name, p.B.Name}
		switch {
		case among == nil || slices.Contains(among, pair):
			pairs = append(pairs, pair)
		case slices.Contains(among, [2]string{pair[1], pair[0]}):
			pairs = append(pairs, [2]string{pair[1], pair[0]})
		}
	}
	return pairs
}
