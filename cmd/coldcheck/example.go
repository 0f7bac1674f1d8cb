package main

import (
	"io"

	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/netlist/examples"
)

var exampleCommand = &command{
	name:     "example",
	synopsis: "[--write FILE] [NAME]",
	summary:  "list, or print, set files for the classic line-side arrangements",
	help:     `Alone, lists the set files that are here, one for each classic line-side arrangement. With a name it prints that file, comments and all, to change into your own.`,
	example:  "coldcheck example floating-b-minus --write mine.toml",
	flags:    []flagInfo{writeFlag},
	run:      example,
}

func example(c *call) int {
	switch len(c.args) {
	case 0:
		if c.options.write != "" {
			return c.usage("--write needs the name of an example; coldcheck example lists them")
		}
		return c.print(exampleList())
	case 1:
	default:
		return c.usage("example takes one name")
	}
	name := c.args[0]
	found, ok := examples.FindSet(name)
	if !ok {
		found, ok = examples.FindPlan(name)
	}
	if !ok {
		var names []string
		for _, e := range append(examples.Sets(), examples.Plans()...) {
			names = append(names, e.Name)
		}
		return c.usage("no example %q%s", netlist.Visible(name), meantOr(nearest(name, names), "coldcheck example lists them"))
	}
	return c.write(c.options.write, func(o *output) { io.WriteString(o, found.Text) })
}

func exampleList() string {
	return page(func(p *text.Page) {
		table := &text.Table{Widths: []int{30, text.Width - 34}}
		for _, e := range examples.Sets() {
			table.Row(e.Name, netlist.Visible(e.Title))
		}
		p.Table(0, table)
		plans := &text.Table{Widths: []int{30, text.Width - 34}}
		for _, e := range examples.Plans() {
			plans.Row(e.Name, netlist.Visible(e.Title))
		}
		p.Blank()
		p.Para("", "Plans to rework some of them; coldcheck rework SET PLAN says what each does:")
		p.Table(0, plans)
	})
}
