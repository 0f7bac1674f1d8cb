package main

import (
	"coldcheck/analysis"
	"coldcheck/analysis/grouping"
	"coldcheck/cmd/coldcheck/jsonout"
	"coldcheck/cmd/coldcheck/text"
)

var statesCommand = &command{
	name:     "states",
	synopsis: "[flags] FILE",
	summary:  "the table of every plug way, switch position and fault against every touch point",
	help: `Works out what is read at every touch point in every plug way, switch position, with each rectifier in turn taken as conducting, and with every set of up to --faults faults. Suspect parts count as faults like any other; guards are left aside: the figures are those of the bare metal.

The text folds states together that read alike, live ones first. The JSON has every state, and is written as it is worked out.`,
	example: `coldcheck states --switch S1=off --faults 0 set.toml`,
	flags: []flagInfo{
		{"faults", "how many faults at once, 0 to 2 (default 1)", func(o *options) value { return count{&o.faults, 0, 2} }},
		plugFlag, switchFlag,
		{"point", "only this touch point; may be repeated", func(o *options) value { return words{&o.points, "NODE"} }},
		supplyFlag, earthedFlag, formatFlag,
	},
	defaults: options{faults: 1, format: formatText},
	run:      states,
}

func states(c *call) int {
	file, ok := c.oneFile()
	if !ok {
		return statusBad
	}
	circuit, err := c.circuit(file)
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
	return c.write("", func(o *output) {
		if c.options.format == formatJSON {
			c.statesJSON(o, circuit, filter, points)
			return
		}
		table := grouping.New(circuit, points)
		circuit.EachState(c.options.faults, filter, func(row analysis.Row) bool {
			table.Add(row)
			return true
		})
		text.NewPage(o, o.colour).States(table, c.options.faults)
	})
}

func (c *call) statesJSON(o *output, circuit *analysis.Circuit, filter analysis.Filter, points []int) {
	table, err := jsonout.NewStates(o, circuit, c.options.supply, points)
	if err != nil {
		o.spoil(err)
		return
	}
	circuit.EachState(c.options.faults, filter, func(row analysis.Row) bool {
		err = table.Row(row)
		return err == nil
	})
	if err == nil {
		err = table.Close()
	}
	if err != nil {
		o.spoil(err)
	}
}
