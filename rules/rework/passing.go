package rework

import "coldcheck/rules"

// Passing is a hazard of the way.
type Passing struct {
	rules.Finding
	// Until is the step that ends it and every later hazard of the way.
	Until int
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

// standsAnyway reports whether a finding stands as strongly before the first step or after the last.
func (c *Comparison) standsAnyway(f rules.Finding) bool {
	for _, r := range []*rules.Report{c.Before, c.After} {
		if g := Match(r.Findings, f); g != nil && g.Signal >= f.Signal {
			return true
		}
	}
	return false
}

// stoodBefore reports whether the last stage before i that is a set has the finding as strongly.
func (c *Comparison) stoodBefore(i int, f rules.Finding) bool {
	for i--; i >= 0; i-- {
		if c.Stages[i].Report != nil {
			g := Match(c.Stages[i].Report.Findings, f)
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
		if g := Match(c.Stages[i].Report.Findings, f); g == nil || g.Signal < f.Signal {
			return c.Stages[i].Step
		}
	}
	return len(c.Plan.Steps)
}
