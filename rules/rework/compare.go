package rework

import (
	"cmp"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
)

// Item is a finding that a change cured, left or brought.
type Item struct {
	rules.Finding
	// Step is the step that cured or brought it, 0 where no step is known: with two whole sets. Where
	// what stood before it says nothing of the finding (no set, a lead of the cord off, metal so live
	// that nothing weaker is told), From is the first step that may have done it; else it is Step.
	Step, From int
	// Was is the signal word that a finding which is left had before.
	Was rules.Signal
	// Unseen tells that a finding is counted as left because the set is off the line in the end: nothing
	// is told of it then, and nothing cured it.
	Unseen bool
}

// PointChange is a touch point before and after; Before or After is nil where it is none then.
type PointChange struct {
	Node          string
	Before, After *analysis.PointResult
}

// Comparison is what a change does.
type Comparison struct {
	Plan          *plan.Plan // nil where two whole sets are compared
	Before, After *rules.Report
	// Cured are of the report before; Left and New of the report after. Each in its report's order, what
	// is Unseen, of the report before, behind the others of its signal word.
	Cured, Left, New []Item
	Points           []PointChange
	// Stages are the sets on the way, the first and the last not among them. From step Unlooked on, if
	// that is not 0, those on the way were not looked at: it would take long.
	Stages   []Stage
	Unlooked int
}

// Worst is the strongest signal among what is left or new, and whether there is any.
func (c *Comparison) Worst() (rules.Signal, bool) {
	worst, any := c.After.Worst()
	for _, i := range c.Left {
		worst, any = max(worst, i.Signal), true
	}
	return worst, any
}

// CutOff tells that the change takes the set off the line: a lead of the cord is off in the end, or
// nothing draws current from it that did before.
func (c *Comparison) CutOff() bool { return c.cut(c.After) }

func (c *Comparison) cut(r *rules.Report) bool {
	return cordOff(r.Case.Set) || c.Before.Fed() && !r.Fed()
}

// CompareSets examines two whole sets and compares them.
func CompareSets(before, after *netlist.Set) *Comparison {
	return Compare(check(before, analysis.DefaultFaults), check(after, analysis.DefaultFaults))
}

// Compare compares the reports of two whole sets.
func Compare(before, after *rules.Report) *Comparison {
	c := &Comparison{Before: before, After: after}
	c.sort([]*rules.Report{before, after}, []int{0, 0})
	c.comparePoints()
	return c
}

// sort tells what is cured, left and new. The reports are those of the stages that are sets, the
// first and the last among them; steps says how many steps were done at each.
func (c *Comparison) sort(reports []*rules.Report, steps []int) {
	last := len(reports) - 1
	cut := c.CutOff()
	var unseen []Item
	for _, f := range c.Before.Findings {
		if match(c.After.Findings, f) != nil {
			continue
		}
		if cut && !(isTouch(f.Rule.Name) && liveToo(c.After, f)) {
			unseen = append(unseen, unseenItem(f))
			continue
		}
		gone := last // the first stage from which on it does not stand, as far as can be told
		for k := last - 1; k > 0 && match(reports[k].Findings, f) == nil; k-- {
			if tellsLive(&f) && liveToo(reports[k], f) {
				break // live in another way
			}
			if !c.hidden(reports[k], f) {
				gone = k
			}
		}
		seen := gone - 1 // the last one that shows it
		for seen > 0 && match(reports[seen].Findings, f) == nil {
			seen--
		}
		c.Cured = append(c.Cured, Item{Finding: f, Step: steps[gone], From: after(steps, seen), Was: f.Signal})
	}
	for _, f := range c.After.Findings {
		if was := match(c.Before.Findings, f); was != nil {
			c.Left = append(c.Left, Item{Finding: f, Was: was.Signal})
			continue
		}
		shown, k := last, last-1 // the first stage from which on it stands, and the last without it
		for ; k > 0; k-- {
			if match(reports[k].Findings, f) != nil {
				shown = k
			} else if !c.hidden(reports[k], f) {
				break
			}
		}
		c.New = append(c.New, Item{Finding: f, Step: steps[shown], From: after(steps, k), Was: f.Signal})
	}
	c.Left = append(c.Left, unseen...)
	slices.SortStableFunc(c.Left, func(a, b Item) int { return cmp.Compare(b.Signal, a.Signal) })
}

// unseenItem is a finding that stood before and of which a set off the line tells nothing.
func unseenItem(f rules.Finding) Item {
	f.Message += "; not cured: in the end the set is off the line, where nothing is told of it"
	f.Remedy = "connect the set to both leads of the cord again, in the file or by a further step, and compare anew"
	return Item{Finding: f, Was: f.Signal, Unseen: true}
}

// after is the first step after a stage, 0 where no steps are known.
func after(steps []int, stage int) int {
	if steps[len(steps)-1] == 0 {
		return 0
	}
	return steps[stage] + 1
}

// match finds the finding of a report that is the same as f: the same rule, the same metal, the
// same foremost part. It is nil where there is none.
func match(findings []rules.Finding, f rules.Finding) *rules.Finding {
	var near *rules.Finding
	for i := range findings {
		g := &findings[i]
		switch {
		case g.Rule != f.Rule || !sameMetal(g.Nodes, f.Nodes):
		case slices.Equal(g.Nodes, f.Nodes) && slices.Equal(g.Parts, f.Parts):
			return g
		case near == nil && samePart(g, &f):
			near = g
		}
	}
	return near
}

// hidden tells whether a stage says nothing of a finding: the set is off the line then; or the metal
// is live, and weaker findings about it are not told.
func (c *Comparison) hidden(r *rules.Report, f rules.Finding) bool {
	return c.cut(r) || isTouch(f.Rule.Name) && liveToo(r, f)
}

// liveToo tells whether the metal of a finding is live at a stage, by whatever rule that is told. A
// step that only exchanges one way of being live for another cures nothing.
func liveToo(r *rules.Report, f rules.Finding) bool {
	return slices.ContainsFunc(r.Findings, func(g rules.Finding) bool { return tellsLive(&g) && sameMetal(g.Nodes, f.Nodes) })
}

// tellsLive tells whether a finding is of metal that is live with nothing failed.
func tellsLive(f *rules.Finding) bool {
	return slices.Contains(liveRules, f.Rule.Name) || f.Rule.Name == "touch-current" && f.Signal == rules.Danger
}

// sameMetal tells whether two findings speak of the same metal: one node in common, or none at all.
func sameMetal(a, b []string) bool {
	if len(a) == 0 || len(b) == 0 {
		return len(a) == len(b)
	}
	return slices.ContainsFunc(a, func(n string) bool { return slices.Contains(b, n) })
}

// aboutMetal are the rules that speak of a piece of metal, whatever parts lead there: there is one
// such finding a metal, and another part on the way makes it no other finding.
var aboutMetal = []string{"polarity-only", "hot-chassis", "live-through-load", "earthed-line", "touch-current", "behind-guard", "live-between"}

func samePart(a, b *rules.Finding) bool {
	if slices.Contains(aboutMetal, a.Rule.Name) {
		return true
	}
	if len(a.Parts) == 0 || len(b.Parts) == 0 {
		return len(a.Parts) == len(b.Parts)
	}
	if len(a.Nodes) == 0 {
		// One finding may tell of several parts alike: it is the same whichever of them comes foremost.
		return slices.Contains(a.Parts, b.Parts[0]) || slices.Contains(b.Parts, a.Parts[0])
	}
	return a.Parts[0] == b.Parts[0]
}

// comparePoints pairs the touch points before and after, those of the set as it was first.
func (c *Comparison) comparePoints() {
	before, after := c.Before.Case.Result, c.After.Case.Result
	for _, p := range before.Points {
		c.Points = append(c.Points, PointChange{p.Name, p, after.Point(p.Name)})
	}
	for _, p := range after.Points {
		if before.Point(p.Name) == nil {
			c.Points = append(c.Points, PointChange{p.Name, nil, p})
		}
	}
}
