package main

import (
	"strings"

	"github.com/spf13/cobra"

	"coldcheck/cmd/coldcheck/jsonout"
	"coldcheck/cmd/coldcheck/output"
	"coldcheck/cmd/coldcheck/usage"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
	"coldcheck/rules/phrase"
)

func schemaCommand(p *program) *cobra.Command {
	o := &options{}
	c := p.command(o, schema, &cobra.Command{
		Use:   "schema [--write FILE] NAME",
		Short: "JSON Schemas: of a set file, of a plan, and of each command's JSON",
		Long: `Prints a JSON Schema (draft 2020-12). That of set and that of plan are for editors that know TOML: with it they complete and check a file as it is typed. What only the whole set can show, a misspelt point, a second plug, an unknown tube, is left to coldcheck inspect.

Those of inspect, states, trace, rework, checklist and record say what the command prints with --format json. Keys may be added in time; none is renamed, and none that is named goes away.`,
		Example:           `coldcheck schema set --write coldcheck-set.schema.json`,
		ValidArgsFunction: firstOf(schemaNames),
	})
	o.writeFlag(c.Flags())
	return c
}

// The schemas that are of no command.
const (
	schemaSet  = "set"
	schemaPlan = "plan"
)

func schemaNames() []string {
	return append([]string{schemaSet, schemaPlan}, jsonout.SchemaCommands...)
}

func schema(c *call) int {
	if len(c.args) != 1 {
		return c.usage("schema takes one of %s", phrase.Or(schemaNames()))
	}
	name := strings.ToLower(c.args[0])
	var found any
	switch name {
	case schemaSet:
		found = setfile.Schema()
	case schemaPlan:
		found = plan.Schema()
	default:
		s := jsonout.SchemaOf(name)
		if s == nil {
			return c.usage("no schema %q%s", netlist.Visible(c.args[0]), usage.MeantOr(netlist.Nearest(name, schemaNames()), "there are "+phrase.List(schemaNames())))
		}
		return c.write(c.options.write, func(o *output.Output) error {
			_, err := o.Write(s)
			return err
		})
	}
	return c.write(c.options.write, func(o *output.Output) error { return jsonout.Write(o, found) })
}
