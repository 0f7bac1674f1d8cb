package main

import (
	"bytes"
	"fmt"

	"github.com/spf13/cobra"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/flags"
	"coldcheck/cmd/coldcheck/jsonout"
	"coldcheck/cmd/coldcheck/output"
	browser "coldcheck/cmd/coldcheck/page"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
	"coldcheck/rules/rework"
	"coldcheck/rules/rework/propose"
)

func reworkCommand(p *program) *cobra.Command {
	o := &options{failOn: "warning", format: formatText}
	c := p.command(o, runRework, &cobra.Command{
		Use:   "rework [flags] SET PLAN | BEFORE AFTER | --propose SET",
		Short: "say what a plan of changes cures, leaves and brings before the iron is hot",
		Long: `Takes a set file and a plan, or a set file before and one after. Tells each finding that is cured, left or new, with the step that did it; what stands after every step on the way; and every touch point before and after.

A plan is a file of steps: plan = "what it is for", then [[steps]] with do = "replace", "remove", "fit", "move", "change" or "mark". coldcheck example lists plans to look at.

With --write the set as it will be is written as a set file, under a name of its own, without the remarks of the old one: those are not kept.

With --propose it looks for the smallest plans, made of what trade practice does, that leave no DANGER and no WARNING, by which no metal comes nearer to the line, and prints up to three of different kinds as plan files, the least invasive first; --write then writes the first. They are proposals: a qualified person judges them under the local electrical codes. A plan is counted in edits, each of some steps: fuse, then switch, into the hot leg ahead of every load; a switch with two poles, where both legs are hot with a fuse in each; a capacitor replaced by class Y1, by class Y2, by two of class Y2 in series, or with a class Y1 in series; one on the line replaced by class X2 or taken out; a resistor taken out or made two in series; B-minus lifted off the metal and joined to it by class Y alone; an antenna, a ground lead or a jack coupled by class Y1; suspect insulation or parts renewed, one layer made two; a guard fitted; an isolating transformer with fuse and switch ahead of the set; a grounding cord with the chassis earthed.

Exit status: 0 nothing left or new at or above --fail-on, 1 something, 2 bad use or bad input.`,
		Example: `coldcheck example hot-chassis --write set.toml
coldcheck example hot-chassis-plan --write plan.toml
coldcheck rework set.toml plan.toml
coldcheck rework --propose set.toml`,
		ValidArgsFunction: setFiles,
	})
	c.Flags().BoolVar(&o.propose, "propose", false, "look for plans that leave no DANGER and no WARNING")
	c.Flags().Var(flags.OneOfKind(&o.kind, "KIND", propose.Kinds()...), "kind", "with --propose: one kind of plan alone")
	c.Flags().Var(flags.Words(&o.keep, "PART"), "keep", "with --propose: a part to be left alone; may be repeated")
	c.Flags().Var(flags.Word(&o.write, fileType), "write", "write the set as it will be, or the first plan proposed, to a file")
	c.Flags().Var(flags.Word(&o.name, "NAME"), "name", "with --write of a set: what it is called then (default its name and \"reworked\")")
	c.Flags().BoolVar(&o.force, forceFlag, false, "with --write: overwrite a file that is there")
	c.Flags().Var(flags.OneOfKind(&o.failOn, "SIGNAL", failWords()...), "fail-on", "the weakest signal word that makes the exit status 1 (default warning)")
	o.pageFlag(c.Flags())
	o.textFlags(c.Flags())
	return c
}

func runRework(c *call) int {
	if c.options.force && c.options.write == "" {
		return c.usage("--force goes with --write")
	}
	switch o := c.options; {
	case (o.kind != "" || len(o.keep) > 0) && !o.propose:
		return c.usage("--kind and --keep go with --propose")
	case o.name != "" && (o.propose || o.write == ""):
		return c.usage("--name goes with --write of a set")
	}
	if c.options.write == "-" {
		return c.usage("--write needs the name of a file; the report goes to standard output")
	}
	if c.options.propose {
		return c.propose()
	}
	switch n := len(c.args); {
	case n < 2:
		return c.usage("rework needs a set file and a plan behind it, or two set files; with --propose a set file alone")
	case n > 2:
		return c.usage("rework takes a set file and a plan, or two set files, and here are %d files", n)
	case c.args[0] == "-" && c.args[1] == "-":
		return c.usage("only one of the two files can be standard input")
	}
	comparison, result, err := c.compare()
	if err != nil {
		c.sayProblem(err)
		return statusBad
	}
	if status := c.writeSet(comparison, result); status != statusOK {
		return status
	}
	status := c.failStatus(comparison.Worst())
	return max(status, c.write("", func(o *output.Output) error {
		switch c.options.format {
		case formatJSON:
			return jsonout.Write(o, jsonout.OfRework(comparison))
		case formatHTML:
			return browser.Rework(o, comparison)
		}
		c.page(o).Rework(comparison)
		return nil
	}))
}

// compare reads both files and compares; the document is the set as it will be, nil with two sets.
func (c *call) compare() (*rework.Comparison, *netlist.Document, error) {
	set, err := c.firstSet(c.args[0])
	if err != nil {
		return nil, nil, err
	}
	second := c.args[1]
	data, err := setfile.ReadFile(second, c.stdin)
	if err != nil {
		return nil, nil, err
	}
	if setfile.ContentOf(data) == setfile.ContentSet {
		if c.options.write != "" {
			return nil, nil, fmt.Errorf("%s is a set file, so there is nothing to write; --write goes with a plan", netlist.Visible(second))
		}
		after, err := setfile.Load(second, bytes.NewReader(data))
		if err != nil {
			return nil, nil, err
		}
		return rework.CompareSets(set, after), nil, nil
	}
	parsed, err := plan.Parse(second, data)
	if err != nil {
		return nil, nil, err
	}
	return rework.Run(set, parsed)
}

// firstSet reads the set file that comes first.
func (c *call) firstSet(file string) (*netlist.Set, error) {
	set, err := setfile.LoadFile(file, c.stdin)
	if err != nil {
		return nil, err
	}
	circuit, err := analysis.New(set, analysis.Bench{})
	if err != nil {
		return nil, err
	}
	return set, checkSize(file, circuit)
}

// writeSet writes the set as it will be, if that is asked for, and says what is not in it.
func (c *call) writeSet(comparison *rework.Comparison, result *netlist.Document) int {
	if c.options.write == "" {
		return statusOK
	}
	result.Rename(c.options.name)
	if status := c.write(c.options.write, func(o *output.Output) error { return setfile.Write(o, result) }); status != statusOK {
		return status
	}
	lost := "the remarks (#) of " + netlist.Visible(c.args[0])
	if len(comparison.Before.Case.Set.Readings) > 0 {
		lost += " and its readings, taken before the change,"
	}
	c.sayLine(fmt.Sprintf("wrote %s; %s are not in it", netlist.Visible(c.options.write), lost))
	return statusOK
}
