package main

import (
	"fmt"

	"coldcheck/analysis/trace"
	"coldcheck/cmd/coldcheck/jsonout"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
)

var traceCommand = &command{
	name:     "trace",
	synopsis: "[flags] FILE",
	summary:  "the paths from each line conductor to each touch point, with the current each state drives",
	help: `Follows the wiring from the hot conductor to every touch point, as one would with a probe: fewest safeguards first, then fewest parts. Each plug way makes the other conductor the hot one, so both have their turn. Beside the paths stands what the state drives to the point.

A path says how current may come, the figures say how much. Both are told, and where they disagree, that too.`,
	example: `coldcheck trace --to chassis --switch S1=off set.toml`,
	flags: []flagInfo{
		{"from", "hot, neutral, or a node (default hot)", func(o *options) value { return word{&o.from, "hot|neutral|NODE"} }},
		{"to", "only this node, touch point or not", func(o *options) value { return word{&o.to, "NODE"} }},
		{"paths", "how many paths at most to each (default 3)", func(o *options) value { return count{&o.paths, 1, 100} }},
		plugFlag, switchFlag, supplyFlag, earthedFlag, formatFlag,
	},
	defaults: options{from: trace.FromHot, paths: 3, format: formatText},
	run:      traceRun,
}

func traceRun(c *call) int {
	file, ok := c.oneFile()
	if !ok {
		return statusBad
	}
	circuit, err := c.circuit(file)
	if err != nil {
		c.sayProblem(err)
		return statusBad
	}
	query := trace.Query{From: c.options.from, To: c.options.to, Paths: c.options.paths}
	query.Filter, err = c.filter(circuit)
	if err == nil {
		err = knownEnds(circuit.Set, query)
	}
	if err != nil {
		c.say(err)
		return statusBad
	}
	traces := trace.All(circuit, query)
	return c.write("", func(o *output) {
		if c.options.format == formatJSON {
			if err := jsonout.Write(o, jsonout.OfTraces(circuit, c.options.supply, traces)); err != nil {
				o.spoil(err)
			}
			return
		}
		text.NewPage(o, o.colour).Traces(circuit, traces)
	})
}

// knownEnds tells what is wrong with --from and --to, if they are no nodes of the set.
func knownEnds(set *netlist.Set, q trace.Query) error {
	for _, end := range []struct{ flag, name string }{{"from", q.From}, {"to", q.To}} {
		if end.name == "" || end.flag == "from" && (end.name == trace.FromHot || end.name == trace.FromNeutral) || set.Node(end.name) != nil {
			continue
		}
		return fmt.Errorf("--%s: the set has no node %q%s", end.flag, netlist.Visible(end.name), meant(nearest(end.name, nodeNames(set))))
	}
	if q.To != "" && q.From == q.To {
		return fmt.Errorf("--from and --to are one node, %q", netlist.Visible(q.To))
	}
	return nil
}
