package rework

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/rules"
)

// liveRules are those of metal that is live with nothing failed.
var liveRules = []string{"polarity-only", "hot-chassis", "live-through-load", "earthed-line", "line-short", "behind-guard"}

// soleRules are those of one failure.
var soleRules = []string{"one-capacitor", "one-insulation", "one-resistor", "one-fault"}

// partRules are those that a part answers for by itself, wherever the line comes from.
var partRules = []string{"over-rating", "leaky-part"}

// currentRules are those of current through good parts.
var currentRules = []string{"touch-current", "live-between", "earth-current"}

// offer finds, for each open finding of a candidate, the edits of the list that bear on it.
func (s *search) offer(c *candidate, report *rules.Report) {
	c.all = s.editsFor(c, report)
	for i := range c.open {
		o := &c.open[i]
		for _, e := range c.all {
			if bears(e, &o.finding, report) {
				o.edits = append(o.edits, e)
			}
		}
	}
}

// editsFor is the list of edits for a set as it stands.
func (s *search) editsFor(c *candidate, report *rules.Report) []*Edit {
	set := c.set
	var all []*Edit
	live, touch := false, false
	var parts []string
	addPart := func(name string) {
		if !slices.Contains(parts, name) {
			parts = append(parts, name)
		}
	}
	var nodes []string
	for i := range c.open {
		f := &c.open[i].finding
		name := f.Rule.Name
		live = live || slices.Contains(liveRules, name)
		touch = touch || isTouch(name)
		for _, n := range f.Nodes {
			if !slices.Contains(nodes, n) {
				nodes = append(nodes, n)
			}
		}
		for _, p := range f.Parts {
			addPart(p)
		}
	}
	if touch {
		all = append(all, earthEdit())
		for _, p := range report.Case.Result.Points {
			for _, fs := range p.FaultSets {
				for _, f := range fs.Faults {
					if fs.Cost <= searchFaults && set.Part(f.Part) != nil {
						addPart(f.Part)
					}
				}
			}
		}
	}
	all = append(all, transformerEdit(s.amps))
	for _, name := range parts {
		all = append(all, s.partEdits(set, name)...)
	}
	for _, n := range set.TouchPoints() {
		if touch && slices.Contains(nodes, n.Name) {
			if coverable(n) && (n.Guard == "" || n.GuardSuspect) {
				all = append(all, guardEdit(n))
			}
			if n.Touch == "antenna" || n.Touch == "ground" {
				all = append(all, coupleEdit(n))
			}
		}
	}
	if live {
		for _, m := range report.Case.Metals {
			if node := m.Node(); slices.Contains(nodes, node) {
				all = append(all, liftEdit(node, false), liftEdit(node, true))
			}
		}
	}
	if len(c.open) > 0 {
		all = append(all, hotLegEdit(s.amps), bothLegsEdit(s.amps))
	}
	return all
}

func isTouch(rule string) bool {
	return slices.Contains(liveRules, rule) || slices.Contains(soleRules, rule) || slices.Contains(currentRules, rule)
}

// bears tells whether an edit can have a part in curing a finding. It errs on the side of yes: what
// it lets out, no plan of the list needs for that finding. An edit of the whole set always bears.
func bears(e *Edit, f *rules.Finding, report *rules.Report) bool {
	name := f.Rule.Name
	switch {
	case name == "reversed-electrolytic":
		return false // the remedy is to turn it round, which is no edit of the list
	case slices.Contains(partRules, name):
		return e.part != "" && slices.Contains(f.Parts, e.part)
	case e.whole:
		return true
	case e.rank == rankGuard || e.rank == rankCouple:
		return isTouch(name) && slices.Contains(f.Nodes, e.nodes[0])
	case slices.Contains(f.Parts, e.part):
		return true
	}
	return slices.Contains(currentRules, name) || slices.Contains(soleRules, name) && inSets(report, f, e.part)
}

// inSets tells whether a part is in a set of faults together with the one that a finding is named
// after.
func inSets(report *rules.Report, f *rules.Finding, part string) bool {
	if len(f.Parts) == 0 {
		return false
	}
	for _, node := range f.Nodes {
		p := report.Case.Result.Point(node)
		if p == nil {
			continue
		}
		for _, fs := range p.FaultSets {
			if fs.Cost <= searchFaults && hasFault(fs, part) && hasFault(fs, f.Parts[0]) {
				return true
			}
		}
	}
	return false
}

func hasFault(fs analysis.FaultSet, part string) bool {
	return slices.ContainsFunc(fs.Faults, func(f *analysis.Fault) bool { return f.Part == part })
}
