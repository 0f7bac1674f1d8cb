package rework

import (
	"runtime"
	"sync"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
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

// CordOff tells that the set is off the line at this stage, a blade of the plug leading nowhere or the
// way to all that draws current cut: little can be found then, and the next step may bring it back.
func (s *Stage) CordOff() bool { return s.cut }

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

// Passing is a hazard of the way.
type Passing struct {
	rules.Finding
	// Until is the step that ends it and every later hazard of the way.
	Until int
}

// Run carries a plan out on a set and compares. The error is netlist.Problems.
func Run(set *netlist.Set, plan *plan.Plan) (*Comparison, *netlist.Document, error) {
	stages, err := plan.Apply(set)
	if err != nil {
		return nil, nil, err
	}
	c := &Comparison{Plan: plan}
	if n := affordable(stages); n < len(stages)-2 {
		c.Unlooked = stages[n+1].Step
		stages = append(stages[:n+1:n+1], stages[len(stages)-1])
	}
	all := inspectStages(stages)
	var reports []*rules.Report
	var steps []int
	for i, s := range stages {
		if all[i] != nil {
			reports = append(reports, all[i])
			steps = append(steps, s.Step)
		}
		if i > 0 && i < len(stages)-1 {
			c.Stages = append(c.Stages, Stage{Step: s.Step, Report: all[i], Why: s.Problems})
		}
	}
	c.Before, c.After = reports[0], reports[len(reports)-1]
	for i := range c.Stages {
		c.Stages[i].cut = c.Stages[i].Report != nil && c.cut(c.Stages[i].Report)
	}
	c.sort(reports, steps)
	c.comparePoints()
	c.findPassing()
	c.joinPassing()
	return c, stages[len(stages)-1].Document, nil
}

// planMilliseconds is the work that the stages of a plan may be, the first and the last among them.
const planMilliseconds = 1500

// affordable is how many stages on the way can be looked at beside the first and the last, which are
// looked at in any case.
func affordable(stages []plan.Stage) int {
	work := func(s plan.Stage) float64 {
		if s.Set == nil {
			return 0
		}
		return milliseconds(circuitOf(s.Set))
	}
	last := len(stages) - 1
	left := planMilliseconds - work(stages[0]) - work(stages[last])
	for n := range max(0, last-1) {
		if left -= work(stages[n+1]); left < 0 {
			return n
		}
	}
	return max(0, last-1)
}

// inspectStages examines the stages that are sets, several at a time. Those on the way are looked
// at for one failure, suspect parts beside it: nothing at WARNING and above rests on more.
func inspectStages(stages []plan.Stage) []*rules.Report {
	reports := make([]*rules.Report, len(stages))
	each(len(stages), workersFor(stages[0].Set), func(i int) {
		faults := searchFaults
		if i == 0 || i == len(stages)-1 {
			faults = analysis.DefaultFaults
		}
		if stages[i].Set != nil {
			reports[i] = check(stages[i].Set, faults)
		}
	})
	return reports
}

// each does something n times, so many at a time.
func each(n, workers int, do func(i int)) {
	var wait sync.WaitGroup
	work := make(chan int)
	for range min(n, workers) {
		wait.Go(func() {
			for i := range work {
				do(i)
			}
		})
	}
	for i := range n {
		work <- i
	}
	close(work)
	wait.Wait()
}

// circuitOf is a set on the bare mains.
func circuitOf(set *netlist.Set) *analysis.Circuit {
	circuit, _ := analysis.New(set, analysis.Bench{}) // no bench, so no node to miss
	return circuit
}

// check examines a set on the bare mains.
func check(set *netlist.Set, faults int) *rules.Report { return checkCircuit(circuitOf(set), faults) }

// options look for that many failures.
func options(faults int) analysis.Options {
	return analysis.Options{Faults: faults, Together: searchTogether}
}

// checkCircuit examines a set and keeps of it what a comparison asks for: several such reports are
// kept, and the solved states of a large set take far more room.
func checkCircuit(circuit *analysis.Circuit, faults int) *rules.Report {
	report := rules.Check(circuit, options(faults))
	report.Slim()
	if circuit.Bytes() > collected {
		runtime.GC() // the next such set would come on top of it
	}
	return report
}

// collected is how many bytes of equations are collected at once when they are let go.
const collected = 16 << 20

// workersFor is how many sets like this one are examined at a time: of very large ones few, for the
// room that they take, some four times that of their equations.
func workersFor(set *netlist.Set) int {
	const room = 80 << 20 // bytes of equations
	return max(1, min(runtime.GOMAXPROCS(0), int(room/circuitOf(set).Bytes())))
}

// findPassing fills in what is a hazard of the way alone, each at the stage where it begins.
func (c *Comparison) findPassing() {
	for i := range c.Stages {
		if c.Stages[i].Report == nil {
			continue
		}
		for _, f := range c.Stages[i].Report.Findings {
			if f.Signal < rules.Warning || c.standsAnyway(f) || c.stoodBefore(i, f) {
				continue
			}
			c.Stages[i].Passing = append(c.Stages[i].Passing, Passing{f, c.endOf(i, f)})
		}
	}
}

// joinPassing lets a hazard of the way end no sooner than those that begin later: who waits for the
// end of one must not meet the next.
func (c *Comparison) joinPassing() {
	last := 0
	for i := len(c.Stages) - 1; i >= 0; i-- {
		for _, f := range c.Stages[i].Passing {
			last = max(last, f.Until)
		}
		for k := range c.Stages[i].Passing {
			c.Stages[i].Passing[k].Until = last
		}
	}
}

// standsAnyway tells whether a finding stands as strongly before the first step or after the last.
func (c *Comparison) standsAnyway(f rules.Finding) bool {
	for _, r := range []*rules.Report{c.Before, c.After} {
		if g := match(r.Findings, f); g != nil && g.Signal >= f.Signal {
			return true
		}
	}
	return false
}

// stoodBefore tells whether the last stage before i that is a set has the finding as strongly.
func (c *Comparison) stoodBefore(i int, f rules.Finding) bool {
	for i--; i >= 0; i-- {
		if c.Stages[i].Report != nil {
			g := match(c.Stages[i].Report.Findings, f)
			return g != nil && g.Signal >= f.Signal
		}
	}
	return false
}

// endOf is the first step after stage i that shows the finding no more, or not as strongly.
func (c *Comparison) endOf(i int, f rules.Finding) int {
	for i++; i < len(c.Stages); i++ {
		if c.Stages[i].Report == nil {
			continue
		}
		if g := match(c.Stages[i].Report.Findings, f); g == nil || g.Signal < f.Signal {
			return c.Stages[i].Step
		}
	}
	return len(c.Plan.Steps)
}
