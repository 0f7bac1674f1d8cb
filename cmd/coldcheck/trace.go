package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"coldcheck/analysis/trace"
	"coldcheck/cmd/coldcheck/flags"
	"coldcheck/cmd/coldcheck/jsonout"
	"coldcheck/cmd/coldcheck/output"
	"coldcheck/netlist"
)

func traceCommand(p *program) *cobra.Command {
	o := &options{from: trace.FromHot, paths: 3, format: formatText}
	c := p.command(o, traceRun, &cobra.Command{
		Use:   "trace [flags] FILE",
		Short: "the paths from each line conductor to each touch point, with the current each state drives",
		Long: `Follows the wiring from the hot conductor to every touch point, as one would with a probe: fewest safeguards first, then fewest parts. Each plug polarity makes the other conductor the hot one, so both have their turn. Beside the paths stands what the state drives to the point. Controls stand at the middle, or a rheostat at full, unless --switch asks for others.

A path says how current may come, the figures say how much. Both are told, and where they disagree, that too.`,
		Example:           `coldcheck trace --to chassis --switch S1=off set.toml`,
		Args:              oneFile,
		ValidArgsFunction: setFiles,
	})
	c.Flags().Var(flags.Word(&o.from, "hot|neutral|NODE"), "from", "hot, neutral, or a node (default hot)")
	c.Flags().Var(flags.Word(&o.to, "NODE"), "to", "only this node, touch point or not")
	c.Flags().Var(flags.Count(&o.paths, 1, 100), "paths", "how many paths at most to each (default 3)")
	o.positionFlags(c.Flags())
	o.benchFlags(c.Flags())
	o.formatFlag(c.Flags())
	o.textFlags(c.Flags())
	return c
}

func traceRun(c *call) int {
	circuit, err := c.circuit(c.args[0])
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
	return c.write("", func(o *output.Output) error {
		if c.options.format == formatJSON {
			return jsonout.Write(o, jsonout.OfTraces(circuit, c.options.supply, traces))
		}
		c.page(o).Traces(circuit, traces)
		return nil
	})
}

// knownEnds tells what is wrong with --from and --to, if they are no nodes of the set.
func knownEnds(set *netlist.Set, q trace.Query) error {
	for _, end := range []struct{ flag, name string }{{"from", q.From}, {"to", q.To}} {
		if end.name == "" || end.flag == "from" && (end.name == trace.FromHot || end.name == trace.FromNeutral) || set.Node(end.name) != nil {
			continue
		}
		return noNode(end.flag, end.name, nodeNames(set))
	}
	if q.To != "" && q.From == q.To {
		return fmt.Errorf("--from and --to are one node, %q", netlist.Visible(q.To))
	}
	return nil
}
