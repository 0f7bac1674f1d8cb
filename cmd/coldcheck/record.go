package main

import (
	"bytes"

	"github.com/spf13/cobra"

	"coldcheck/cmd/coldcheck/flags"
	"coldcheck/cmd/coldcheck/jsonout"
	"coldcheck/cmd/coldcheck/output"
	browser "coldcheck/cmd/coldcheck/page"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
	"coldcheck/rules/record"
)

func recordCommand(p *program) *cobra.Command {
	o := &options{format: formatText}
	c := p.command(o, runRecord, &cobra.Command{
		Use:   "record [flags] SET PLAN | BEFORE AFTER",
		Short: "a job on one sheet, for the owner and the shop: as found, done, read, left, what to know",
		Long: `Takes a set file and the plan that was carried out on it, or a set file before and one after, and lays the job out on one sheet to print and hand over with the set: the set as found, in short; what was done, each part with its value and class; the readings in the files beside what the wiring gives, and blanks for the hot check, both ways of the plug, with the figure to expect; the set now, in short; what remains; what its owner has to know; lines for date, name, and license where local rules ask for one.

Readings taken after the job belong into the file of the set as it is now: rework --write writes that file, to go on with. A plan alone has none.

It tells what the wiring as described can do. It proves nothing of the set on the bench, and is no mark of approval.`,
		Example: `coldcheck example --write plan.toml hot-chassis-plan
coldcheck record --format html --write record.html set.toml plan.toml`,
		ValidArgsFunction: setFiles,
	})
	c.Flags().Var(flags.OneOf(&o.format, formatText, formatJSON, formatHTML), "format", "how the result is written (default text); html is a page to print")
	o.textFlags(c.Flags())
	o.writeFlag(c.Flags())
	return c
}

func runRecord(c *call) int {
	switch n := len(c.args); {
	case n < 2:
		return c.usage("record needs a set file and the plan that was carried out, or two set files")
	case n > 2:
		return c.usage("record takes a set file and a plan, or two set files, and here are %d files", n)
	case c.args[0] == "-" && c.args[1] == "-":
		return c.usage("only one of the two files can be standard input")
	}
	r, err := c.record()
	if err != nil {
		c.sayProblem(err)
		return statusBad
	}
	return c.write(c.options.write, func(o *output.Output) error {
		switch c.options.format {
		case formatJSON:
			return jsonout.Write(o, jsonout.OfRecord(r))
		case formatHTML:
			return browser.Record(o, r)
		}
		c.page(o).Record(r)
		return nil
	})
}

// record reads both files and puts the record together.
func (c *call) record() (*record.Record, error) {
	set, err := c.firstSet(c.args[0])
	if err != nil {
		return nil, err
	}
	second := c.args[1]
	data, err := setfile.ReadFile(second, c.stdin)
	if err != nil {
		return nil, err
	}
	if setfile.ContentOf(data) == setfile.ContentSet {
		now, err := setfile.Load(second, bytes.NewReader(data))
		if err != nil {
			return nil, err
		}
		return record.OfSets(set, now), nil
	}
	parsed, err := plan.Parse(second, data)
	if err != nil {
		return nil, err
	}
	return record.OfPlan(set, parsed)
}
