package main

import (
	"github.com/spf13/cobra"

	"coldcheck/analysis"
	"coldcheck/analysis/grouping"
	"coldcheck/cmd/coldcheck/flags"
	"coldcheck/cmd/coldcheck/jsonout"
	"coldcheck/cmd/coldcheck/output"
)

func statesCommand(p *program) *cobra.Command {
	o := &options{faults: 1, format: formatText}
	c := p.command(o, states, &cobra.Command{
		Use:   "states [flags] FILE",
		Short: "the table of every plug polarity, switch position and fault against every touch point",
		Long: `Works out what is read at every touch point in every plug polarity, switch position, with each rectifier in turn, then all small diodes, taken as conducting, and with every set of up to --faults faults. Suspect parts count as faults like any other; guards are left aside: the figures are those of the bare metal. Controls stand at the middle, or a rheostat at full, unless --controls or --switch asks for others.

The text folds states together that read alike, live ones first. The JSON has every state, and is written as it is worked out.`,
		Example:           `coldcheck states --switch S1=off --faults 0 set.toml`,
		Args:              oneFile,
		ValidArgsFunction: setFiles,
	})
	c.Flags().Var(flags.Count(&o.faults, 0, 2), "faults", "how many faults at once, 0 to 2 (default 1)")
	o.positionFlags(c.Flags())
	c.Flags().BoolVar(&o.controls, "controls", false, "every position of the controls too, at most two of them away from the middle or full")
	c.Flags().Var(flags.Words(&o.points, "NODE"), "point", "only this touch point; may be repeated")
	o.benchFlags(c.Flags())
	o.formatFlag(c.Flags())
	o.textFlags(c.Flags())
	return c
}

func states(c *call) int {
	circuit, err := c.circuit(c.args[0])
	if err != nil {
		c.sayProblem(err)
		return statusBad
	}
	filter, err := c.filter(circuit)
	if err != nil {
		c.say(err)
		return statusBad
	}
	points, err := c.pointIndexes(circuit)
	if err != nil {
		c.say(err)
		return statusBad
	}
	return c.write("", func(o *output.Output) error {
		if c.options.format == formatJSON {
			return c.statesJSON(o, circuit, filter, points)
		}
		table := grouping.New(circuit, points)
		circuit.EachState(c.options.faults, filter, func(row analysis.Row) bool {
			table.Add(row)
			return true
		})
		c.page(o).States(table, c.options.faults)
		return nil
	})
}

func (c *call) statesJSON(o *output.Output, circuit *analysis.Circuit, filter analysis.Filter, points []int) error {
	table, err := jsonout.NewStates(o, circuit, c.options.supply, points)
	if err != nil {
		return err
	}
	circuit.EachState(c.options.faults, filter, func(row analysis.Row) bool {
		err = table.Row(row)
		return err == nil
	})
	if err != nil {
		return err
	}
	return table.Close()
}
