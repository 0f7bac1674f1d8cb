package main

import (
	"bytes"
	"strings"

	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
)

const greetingHead = `coldcheck reads how an old line-connected set is wired and says what in it can hurt a person.
Write down the set as a set file, one part a line, then: coldcheck inspect FILE
Every command: coldcheck help. Set files to start from: coldcheck example
`

// greeting is what the program says on its own.
const greeting = greetingHead + `
  coldcheck example hot-chassis --write set.toml
  coldcheck set.toml
`

// What holds for every command.
const (
	usageNotes = "coldcheck FILE inspects, coldcheck --version tells which build this is. A file of - is standard input. Results go to standard output, everything else to standard error."
	exitStatus = "0 nothing to tell, or done; 1 inspect or rework found something at or above --fail-on; 2 bad use or bad input."
)

var helpCommand = &command{
	name:     "help",
	synopsis: "[--manual] [COMMAND]",
	summary:  "how a command is used; alone, the list of commands",
	help: `Tells how a command is used, its flags and an example. Alone it lists the commands.

With --manual it prints the manual page of all commands as man reads it: coldcheck help --manual > coldcheck.1`,
	example: `coldcheck help inspect`,
	flags: []flagInfo{{"manual", "print the manual page of all commands, in the language of man",
		func(o *options) value { return toggle{&o.manual} }}},
}

// help tells the table that it stands in; set here, it closes no ring of initial values.
func init() { helpCommand.run = help }

func help(c *call) int {
	if c.options.manual {
		if len(c.args) > 0 {
			return c.usage("help --manual takes no command; the page has all of them")
		}
		return c.print(manual())
	}
	switch len(c.args) {
	case 0:
		return c.print(overview())
	case 1:
	default:
		return c.usage("help takes one command")
	}
	name := c.args[0]
	if topic := findCommand(name); topic != nil {
		return c.print(topic.helpText())
	}
	if ours := otherWords[strings.ToLower(name)]; ours != "" {
		return c.usage("no command %q; %s", netlist.Visible(name), ours)
	}
	return c.usage("no command %q%s", netlist.Visible(name), meant(nearest(name, commandNames())))
}

// overview is the list of commands.
func overview() string {
	return page(func(p *text.Page) {
		p.Para("", "coldcheck COMMAND [flags] FILE…")
		p.Blank()
		table := &text.Table{Widths: []int{10, text.Width - 14}}
		for _, c := range commands() {
			table.Row(c.name, c.summary)
		}
		p.Table(2, table)
		p.Blank()
		p.Para("", usageNotes)
		p.Para("", "Exit status: "+exitStatus)
		p.Blank()
		p.Line("Example")
		p.Line("  coldcheck example hot-chassis --write set.toml")
		p.Line("  coldcheck inspect set.toml")
	})
}

// helpText is all there is to say of a command.
func (c *command) helpText() string {
	return page(func(p *text.Page) {
		p.Para("", strings.TrimSpace("coldcheck "+c.name+" "+c.synopsis))
		p.Blank()
		p.Para("", c.help)
		if len(c.flags) > 0 {
			p.Blank()
			p.Line("Flags")
			table := &text.Table{Widths: []int{26, 68}}
			for _, f := range c.flags {
				table.Row(f.written(), f.help)
			}
			p.Table(2, table)
		}
		p.Blank()
		p.Line("Example")
		for line := range strings.SplitSeq(c.example, "\n") {
			p.Line("  " + line)
		}
	})
}

// written is a flag as it stands in a command line.
func (f flagInfo) written() string {
	o := options{}
	v := f.value(&o)
	return strings.TrimSpace("--" + f.name + " " + v.Type())
}

func page(fill func(*text.Page)) string {
	var b bytes.Buffer
	fill(text.NewPage(&b, false))
	return b.String()
}
