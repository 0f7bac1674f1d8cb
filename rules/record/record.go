package record

import (
	"cmp"
	"slices"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
	"coldcheck/rules"
	"coldcheck/rules/overview"
	"coldcheck/rules/rework"
)

// Record is what is kept of a job on a set.
type Record struct {
	*rework.Comparison
	AsFound, Now *overview.Overview
	Steps        []Step
	Readings     []Reading
	// Unlaid tells that the set is too large for the readings that are still to be taken to be laid out.
	Unlaid bool
	// Left is all that was found of the set as it is now, left and new, strongest first.
	Left     []rework.Item
	Owner    []string // what the owner has to know, the most pressing first
	Cautions []string // for those who work on it
}

// OfPlan records a plan as carried out on a set. The set as it is now bears a name that says so. The error is
// netlist.Problems.
func OfPlan(set *netlist.Set, p *plan.Plan) (*Record, error) {
	stages, err := p.Apply(set)
	if err != nil {
		return nil, err
	}
	document := stages[len(stages)-1].Document
	document.Rename("")
	now, err := setfile.Build(document)
	if err != nil {
		return nil, err
	}
	c := rework.CompareSets(set, now)
	c.Plan = p
	return of(c, stepsOf(p, stages)), nil
}

// OfSets records what was done to a set by the file of it before and the one now.
func OfSets(before, now *netlist.Set) *Record {
	return of(rework.CompareSets(before, now), differences(before, now))
}

func of(c *rework.Comparison, steps []Step) *Record {
	r := &Record{Comparison: c, AsFound: overview.Of(c.Before), Now: overview.Of(c.After), Steps: steps}
	r.Left = slices.Concat(c.Left, c.New)
	slices.SortStableFunc(r.Left, func(a, b rework.Item) int { return cmp.Compare(b.Signal, a.Signal) })
	r.read()
	r.Owner = r.owner()
	for _, care := range r.Now.Cares {
		r.Cautions = append(r.Cautions, care.Text)
	}
	return r
}

// left are the findings of a rule that are left at a signal word or above it.
func (r *Record) left(rule *rules.Rule, least rules.Signal) []rework.Item {
	var all []rework.Item
	for _, i := range r.Left {
		if i.Rule == rule && i.Signal >= least {
			all = append(all, i)
		}
	}
	return all
}
