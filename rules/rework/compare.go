package rework

import (
	"cmp"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
	"coldcheck/rules/rework/internal/examine"
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
	// Unseen says that a finding is counted as left because the set is off the line in the end: nothing
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
	// Stages are the sets on the way, the first and the last not among them. From step Unexamined on, if
	// that is not 0, those on the way were not looked at, for the work budget.
	Stages     []Stage
	Unexamined int
}

// Worst is the strongest signal among what is left or new, and whether there is any.
func (c *Comparison) Worst() (rules.Signal, bool) {
	worst, any := c.After.Worst()
	for _, i := range c.Left {
		worst, any = max(worst, i.Signal), true
	}
	return worst, any
}

// CutOff reports whether the change takes the set off the line: a lead of the cord is off in the end, or
// nothing draws current from it that did before.
func (c *Comparison) CutOff() bool { return c.cut(c.After) }

// OtherSet is the set that a plan's title names, where it is another than the one at hand, else "". A title
// names a set in front of its colon.
func (c *Comparison) OtherSet() string {
	if c.Plan == nil {
		return ""
	}
	named, _, ok := strings.Cut(c.Plan.Name, ":")
	own := strings.ToLower(c.Before.Case.Set.Name)
	if named = strings.TrimSpace(named); !ok || named == "" || own == "" || strings.Contains(own, strings.ToLower(named)) || strings.Contains(strings.ToLower(named), own) {
		return ""
	}
	return named
}

// cut reports whether a stage is off the line.
func (c *Comparison) cut(r *rules.Report) bool {
	return cordOff(r.Case.Set) || c.Before.Fed() && !r.Fed()
}

// CompareSets examines two whole sets and compares them.
func CompareSets(before, after *netlist.Set) *Comparison {
	return Compare(examine.Report(before, analysis.DefaultFaults), examine.Report(after, analysis.DefaultFaults))
}

// Compare compares the reports of two whole sets.
func Compare(before, after *rules.Report) *Comparison {
	c := &Comparison{Before: before, After: after}
	c.classify(history{reports: []*rules.Report{before, after}, steps: []int{0, 0}})
	c.comparePoints()
	return c
}

// history is what a change was seen to do: the reports of the stages that are sets, the first and the last
// among them, and how many steps were done at each, 0 at all where two whole sets are compared.
type history struct {
	reports []*rules.Report
	steps   []int
}

func (h history) last() int { return len(h.reports) - 1 }

// has reports whether a stage shows a finding.
func (h history) has(stage int, f rules.Finding) bool {
	return Match(h.reports[stage].Findings, f) != nil
}

// from is the first step after a stage, 0 where no steps are known.
func (h history) from(stage int) int {
	if h.steps[h.last()] == 0 {
		return 0
	}
	return h.steps[stage] + 1
}

// classify sorts the findings of both reports into cured, left and new.
func (c *Comparison) classify(h history) {
	var unseen []Item
	cut := c.CutOff()
	for _, f := range c.Before.Findings {
		switch {
		case h.has(h.last(), f):
		case cut && !(f.Rule.Touch() && liveToo(c.After, f)):
			unseen = append(unseen, unseenItem(f))
		default:
			c.Cured = append(c.Cured, c.cured(h, f))
		}
	}
	for _, f := range c.After.Findings {
		if was := Match(c.Before.Findings, f); was != nil {
			c.Left = append(c.Left, Item{Finding: f, Was: was.Signal})
		} else {
			c.New = append(c.New, c.brought(h, f))
		}
	}
	c.Left = append(c.Left, unseen...)
	slices.SortStableFunc(c.Left, func(a, b Item) int { return cmp.Compare(b.Signal, a.Signal) })
}

// cured says which steps cured a finding: from the last stage that shows it to the first from which on
// it does not stand, as far as can be told.
func (c *Comparison) cured(h history, f rules.Finding) Item {
	gone := h.last()
	for stage := gone - 1; stage > 0 && !h.has(stage, f); stage-- {
		if liveNow(&f) && liveToo(h.reports[stage], f) {
			break // live in another way
		}
		if !c.hidden(h.reports[stage], f) {
			gone = stage
		}
	}
	shown := gone - 1
	for shown > 0 && !h.has(shown, f) {
		shown--
	}
	return Item{Finding: f, Step: h.steps[gone], From: h.from(shown), Was: f.Signal}
}

// brought says which steps brought a finding: from the last stage that is known to be without it to the
// first from which on it stands.
func (c *Comparison) brought(h history, f rules.Finding) Item {
	shown := h.last()
	without := shown - 1
	for ; without > 0; without-- {
		if h.has(without, f) {
			shown = without
		} else if !c.hidden(h.reports[without], f) {
			break
		}
	}
	return Item{Finding: f, Step: h.steps[shown], From: h.from(without), Was: f.Signal}
}

// unseenItem is a finding that stood before and of which a set off the line tells nothing.
func unseenItem(f rules.Finding) Item {
	f.Message += "; not cured: in the end the set is off the line, where nothing is told of it"
	f.Remedy = "connect the set to both leads of the cord again, in the file or by a further step, and compare anew"
	return Item{Finding: f, Was: f.Signal, Unseen: true}
}

// hidden reports whether a stage says nothing of a finding: the set is off the line then; or the metal
// is live, and weaker findings about it are not told.
func (c *Comparison) hidden(r *rules.Report, f rules.Finding) bool {
	return c.cut(r) || f.Rule.Touch() && liveToo(r, f)
}

// liveToo reports whether the metal of a finding is live at a stage, by whatever rule that is told. A
// step that only exchanges one way of being live for another cures nothing.
func liveToo(r *rules.Report, f rules.Finding) bool {
	return slices.ContainsFunc(r.Findings, func(g rules.Finding) bool { return liveNow(&g) && sameMetal(g.Nodes, f.Nodes) })
}

// liveNow reports whether a finding is of metal that is live with nothing failed, by whatever rule.
func liveNow(f *rules.Finding) bool {
	return f.Rule.Live || f.Rule == rules.TouchCurrent && f.Signal == rules.Danger
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
