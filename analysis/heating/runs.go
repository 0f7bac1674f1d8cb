package heating

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// Run is some tubes whose heaters are fed as one: in series, or side by side on one supply.
type Run struct {
	Tubes  []*netlist.Part
	Series bool   // one after the other, with no branch
	rails  [2]int // where all stand side by side on two conductors: these, by group
	inner  bool   // they meet at points that are no supply rail: a string, or strings that branch
}

// Rated is the sum of the heaters' rated volts.
func (r *Run) Rated() float64 {
	sum := 0.0
	for _, p := range r.Tubes {
		sum += p.Detail.(*netlist.Tube).Type.Heater.Volts
	}
	return sum
}

// heaterEnds are the wired nodes of a tube's heater pins, false where fewer than two are wired.
func heaterEnds(p *netlist.Part) (ends [2]string, ok bool) {
	t, is := p.Detail.(*netlist.Tube)
	if !is || t.Type.Heater == nil {
		return ends, false
	}
	ends = [2]string{t.Node(t.Type.Heater.Pins[0]), t.Node(t.Type.Heater.Pins[1])}
	return ends, ends[0] != "" && ends[1] != "" && ends[0] != ends[1]
}

// runsOf gathers the tubes of a set into runs, by the groups of nodes that conductors join. Heaters that meet at a point which is no supply rail are
// in series; those between two rails are side by side.
func runsOf(c *analysis.Circuit, group map[string]int) []*Run {
	rail := railsOf(c, group)
	var runs []*Run
	at := map[int]*Run{}         // by inner group
	byRails := map[[2]int]*Run{} // of those side by side
	place := map[*netlist.Part]int{}
	for i, p := range c.Set.Parts {
		place[p] = i
		ends, ok := heaterEnds(p)
		if !ok {
			continue
		}
		a, b := group[ends[0]], group[ends[1]]
		if a == b {
			continue
		}
		if rail[a] && rail[b] {
			key := [2]int{min(a, b), max(a, b)}
			if byRails[key] == nil {
				byRails[key] = &Run{rails: key}
				runs = append(runs, byRails[key])
			}
			byRails[key].Tubes = append(byRails[key].Tubes, p)
			continue
		}
		run := &Run{inner: true}
		runs = append(runs, run)
		for _, g := range []int{a, b} {
			if rail[g] || at[g] == run {
				continue
			}
			if old := at[g]; old != nil {
				run.Tubes = append(run.Tubes, old.Tubes...)
				runs = slices.DeleteFunc(runs, func(r *Run) bool { return r == old })
				for key, r := range at {
					if r == old {
						at[key] = run
					}
				}
			}
			at[g] = run
		}
		run.Tubes = append(run.Tubes, p)
	}
	for _, r := range runs {
		slices.SortFunc(r.Tubes, func(p, q *netlist.Part) int { return place[p] - place[q] })
		r.Series = r.inner && !r.branches(rail, group)
	}
	return runs
}

// branches reports whether more than two heaters meet at a point that is no rail, or the heaters
// close on themselves.
func (r *Run) branches(rail map[int]bool, group map[string]int) bool {
	meets := map[int]int{}
	loose := false
	for _, p := range r.Tubes {
		ends, _ := heaterEnds(p)
		for _, end := range ends {
			loose = loose || rail[group[end]]
			meets[group[end]]++
		}
	}
	for g, n := range meets {
		if rail[g] {
			continue
		}
		if n > 2 {
			return true
		}
		loose = loose || n == 1
	}
	return !loose
}

// railsOf are the conductors that feed things side by side: both blades, the ends of coupled windings
// and of batteries.
func railsOf(c *analysis.Circuit, group map[string]int) map[int]bool {
	plug := c.Plug
	rail := map[int]bool{group[plug.Hot]: true, group[plug.Neutral]: true}
	for _, p := range c.Set.Parts {
		switch d := p.Detail.(type) {
		case *netlist.Battery:
			rail[group[d.Positive]], rail[group[d.Negative]] = true, true
		case *netlist.Transformer:
			for _, w := range d.Windings {
				if d.Coupled {
					rail[group[w.Start]], rail[group[w.End]] = true, true
				}
			}
		}
	}
	return rail
}
