package main

import (
	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/jsonout"
	browser "coldcheck/cmd/coldcheck/page"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/rules"
)

var inspectCommand = &command{
	name:     "inspect",
	synopsis: "[flags] FILE…",
	summary:  "say what in a set is live or one failure from live, by which route, and what to do",
	help: `Reads the set files and tells what was found in each, strongest first: DANGER is live now, WARNING is one failure from live or a current that startles, CAUTION weakens a safeguard, NOTICE is worth knowing.

Every plug way, every switch position and every set of faults up to --faults safeguards is worked through. Both ways of the plug count as normal, for every plug: outlets are wired backwards, adapters fitted, blades filed.

A file of - is standard input. One bad file among several does not stop the others.

Exit status: 0 nothing at or above --fail-on, 1 something, 2 bad use or bad input.`,
	example: `coldcheck example hot-chassis --write set.toml
coldcheck inspect set.toml`,
	flags: []flagInfo{
		{"faults", "how many safeguards may fail at once, 0 to 3 (default 2)", func(o *options) value { return count{&o.faults, 0, 3} }},
		{"brief", "one line a finding", func(o *options) value { return toggle{&o.brief} }},
		supplyFlag, earthedFlag,
		{"fail-on", "danger, warning, caution, notice or never: the weakest that makes the exit status 1 (default warning)",
			func(o *options) value { return choice{&o.failOn, failWords(), "SIGNAL"} }},
		{"format", "how the result is written (default text); html is a page to look at, with drawings",
			func(o *options) value { return choice{&o.format, []string{formatText, formatJSON, formatHTML}, ""} }},
		writeFlag,
	},
	defaults: options{faults: analysis.DefaultFaults, failOn: "warning", format: formatText},
	run:      inspect,
}

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
	if c.options.write != "" && c.options.write != "-" {
		if err := mustBeFree(c.options.write); err != nil {
			c.say(err)
			return statusBad
		}
	}
	reports, bad := c.reports()
	status := c.failStatus(reports)
	if bad {
		status = statusBad
	}
	if len(reports) == 0 && len(c.args) == 1 {
		return status
	}
	written := c.write(c.options.write, func(o *output) {
		if c.options.format == formatJSON {
			c.inspectJSON(o, reports)
			return
		}
		if c.options.format == formatHTML {
			if err := browser.Inspect(o, reports); err != nil {
				o.spoil(err)
			}
			return
		}
		page := text.NewPage(o, o.colour)
		for i, r := range reports {
			if i > 0 {
				page.Blank()
			}
			page.Inspect(r, text.InspectOptions{Brief: c.options.brief, File: len(c.args) > 1})
		}
	})
	return max(status, written)
}

// reports inspects every file, and tells whether one of them was bad.
func (c *call) reports() (reports []*rules.Report, bad bool) {
	for _, file := range c.args {
		circuit, err := c.circuit(file)
		if err != nil {
			c.sayProblem(err)
			bad = true
			continue
		}
		reports = append(reports, rules.Check(circuit, analysis.Options{Faults: c.options.faults}))
	}
	return reports, bad
}

// failStatus is statusFound where a report has something at or above --fail-on.
func (c *call) failStatus(reports []*rules.Report) int {
	for signal, name := range rules.Signals {
		if name != c.options.failOn {
			continue
		}
		for _, r := range reports {
			if worst, any := r.Worst(); any && int(worst) >= signal {
				return statusFound
			}
		}
	}
	return statusOK
}

// inspectJSON writes one object for one file, an array for several.
func (c *call) inspectJSON(o *output, reports []*rules.Report) {
	all := []*jsonout.Inspect{}
	for _, r := range reports {
		all = append(all, jsonout.OfReport(r, c.options.supply))
	}
	var err error
	if len(c.args) == 1 {
		err = jsonout.Write(o, all[0])
	} else {
		err = jsonout.Write(o, all)
	}
	if err != nil {
		o.spoil(err)
	}
}
