package rework

import (
	"coldcheck/analysis"
	"coldcheck/analysis/budget"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
	"coldcheck/rules/rework/internal/examine"
)

// Stage is what stands on the bench after so many steps, before the last one is done.
type Stage struct {
	Step   int
	Report *rules.Report    // nil where the parts are no set then
	Why    netlist.Problems // why they are none
	// Passing are the findings of WARNING and more that stand neither before the first step nor after
	// the last as strongly: hazards of the way alone.
	Passing []Passing
	cut     bool
}

// CordOff reports whether the set is off the line at this stage, a blade of the plug leading nowhere or the
// way to all that draws current cut: little can be found then, and the next step may bring it back.
func (s *Stage) CordOff() bool { return s.cut }

// cordOff reports whether a blade of the plug leads nowhere.
func cordOff(set *netlist.Set) bool {
	part, plug := set.Plug()
	for _, blade := range []string{plug.Hot, plug.Neutral} {
		alone := true
		for _, p := range set.Parts {
			for _, t := range p.Terminals {
				alone = alone && (p == part || t.Node != blade)
			}
		}
		if alone {
			return true
		}
	}
	return false
}

// Run carries a plan out on a set and compares. The error is netlist.Problems.
func Run(set *netlist.Set, p *plan.Plan) (*Comparison, *netlist.Document, error) {
	stages, err := p.Apply(set)
	if err != nil {
		return nil, nil, err
	}
	c := &Comparison{Plan: p}
	if n := withinBudget(stages); n < len(stages)-2 {
		c.Unexamined = stages[n+1].Step
		stages = append(stages[:n+1:n+1], stages[len(stages)-1])
	}
	all := examineStages(stages)
	var stood history
	for i, s := range stages {
		if all[i] != nil {
			stood.reports = append(stood.reports, all[i])
			stood.steps = append(stood.steps, s.Step)
		}
		if i > 0 && i < len(stages)-1 {
			c.Stages = append(c.Stages, Stage{Step: s.Step, Report: all[i], Why: s.Problems})
		}
	}
	c.Before, c.After = stood.reports[0], stood.reports[stood.last()]
	for i := range c.Stages {
		c.Stages[i].cut = c.Stages[i].Report != nil && c.cut(c.Stages[i].Report)
	}
	c.classify(stood)
	c.comparePoints()
	c.findPassing()
	c.joinPassing()
	return c, stages[len(stages)-1].Document, nil
}

// withinBudget is how many stages on the way can be examined beside the first and the last, which are
// examined in any case.
func withinBudget(stages []plan.Stage) int {
	work := func(s plan.Stage) budget.Count {
		if s.Set == nil {
			return 0
		}
		return examine.Work(examine.Circuit(s.Set))
	}
	first, onTheWay, last := stages[0], stages[1:max(1, len(stages)-1)], stages[len(stages)-1]
	left := budget.New(budget.Stages)
	left.Spend(work(first) + work(last))
	for n, s := range onTheWay {
		if !left.Take(work(s)) {
			return n
		}
	}
	return len(onTheWay)
}

// examineStages examines the stages that are sets, several at a time. Those on the way are examined
// for one failure, suspect parts beside it: nothing at WARNING and above rests on more.
func examineStages(stages []plan.Stage) []*rules.Report {
	reports := make([]*rules.Report, len(stages))
	examine.SideBySide(len(stages), examine.AtOnce(examine.Circuit(stages[0].Set)), func(i int) {
		faults := examine.OneFailure
		if i == 0 || i == len(stages)-1 {
			faults = analysis.DefaultFaults
		}
		if stages[i].Set != nil {
			reports[i] = examine.Report(stages[i].Set, faults)
		}
	})
	return reports
}
