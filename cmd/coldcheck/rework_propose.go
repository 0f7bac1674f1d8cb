package main

import (
	"fmt"

	"coldcheck/analysis/budget"
	"coldcheck/cmd/coldcheck/jsonout"
	"coldcheck/cmd/coldcheck/output"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/rules/rework/propose"
)

// propose looks for plans and prints them; --write writes the first.
func (c *call) propose() int {
	switch {
	case len(c.args) == 0:
		return c.usage("rework --propose needs a set file behind it, or - for standard input")
	case len(c.args) > 1:
		return c.usage("rework --propose takes one set file, and here are %d files", len(c.args))
	}
	set, err := c.firstSet(c.args[0])
	if err != nil {
		c.sayProblem(err)
		return statusBad
	}
	for _, name := range c.options.keep {
		if set.Part(name) == nil {
			c.sayLine(fmt.Sprintf("--keep %s: no part of the set has that name", netlist.Visible(name)))
			return statusBad
		}
	}
	done := make(chan struct{})
	found := propose.Search(set, budget.Candidates, propose.Wish{Kind: c.options.kind, Keep: c.options.keep, Watch: func(checked func() int) {
		go c.progress(func() string { return fmt.Sprintf("%d altered sets examined so far", checked()) }, done)
	}})
	close(done)
	if c.options.write != "" {
		if len(found.Plans) == 0 {
			c.sayLine("no plan was found, so nothing is written")
		} else if status := c.write(c.options.write, func(o *output.Output) error { return text.PlanFile(o, &found.Plans[0]) }); status != statusOK {
			return status
		} else {
			c.sayLine("wrote the first plan: " + netlist.Visible(c.options.write))
		}
	}
	written := c.write("", func(o *output.Output) error {
		if c.options.format == formatJSON {
			return jsonout.Write(o, jsonout.OfProposals(found))
		}
		c.page(o).Proposals(found)
		return nil
	})
	after := found.Report
	if len(found.Plans) > 0 {
		after = found.Plans[0].Comparison.After
	}
	return max(c.failStatus(after.Worst()), written)
}
