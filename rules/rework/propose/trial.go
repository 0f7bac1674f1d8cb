package propose

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis/budget"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
	"coldcheck/rules/rework"
	"coldcheck/rules/rework/internal/examine"
)

// No advice that was not tried: each remedy for a finding is carried out on a copy of the set, and the
// copy is looked at like any set. A remedy holds where the finding is gone, nothing of WARNING or more is
// new, and no metal has come nearer to the line.

// mostTrialBytes is how many bytes the equations of a set may take for remedies to be tried on copies of
// it: each copy takes as much again, beside those of the set itself.
const mostTrialBytes = 24 << 20

// mostTried is how many remedies are tried for one finding.
const mostTried = 8

// trial is the remedies of one finding, and how far they were tried.
type trial struct {
	finding  *rules.Finding
	remedies []*remedy
	next     int
	held     *remedy
}

// TryRemedies tries the remedies of a report's findings of WARNING and more, and has each finding tell
// the first that holds, with its plan, or that none does. Within the work budget: what is left untried
// keeps its rule's usual remedy.
func TryRemedies(report *rules.Report) {
	if report.Case.Circuit.Bytes() > mostTrialBytes {
		return
	}
	x := newTrials(report)
	for {
		round := x.next()
		if len(round) == 0 {
			break
		}
		if !x.left.Take(x.work * budget.Count(len(round))) {
			return
		}
		found := make([]*outcome, len(round))
		examine.SideBySide(len(round), x.atOnce, func(i int) { found[i] = x.try(report, round[i]) })
		for i, r := range round {
			x.outcomes[r.key] = found[i]
		}
		if !x.confirm() {
			return
		}
	}
	for _, t := range x.all {
		x.tell(t)
	}
}

// trials are those of a report.
type trials struct {
	*search
	report   *rules.Report
	faults   int // K of the report
	all      []*trial
	outcomes map[string]*outcome // by the key of the remedy
	left     *budget.Budget
	// work is what it takes to examine a copy for one failure, and full for as many as the report.
	work, full budget.Count
}

func newTrials(report *rules.Report) *trials {
	set := report.Case.Set
	x := &trials{search: newSearch(set, 1), report: report, faults: report.Case.Result.Options.Faults, outcomes: map[string]*outcome{}, left: budget.New(budget.Trials)}
	root := &candidate{set: set}
	x.judge(root, report)
	x.list(root)
	circuit := examine.Circuit(set)
	x.work, x.full = examine.Work(circuit), examine.WorkOf(circuit, x.faults)
	return x
}

// confirm looks for as many failures as the report does at what held at one failure: what comes nearer to
// the line further in must not be missed. It reports false where the budget is spent.
func (x *trials) confirm() bool {
	for {
		var waiting []*outcome
		for _, t := range x.all {
			x.advance(t)
			if t.held == nil {
				continue
			}
			if o := x.outcomes[t.held.key]; !o.confirmed && !slices.Contains(waiting, o) {
				waiting = append(waiting, o)
			}
		}
		if len(waiting) == 0 {
			return true
		}
		if !x.left.Take(x.full * budget.Count(len(waiting))) {
			return false
		}
		examine.SideBySide(len(waiting), x.atOnce, func(i int) {
			o := waiting[i]
			if o.confirmed = true; x.faults > examine.OneFailure {
				sought := further(x.report.Case.Result, o.after.Case.Result)
				o.harms = nearer(x.report.Case.Result, examine.Result(o.set, x.faults, sought))
			}
		})
		for _, t := range x.all {
			if t.held != nil && x.outcomes[t.held.key].harms {
				t.held = nil
			}
		}
	}
}

// list lists, for each finding of WARNING and more, the remedies that bear on it, in the order in which the
// trade would take them.
func (x *trials) list(root *candidate) {
	for i := range x.report.Findings {
		f := &x.report.Findings[i]
		if f.Signal < rules.Warning {
			continue
		}
		t := &trial{finding: f, remedies: closer(root.set, x.report, f)}
		for _, o := range root.open {
			if o.finding.Message == f.Message && o.finding.Rule == f.Rule {
				usual := slices.Clone(o.remedies)
				slices.SortStableFunc(usual, func(a, b *remedy) int {
					return cmp.Or(cmp.Compare(nearness(a, f), nearness(b, f)), cmp.Compare(a.effort, b.effort))
				})
				t.remedies = append(t.remedies, usual...)
			}
		}
		t.remedies = slices.DeleteFunc(t.remedies, func(r *remedy) bool {
			return r.rank == rankLift && !slices.Contains(f.Nodes, r.nodes[0])
		})
		t.remedies = t.remedies[:min(len(t.remedies), mostTried)]
		x.all = append(x.all, t)
	}
}

// nearest puts remedies in the order of nearness, then effort.
func nearest(remedies []*remedy, f *rules.Finding) []*remedy {
	return slices.SortedStableFunc(slices.Values(remedies), func(a, b *remedy) int {
		return cmp.Or(cmp.Compare(nearness(a, f), nearness(b, f)), cmp.Compare(a.effort, b.effort))
	})
}

// nearness is how near a remedy is to what a finding names: the part, then others' parts, the metal, the
// line side; last what is built around the set.
func nearness(r *remedy, f *rules.Finding) int {
	switch {
	case r.part != "" && slices.Contains(f.Parts, r.part):
		return min(slices.Index(f.Parts, r.part), 100)
	case r.rank == rankCouple || r.rank == rankLift:
		return 101
	case r.rank == rankSwitch && f.Rule.Subject == rules.OfMetal:
		return 103
	case r.rank == rankSwitch:
		return -1
	case r.part != "":
		return 102
	case r.rank == rankEarth:
		return 104
	case r.rank == rankGuard:
		return 105
	}
	return 106
}

// isolates reports whether the set has a power transformer already that parts it from the line.
func isolates(set *netlist.Set) bool {
	_, plug := set.Plug()
	line := wiredOrFused(set, plug.Hot)
	return slices.ContainsFunc(set.Parts, func(p *netlist.Part) bool {
		t, ok := p.Detail.(*netlist.Transformer)
		return ok && t.Coupled && slices.ContainsFunc(t.Windings, func(w netlist.Winding) bool { return line[w.Start] || line[w.End] })
	})
}

// outcome is what a remedy does to the whole report.
type outcome struct {
	remedies  []*remedy
	steps     []plan.Step
	set       *netlist.Set
	after     *rules.Report
	brought   []rules.Finding // of WARNING and more
	harms     bool            // something is new, nearer to the line, or off the line
	misfit    bool            // it does not fit the set
	confirmed bool
}

// mostAdded is how many remedies go with one that takes B-minus off the metal, for what that brings: what
// was a hot chassis hangs on whatever joins it to B-minus then.
const mostAdded = 6

// try carries a remedy out on a copy and looks again.
func (x *trials) try(before *rules.Report, r *remedy) *outcome {
	o := x.carry(before, []*remedy{r})
	for range mostAdded {
		if r.rank != rankLift || o.misfit || len(o.brought) == 0 {
			return o
		}
		more := x.against(o)
		if more == nil {
			return o
		}
		o = x.carry(before, with(o.remedies, more))
	}
	return o
}

// against is the nearest remedy for the first finding that an outcome brought, nil where none goes with
// the others. What is built around the set is no such remedy.
func (x *trials) against(o *outcome) *remedy {
	c := &candidate{set: o.set, remedies: o.remedies}
	x.judge(c, o.after)
	for _, open := range c.open {
		if rework.Match(o.brought, open.finding) == nil {
			continue
		}
		for _, r := range nearest(open.remedies, &open.finding) {
			if r.measure > guarding && goesWith(o.remedies, r) {
				return r
			}
		}
	}
	return nil
}

func (x *trials) carry(before *rules.Report, remedies []*remedy) *outcome {
	set, steps, ok := carryOut(x.set, remedies)
	if !ok {
		return &outcome{misfit: true}
	}
	o := &outcome{remedies: remedies, steps: steps, set: set, after: examine.ReportAfter(before.Case.Circuit, set, examine.OneFailure)}
	c := rework.Compare(before, o.after)
	o.brought = brought(c)
	o.harms = c.CutOff() || len(o.brought) > 0 || nearer(before.Case.Result, o.after.Case.Result)
	return o
}

// brought is what a change brings of WARNING or more, or makes of what was less: what the rule did not say
// of the same foremost metal before, though it said it of other metal that is spoken of too.
func brought(c *rework.Comparison) (all []rules.Finding) {
	said := func(f *rules.Finding) bool {
		return slices.ContainsFunc(c.Before.Findings, func(g rules.Finding) bool {
			return g.Rule == f.Rule && g.Node() == f.Node() && g.Signal >= rules.Warning
		})
	}
	for _, i := range slices.Concat(c.New, c.Left) {
		if i.Signal >= rules.Warning && !i.Unseen && (!said(&i.Finding) || rework.Match(c.Before.Findings, i.Finding) == nil) {
			all = append(all, i.Finding)
		}
	}
	return all
}

// holds reports whether a remedy cures a finding and harms nothing.
func (o *outcome) holds(f *rules.Finding) bool {
	return !o.misfit && !o.harms && rework.Match(o.after.Findings, *f) == nil
}

// next is the remedies to be tried next, each once: of each finding that has none yet the first.
func (x *trials) next() []*remedy {
	var round []*remedy
	for _, t := range x.all {
		x.advance(t)
		if t.held == nil && t.next < len(t.remedies) {
			if r := t.remedies[t.next]; !slices.ContainsFunc(round, func(o *remedy) bool { return o.key == r.key }) {
				round = append(round, r)
			}
		}
	}
	return round
}

// advance goes on to the first remedy that was not tried yet, or that holds.
func (x *trials) advance(t *trial) {
	for t.held == nil && t.next < len(t.remedies) {
		o := x.outcomes[t.remedies[t.next].key]
		if o == nil {
			return
		}
		if o.holds(t.finding) {
			t.held = t.remedies[t.next]
			return
		}
		t.next++
	}
}

// tell has a finding tell what came of it.
func (x *trials) tell(t *trial) {
	tried := 0
	for _, r := range t.remedies[:t.next] {
		if !x.outcomes[r.key].misfit {
			tried++
		}
	}
	if t.held == nil {
		t.finding.TellNoRemedy(tried)
		return
	}
	o := x.outcomes[t.held.key]
	p := &plan.Plan{Name: fmt.Sprintf("%s: %s", x.set.Name, t.finding.Rule.Name), Steps: onePlug(o.steps)}
	var text strings.Builder
	if p.Write(&text) != nil { // a value that no plan has; the builder gives none
		return
	}
	t.finding.TellRemedy(o.words(x.set), text.String())
}

// words tell what was done to a set: each remedy as one thing, or by its steps.
func (o *outcome) words(set *netlist.Set) string {
	var words []string
	for _, r := range o.remedies {
		after, steps, _ := carryOut(set, []*remedy{r})
		if r.words != nil {
			words = append(words, fmt.Sprintf("%s (%s)", r.words(set), phrase.Counted(len(steps), "step")))
		} else {
			words = append(words, rules.StepsInWords(after, steps))
		}
		set = after
	}
	return strings.Join(words, "; ")
}
