package main

import (
	"io"

	"github.com/spf13/cobra"

	"coldcheck/cmd/coldcheck/output"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/cmd/coldcheck/usage"
	"coldcheck/netlist"
	"coldcheck/netlist/examples"
)

func exampleCommand(p *program) *cobra.Command {
	o := &options{}
	c := p.command(o, example, &cobra.Command{
		Use:               "example [--write FILE] [NAME]",
		Short:             "list, or print, set files for the classic line-side arrangements",
		Long:              `Alone, lists the set files that are here, one for each classic line-side arrangement. With a name it prints that file, comments and all, to change into your own.`,
		Example:           "coldcheck example floating-b-minus --write mine.toml",
		Args:              atMostOne("name"),
		ValidArgsFunction: firstOf(exampleWords),
	})
	o.writeFlag(c.Flags())
	o.textFlags(c.Flags())
	return c
}

func example(c *call) int {
	if len(c.args) == 0 {
		if c.options.write != "" {
			return c.usage("--write needs the name of an example; coldcheck example lists them")
		}
		return c.exampleList()
	}
	name := c.args[0]
	found, ok := examples.FindSet(name)
	if !ok {
		found, ok = examples.FindPlan(name)
	}
	if !ok {
		return c.usage("no example %q%s", netlist.Visible(name), usage.MeantOr(netlist.Nearest(name, exampleNames()), "coldcheck example lists them"))
	}
	if c.options.write == "" {
		return c.show(func(p *text.Page) { p.Source(found.Text) })
	}
	return c.write(c.options.write, func(o *output.Output) error {
		_, err := io.WriteString(o, found.Text)
		return err
	})
}

func (c *call) exampleList() int {
	return c.show(func(p *text.Page) {
		table := &text.Table{Widths: []int{30, text.Width - 34}, Names: true}
		for _, e := range examples.Sets() {
			table.Row(e.Name, netlist.Visible(e.Title))
		}
		p.Table(0, table)
		plans := &text.Table{Widths: []int{30, text.Width - 34}, Names: true}
		for _, e := range examples.Plans() {
			plans.Row(e.Name, netlist.Visible(e.Title))
		}
		p.Blank()
		p.Para("", "Plans to rework some of them; coldcheck rework SET PLAN says what each does:")
		p.Table(0, plans)
	})
}

// allExamples are the set files and the plans.
func allExamples() []examples.Example { return append(examples.Sets(), examples.Plans()...) }

func exampleNames() []string {
	return each(allExamples(), func(e examples.Example) string { return e.Name })
}

func exampleWords() []string {
	return each(allExamples(), func(e examples.Example) string { return cobra.CompletionWithDesc(e.Name, netlist.Visible(e.Title)) })
}
