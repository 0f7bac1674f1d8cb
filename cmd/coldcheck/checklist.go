package main

import (
	"github.com/spf13/cobra"

	"coldcheck/analysis/diagnose"
	"coldcheck/cmd/coldcheck/flags"
	"coldcheck/cmd/coldcheck/jsonout"
	"coldcheck/cmd/coldcheck/output"
	browser "coldcheck/cmd/coldcheck/page"
)

func checklistCommand(p *program) *cobra.Command {
	o := &options{format: formatText}
	c := p.command(o, checklist, &cobra.Command{
		Use:   "checklist [flags] FILE",
		Short: "the cold and hot checks to make on a set, the figure to expect, and what its readings say",
		Long: `Lays out what to measure of this set, to print and take to the bench, in the order in which a careful person goes: cold, ohms from the plug's blades to every metal part that a hand can reach and between those; bringing up, what the set draws at a quarter, half, three quarters and all of its mains, the lamp to take and what it shows; hot, volts to earth in both plug polarities and every switch position, with those that must not be made because the metal is live then; the working volts of heaters, B-plus, plates, screens and cathodes; the worst volts of each capacitor. Each has the figure to expect, the band that is still right, a blank, and what another result would mean.

Where the file holds readings, they are held against the wiring as described, the meter's own ohms reckoned in, on the supply asked for. Where they do not agree, what would explain all of them together is ranked: faults, the plug the other way round, a switch in the other leg, a part connected otherwise, of another value, leaking, dried out or weak. A DC reading between the lower edge of the working volts and the peak with nothing drawn tells of no fault.`,
		Example:           `coldcheck checklist --write bench.txt set.toml`,
		Args:              oneFile,
		ValidArgsFunction: setFiles,
	})
	c.Flags().Var(flags.Word(&o.reference, "NODE"), "reference", "the node against which working volts are told (default B-minus)")
	o.benchFlags(c.Flags())
	o.pageFlag(c.Flags())
	o.textFlags(c.Flags())
	o.writeFlag(c.Flags())
	return c
}

func checklist(c *call) int {
	circuit, err := c.circuit(c.args[0])
	if err != nil {
		c.sayProblem(err)
		return statusBad
	}
	reference := c.options.reference
	if reference != "" && circuit.Set.Node(reference) == nil {
		c.sayProblem(noNode("reference", reference, nodeNames(circuit.Set)))
		return statusBad
	}
	checks := diagnose.ChecksAgainst(circuit, reference)
	return c.write(c.options.write, func(o *output.Output) error {
		switch c.options.format {
		case formatJSON:
			return jsonout.Write(o, jsonout.OfChecklist(checks, c.options.supply))
		case formatHTML:
			return browser.Checklist(o, checks)
		}
		c.page(o).Checklist(checks)
		return nil
	})
}
