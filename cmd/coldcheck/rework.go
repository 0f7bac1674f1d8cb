package main

import (
	"bytes"
	"fmt"
	"io"
	"os"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/jsonout"
	browser "coldcheck/cmd/coldcheck/page"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
	"coldcheck/rules/rework"
)

var reworkCommand = &command{
	name:     "rework",
	synopsis: "[flags] SET PLAN | BEFORE AFTER | --propose SET",
	summary:  "say what a plan of changes cures, leaves and brings before the iron is hot",
	help: `Takes a set file and a plan, or a set file before and one after. Tells each finding that is cured, left or new, with the step that did it; what stands after every step on the way; and every touch point before and after.

A plan is a file of steps: plan = "what it is for", then [[steps]] with do = "replace", "remove", "fit", "move", "change" or "mark". coldcheck example lists plans to look at.

With --write the set as it will be is written as a set file, without the remarks of the old one: those are not kept.

With --propose it looks for the smallest plans, made of what trade practice does, that leave no DANGER and no WARNING, and prints up to three of different kinds as plan files; --write then writes the first. They are proposals: a qualified person judges them under the local electrical codes. A plan is counted in edits, each of some steps: fuse, then switch, into the hot leg ahead of every load; a switch with two poles; a capacitor replaced by class Y1, by class Y2, by two of class Y2 in series, or with a class Y1 in series; one on the line replaced by class X2 or taken out; a resistor taken out or made two in series; B-minus lifted off the metal and joined to it by class Y alone; an antenna or ground lead coupled by class Y1; suspect insulation or parts renewed, one layer made two; a guard fitted; an isolating transformer with fuse and switch ahead of the set; a grounding cord with the chassis earthed.

Exit status: 0 nothing left or new at or above --fail-on, 1 something, 2 bad use or bad input.`,
	example: `coldcheck example hot-chassis --write set.toml
coldcheck example hot-chassis-plan --write plan.toml
coldcheck rework set.toml plan.toml
coldcheck rework --propose set.toml`,
	flags: []flagInfo{
		{"propose", "look for plans that leave no DANGER and no WARNING", func(o *options) value { return toggle{&o.propose} }},
		{"write", "write the set as it will be, or the first plan proposed, to a file", func(o *options) value { return word{&o.write, "FILE"} }},
		{"force", "with --write: overwrite a file that is there", func(o *options) value { return toggle{&o.force} }},
		{"fail-on", "the weakest signal word that makes the exit status 1 (default warning)",
			func(o *options) value { return choice{&o.failOn, failWords(), "SIGNAL"} }},
		htmlFlag,
	},
	defaults: options{failOn: "warning", format: formatText},
	run:      runRework,
}

func runRework(c *call) int {
	if c.options.force && c.options.write == "" {
		return c.usage("--force goes with --write")
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
	if err := c.mayWrite(); err != nil {
		c.say(err)
		return statusBad
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
	return max(status, c.write("", func(o *output) {
		if c.options.format == formatJSON {
			if err := jsonout.Write(o, jsonout.OfRework(comparison)); err != nil {
				o.spoil(err)
			}
			return
		}
		if c.options.format == formatHTML {
			if err := browser.Rework(o, comparison); err != nil {
				o.spoil(err)
			}
			return
		}
		text.NewPage(o, o.colour).Rework(comparison)
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
	plan, err := plan.Parse(second, data)
	if err != nil {
		return nil, nil, err
	}
	return rework.Run(set, plan)
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

// mayWrite tells beforehand what would keep --write from writing.
func (c *call) mayWrite() error {
	if c.options.write == "" || c.options.force {
		return nil
	}
	if err := mustBeFree(c.options.write); err != nil {
		return fmt.Errorf("%w, or give --force", err)
	}
	return nil
}

// writeSet writes the set as it will be, if that is asked for, and says what is not in it.
func (c *call) writeSet(comparison *rework.Comparison, result *netlist.Document) int {
	if c.options.write == "" {
		return statusOK
	}
	if err := c.writeWhole(func(w io.Writer) error { return setfile.Write(w, result) }); err != nil {
		c.say(err)
		return statusBad
	}
	lost := "the remarks (#) of " + netlist.Visible(c.args[0])
	if len(comparison.Before.Case.Set.Readings) > 0 {
		lost += " and its readings, taken before the change,"
	}
	c.sayLine(fmt.Sprintf("wrote %s; %s are not in it", netlist.Visible(c.options.write), lost))
	return statusOK
}

// writeWhole writes the file of --write, whole or not at all.
func (c *call) writeWhole(fill func(io.Writer) error) error {
	path := c.options.write
	var b bytes.Buffer
	if err := fill(&b); err != nil {
		return fmt.Errorf("cannot write %s: %w", netlist.Visible(path), err)
	}
	if !c.options.force {
		o, err := c.open(path)
		if err != nil {
			return err
		}
		o.Write(b.Bytes()) // the output keeps its error until it is closed
		return o.close()
	}
	f, err := newBeside(path)
	if err != nil {
		return fmt.Errorf("cannot write %s: %s", netlist.Visible(path), plainError(err))
	}
	_, err = f.Write(b.Bytes())
	if err == nil {
		err = f.Sync()
	}
	if also := f.Close(); err == nil {
		err = also
	}
	if err == nil {
		err = finish(f.Name(), func() error { return os.Rename(f.Name(), path) })
	}
	if err != nil {
		discard(f.Name())
		return fmt.Errorf("cannot write %s: %s", netlist.Visible(path), plainError(err))
	}
	return nil
}
