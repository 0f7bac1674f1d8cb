package main

import (
	"bytes"
	"fmt"
	"io"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/flags"
	"coldcheck/cmd/coldcheck/jsonout"
	"coldcheck/cmd/coldcheck/output"
	browser "coldcheck/cmd/coldcheck/page"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/rules"
	"coldcheck/rules/rework/propose"
)

// inspectName is the command that a file, or a flag, alone stands for.
const inspectName = "inspect"

func inspectCommand(p *program) *cobra.Command {
	o := inspectOptions()
	c := p.command(o, inspect, &cobra.Command{
		Use:   inspectName + " [flags] FILE…",
		Short: "say what in a set is live or one failure from live, by which route, and what to do",
		Long: `Reads the set files and tells what was found in each, strongest first: DANGER is live now, WARNING is one failure from live or a current that startles, CAUTION weakens a safeguard, NOTICE is worth knowing.

Every plug polarity, every switch position and every set of faults up to --faults safeguards is worked through. Both count as normal, for every plug: outlets are wired backwards, adapters fitted, blades filed.

What it says to do about a WARNING or a DANGER it has tried: the change is carried out on a copy of the set, and told only if the finding is gone, nothing of WARNING or more is new, and no metal has come nearer to the line. Where no single change does that, it says so.

A file of - is standard input. One bad file among several does not stop the others.

Exit status: 0 nothing at or above --fail-on, 1 something, 2 bad use or bad input.`,
		Example: `coldcheck example hot-chassis --write set.toml
coldcheck inspect set.toml`,
		ValidArgsFunction: setFiles,
	})
	o.inspectFlags(c.Flags())
	return c
}

func inspectOptions() *options {
	return &options{faults: analysis.DefaultFaults, failOn: "warning", format: formatText}
}

func (o *options) inspectFlags(fs *pflag.FlagSet) {
	fs.Var(flags.Count(&o.faults, 0, 3), "faults", "how many safeguards may fail at once, 0 to 3 (default 2)")
	fs.BoolVar(&o.brief, "brief", false, "in short alone: a line or two for each piece of metal, one for the rest, and what to do first")
	fs.BoolVar(&o.remedies, "remedies", false, "try each remedy on a copy of the set also for --brief and JSON, which has its plan then")
	o.benchFlags(fs)
	fs.Var(flags.OneOfKind(&o.failOn, "SIGNAL", failWords()...), "fail-on",
		"danger, warning, caution, notice or never: the weakest that makes the exit status 1 (default warning)")
	o.pageFlag(fs)
	o.writeFlag(fs)
	o.textFlags(fs)
}

// neverFail is the word of --fail-on that is no signal word.
const neverFail = "never"

// failWords are the words of --fail-on, strongest first.
func failWords() []string {
	var words []string
	for i := len(rules.Signals) - 1; i >= 0; i-- {
		words = append(words, rules.Signals[i])
	}
	return append(words, neverFail)
}

func inspect(c *call) int {
	if len(c.args) == 0 {
		return c.usage("inspect needs a set file behind it, or - for standard input")
	}
	if i := slices.Index(c.args, "-"); i >= 0 && slices.Contains(c.args[i+1:], "-") {
		return c.usage("only one of the files can be standard input")
	}
	all := c.inspectAll()
	status := statusOK
	for _, one := range all {
		if one.err != nil {
			c.sayProblem(one.err)
		}
		status = max(status, one.status)
	}
	if len(all) == 1 && all[0].err != nil {
		return status
	}
	written := c.write(c.options.write, func(o *output.Output) error { return c.writeInspected(o, all) })
	return max(status, written)
}

// inspectedFile is what came of one file, in the form asked for.
type inspectedFile struct {
	text   []byte
	json   *jsonout.Inspect
	page   *rules.Report // the page draws several reports together
	err    error
	status int
}

// inspectAll inspects the files side by side. What came of each stands in the order of the files,
// and a report is let go of as soon as it is put into its form.
func (c *call) inspectAll() []inspectedFile {
	all := make([]inspectedFile, len(c.args))
	colour, columns := false, 0
	if c.options.write == "" || c.options.write == "-" {
		colour, columns = output.WantsColour(c.stdout), output.Columns(c.stdout)
	}
	paper := func(w io.Writer) *text.Page { return c.pageOn(w, colour, columns) }
	var done atomic.Int64
	over := make(chan struct{})
	defer close(over)
	go c.progress(func() string { return fmt.Sprintf("%d of %d set files inspected so far", done.Load(), len(all)) }, over)
	work := make(chan int)
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(all)) {
		wait.Go(func() {
			for i := range work {
				all[i] = c.inspectOne(c.args[i], i > 0, paper)
				done.Add(1)
			}
		})
	}
	for i := range all {
		work <- i
	}
	close(work)
	wait.Wait()
	return all
}

// triesRemedies reports whether remedies are tried before they are told: where they are asked for or read, and
// on the bare mains, for what a bench keeps from being live is no matter of the set.
func (c *call) triesRemedies() bool {
	o := c.options
	if o.supply == supplyIsolated || len(o.earthed) > 0 {
		return false
	}
	return o.remedies || !o.brief && o.format != formatJSON
}

func (c *call) inspectOne(file string, further bool, paper func(io.Writer) *text.Page) inspectedFile {
	circuit, err := c.circuit(file)
	if err != nil {
		return inspectedFile{err: err, status: statusBad}
	}
	r := rules.Check(circuit, analysis.Options{Faults: c.options.faults})
	if c.triesRemedies() {
		propose.TryRemedies(r)
	}
	one := inspectedFile{status: c.failStatus(r.Worst())}
	switch c.options.format {
	case formatJSON:
		one.json = jsonout.OfReport(r, c.options.supply)
	case formatHTML:
		one.page = r
	default:
		var b bytes.Buffer
		page := paper(&b)
		if further {
			page.Blank()
		}
		page.Inspect(r, text.InspectOptions{Brief: c.options.brief, File: len(c.args) > 1})
		one.text = b.Bytes()
	}
	return one
}

// writeInspected writes what came of the files: in JSON one object for one file, an array for
// several.
func (c *call) writeInspected(o *output.Output, all []inspectedFile) error {
	objects, reports := []*jsonout.Inspect{}, []*rules.Report{}
	for _, one := range all {
		if one.json != nil {
			objects = append(objects, one.json)
		}
		if one.page != nil {
			reports = append(reports, one.page)
		}
		o.Write(one.text) // the output keeps its first error
	}
	switch {
	case c.options.format == formatHTML:
		return browser.Inspect(o, reports)
	case c.options.format == formatJSON && len(c.args) == 1:
		return jsonout.Write(o, objects[0])
	case c.options.format == formatJSON:
		return jsonout.Write(o, objects)
	}
	return nil
}

// failStatus is statusFound where the strongest signal, if there is any, is at or above --fail-on.
func (c *call) failStatus(worst rules.Signal, any bool) int {
	least := slices.Index(rules.Signals, c.options.failOn) // -1 for never
	if any && least >= 0 && int(worst) >= least {
		return statusFound
	}
	return statusOK
}
