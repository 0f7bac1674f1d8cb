package propose

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/rework/internal/examine"
)

// findRemedies finds, for each open finding of a candidate, the remedies of the list that bear on it.
func (s *search) findRemedies(c *candidate, report *rules.Report) {
	c.all = s.remediesFor(c, report)
	for i := range c.open {
		o := &c.open[i]
		for _, r := range c.all {
			if bears(r, &o.finding, report) {
				o.remedies = append(o.remedies, r)
			}
		}
	}
}

// scope is what the open findings of a candidate speak of, without repeats.
type scope struct {
	live, touch  bool
	parts, nodes []string
}

func scopeOf(c *candidate, report *rules.Report) scope {
	var out scope
	for i := range c.open {
		f := &c.open[i].finding
		out.live = out.live || f.Rule.Live
		out.touch = out.touch || f.Rule.Touch()
		out.nodes = addNew(out.nodes, f.Nodes...)
		out.parts = addNew(out.parts, f.Parts...)
	}
	if out.touch {
		for _, p := range report.Case.Result.Points {
			out.parts = addNew(out.parts, failing(c.set, p)...)
		}
	}
	return out
}

// failing are the parts of which a failure makes a touch point live, with none or one that costs.
func failing(set *netlist.Set, p *analysis.PointResult) []string {
	var parts []string
	for _, fs := range p.FaultSets {
		for _, f := range fs.Faults {
			if fs.Cost <= examine.OneFailure && set.Part(f.Part) != nil {
				parts = append(parts, f.Part)
			}
		}
	}
	return parts
}

func addNew(names []string, more ...string) []string {
	for _, name := range more {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

// remediesFor is the list of remedies for a set as it stands.
func (s *search) remediesFor(c *candidate, report *rules.Report) []*remedy {
	speaks := scopeOf(c, report)
	var all []*remedy
	if speaks.touch {
		all = append(all, groundingCord())
	}
	if !isolates(s.set) {
		all = append(all, isolatingTransformer(s.amps, s.draws))
	}
	for _, name := range speaks.parts {
		all = append(all, s.partRemedies(c.set, name)...)
	}
	if speaks.touch {
		all = append(all, metalRemedies(c.set, speaks.nodes)...)
	}
	if speaks.live {
		for _, m := range report.Case.Metals {
			if node := m.Node(); slices.Contains(speaks.nodes, node) && !coupled(m) {
				all = append(all, liftBMinus(node, false), liftBMinus(node, true))
			}
		}
	}
	if len(c.open) > 0 {
		if !c.set.BothHot() {
			all = append(all, switchInHot(s.amps))
		}
		all = append(all, switchInBoth(s.amps))
	}
	return all
}

// coupled reports whether metal is terminals alone that a signal passes: B-minus is nowhere on it, and what
// it lacks is a coupling.
func coupled(m *rules.Metal) bool {
	return !slices.ContainsFunc(m.Points, func(p *analysis.PointResult) bool { return !netlist.Coupled(p.Touch) })
}

// metalRemedies are the remedies about touch points among those named.
func metalRemedies(set *netlist.Set, nodes []string) []*remedy {
	var all []*remedy
	for _, n := range set.TouchPoints() {
		if !slices.Contains(nodes, n.Name) {
			continue
		}
		if coverable(n) && (n.Guard == "" || n.GuardSuspect) {
			all = append(all, fitGuard(n))
		}
		if netlist.Coupled(n.Touch) {
			all = append(all, coupleByCapacitor(n))
		}
	}
	return all
}

// bears reports whether a remedy can have a part in curing a finding. It errs on the side of yes: what
// it lets out, no plan of the list needs for that finding. A remedy of the whole set always bears.
func bears(r *remedy, f *rules.Finding, report *rules.Report) bool {
	switch {
	case f.Rule == rules.ReversedElectrolytic:
		return false // what cures it is to turn it round, which is not in the list
	case f.Rule.Stress:
		return r.part != "" && slices.Contains(f.Parts, r.part)
	case r.whole:
		return true
	case r.rank == rankGuard || r.rank == rankCouple:
		return f.Rule.Touch() && slices.Contains(f.Nodes, r.nodes[0])
	case slices.Contains(f.Parts, r.part):
		return true
	}
	return f.Rule.Current || f.Rule.Failure != rules.NoFailure && failsWith(report, f, r.part)
}

// failsWith reports whether a part is in a fault set together with the one that a finding is named
// after.
func failsWith(report *rules.Report, f *rules.Finding, part string) bool {
	if len(f.Parts) == 0 {
		return false
	}
	for _, node := range f.Nodes {
		p := report.Case.Result.Point(node)
		if p == nil {
			continue
		}
		for _, fs := range p.FaultSets {
			if fs.Cost <= examine.OneFailure && hasFault(fs, part) && hasFault(fs, f.Parts[0]) {
				return true
			}
		}
	}
	return false
}

func hasFault(fs analysis.FaultSet, part string) bool {
	return slices.ContainsFunc(fs.Faults, func(f *analysis.Fault) bool { return f.Part == part })
}
