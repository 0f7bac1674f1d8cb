package usage

import (
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"coldcheck/cmd/coldcheck/text"
)

// Help is the flag that every command has, and that none has to tell.
const Help = "help"

const greetingHead = `coldcheck reads how an old line-connected set is wired and says what in it can hurt a person.
Write down the set as a set file, one part a line, then: coldcheck inspect FILE
Or answer questions about its line side, and have the file written: coldcheck draft FILE
Every command: coldcheck help. Set files to start from: coldcheck example
`

// Greeting is what the program says on its own.
const Greeting = greetingHead + `
  coldcheck example hot-chassis --write set.toml
  coldcheck set.toml
`

// What holds for every command.
const (
	notes      = "coldcheck FILE inspects, coldcheck --version tells which build this is. A file of - is standard input. Results go to standard output, everything else to standard error."
	exitStatus = "0 nothing to tell, or done; 1 inspect or rework found something at or above --fail-on; 2 bad use or bad input."
)

// Flags are the flags that a command has beside --help, in the order of their making.
func Flags(c *cobra.Command) []*pflag.Flag {
	var own []*pflag.Flag
	c.Flags().VisitAll(func(f *pflag.Flag) {
		if f.Name != Help {
			own = append(own, f)
		}
	})
	return own
}

// TakesNothing reports whether a flag stands alone.
func TakesNothing(f *pflag.Flag) bool { return f.NoOptDefVal != "" }

// Written is a flag as it stands in a command line.
func Written(f *pflag.Flag) string {
	if TakesNothing(f) {
		return "--" + f.Name
	}
	return "--" + f.Name + " " + f.Value.Type()
}

// Overview writes the list of commands.
func Overview(p *text.Page, commands []*cobra.Command) {
	p.Para("", "coldcheck COMMAND [flags] FILE…")
	p.Blank()
	table := &text.Table{Widths: []int{10, text.Width - 14}}
	for _, c := range commands {
		table.Row(c.Name(), c.Short)
	}
	p.Table(2, table)
	p.Blank()
	p.Para("", notes)
	p.Para("", "Exit status: "+exitStatus)
	p.Blank()
	p.Line("Example")
	p.Line("  coldcheck example hot-chassis --write set.toml")
	p.Line("  coldcheck inspect set.toml")
}

// Command writes all there is to say of a command.
func Command(p *text.Page, c *cobra.Command) {
	p.Para("", "coldcheck "+c.Use)
	p.Blank()
	p.Para("", c.Long)
	if flags := Flags(c); len(flags) > 0 {
		p.Blank()
		p.Line("Flags")
		table := &text.Table{Widths: []int{26, 68}}
		for _, f := range flags {
			table.Row(Written(f), f.Usage)
		}
		p.Table(2, table)
	}
	p.Blank()
	p.Line("Example")
	for line := range strings.SplitSeq(c.Example, "\n") {
		p.Line("  " + line)
	}
}
