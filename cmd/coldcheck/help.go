package main

import (
	"strings"

	"github.com/spf13/cobra"

	"coldcheck/cmd/coldcheck/text"
	"coldcheck/cmd/coldcheck/usage"
	"coldcheck/netlist"
)

func helpCommand(p *program) *cobra.Command {
	o := &options{}
	c := p.command(o, p.help, &cobra.Command{
		Use:   "help [--manual] [COMMAND]",
		Short: "how a command is used; alone, the list of commands",
		Long: `Tells how a command is used, its flags and an example. Alone it lists the commands.

With --manual it prints the manual page of all commands as man reads it: coldcheck help --manual > coldcheck.1`,
		Example:           `coldcheck help inspect`,
		Args:              atMostOne("command"),
		ValidArgsFunction: firstOf(p.commandWords),
	})
	c.Flags().BoolVar(&o.manual, "manual", false, "print the manual page of all commands, in the language of man")
	return c
}

func (p *program) help(c *call) int {
	if c.options.manual {
		if len(c.args) > 0 {
			return c.usage("help --manual takes no command; the page has all of them")
		}
		return c.print(usage.Manual(p.commands))
	}
	if len(c.args) == 0 {
		return p.overview(c)
	}
	name := c.args[0]
	if topic := p.findCommand(name); topic != nil {
		return c.show(func(p *text.Page) { usage.Command(p, topic) })
	}
	if ours := otherWords[strings.ToLower(name)]; ours != "" {
		return c.usage("no command %q; %s", netlist.Visible(name), ours)
	}
	return c.usage("no command %q%s", netlist.Visible(name), usage.Meant(netlist.Nearest(name, p.commandNames())))
}

func (p *program) overview(c *call) int {
	return c.show(func(page *text.Page) { usage.Overview(page, p.commands) })
}

// helpFlag answers --help: the list of commands where it stands alone, else how the command is used.
func (p *program) helpFlag(c *call) int {
	given := c.command.Flags()
	if !c.command.HasParent() {
		if given.NFlag() == 1 && given.NArg() == 0 {
			return p.overview(c)
		}
		if err := p.firstWord(c.command, given.Args()); err != nil {
			c.say(err)
			return statusBad
		}
	}
	topic := p.topic(c.command)
	return c.show(func(p *text.Page) { usage.Command(p, topic) })
}

// topic is the command that is used: without the name of one it is inspect.
func (p *program) topic(c *cobra.Command) *cobra.Command {
	if !c.HasParent() {
		return p.findCommand(inspectName)
	}
	return c
}

// commandWords are the commands with what they do, as completion has them.
func (p *program) commandWords() []string {
	return each(p.commands, func(c *cobra.Command) string { return cobra.CompletionWithDesc(c.Name(), c.Short) })
}
