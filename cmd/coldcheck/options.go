package main

import (
	"errors"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/flags"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/cmd/coldcheck/usage"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// options are what the flags of a command leave behind, beside its defaults.
type options struct {
	faults int
	brief  bool
	// remedies are tried also where that is left out.
	remedies  bool
	supply    string
	earthed   []string
	reference string
	failOn    string
	format    string
	write     string

	plug     string
	switches []flags.Setting
	controls bool
	points   []string
	from, to string
	paths    int

	tubes float64 // the heater current of the types that are listed, 0 for none

	propose bool
	keep    []string // parts
	kind    string   // of plan
	name    string   // of the set that is written
	answers string   // a file of draft
	force   bool
	manual  bool

	plan   string // to begin with
	port   int    // 0 for one that is free
	noOpen bool

	width int    // of the text, 0 for the terminal's
	color string // "" for auto
}

// forceFlag is the flag that lets a file be overwritten.
const forceFlag = "force"

// The supplies of --supply. What is not given is the mains, and is not repeated in JSON.
const (
	supplyMains    = "mains"
	supplyIsolated = "isolated"
)

// The formats of --format.
const (
	formatText = "text"
	formatJSON = "json"
	formatHTML = "html"
)

// fileType is what the help of a flag calls a file.
const fileType = "FILE"

// benchFlags are what the set is plugged into and tied to.
func (o *options) benchFlags(fs *pflag.FlagSet) {
	fs.Var(flags.OneOf(&o.supply, supplyMains, supplyIsolated), "supply", "what the set is plugged into (default mains); isolated is an isolating transformer")
	fs.Var(flags.Words(&o.earthed, "NODE"), "earthed", "a node that an instrument's lead ties to earth; may be repeated")
}

// positionFlags narrow the states down.
func (o *options) positionFlags(fs *pflag.FlagSet) {
	fs.Var(flags.OneOf(&o.plug, string(analysis.AsMarked), string(analysis.Reversed)), "plug", "only this plug polarity (default both); of a plain one as-marked makes the line hot that the file calls hot")
	fs.Var(flags.Settings(&o.switches), "switch", "only with this switch, selector or control in this position, like S1=off or R9=zero; may be repeated")
}

func (o *options) formatFlag(fs *pflag.FlagSet) {
	fs.Var(flags.OneOf(&o.format, formatText, formatJSON), "format", "how the result is written (default text)")
}

// pageFlag is --format where a page can be had.
func (o *options) pageFlag(fs *pflag.FlagSet) {
	fs.Var(flags.OneOf(&o.format, formatText, formatJSON, formatHTML), "format",
		"how the result is written (default text); html is a page to look at, or to print")
}

func (o *options) writeFlag(fs *pflag.FlagSet) {
	fs.Var(flags.Word(&o.write, fileType), "write", "write the result to a new file instead of the screen")
}

// The words of --color.
const (
	colorAuto   = "auto"
	colorAlways = "always"
	colorNever  = "never"
)

// textFlags say how text looks.
func (o *options) textFlags(fs *pflag.FlagSet) {
	fs.Var(flags.Count(&o.width, text.LeastWidth, text.Width), "width", "how many columns the text has, 60 to 100 (default the terminal's, 100 without one)")
	fs.Var(flags.OneOf(&o.color, colorAuto, colorAlways, colorNever), "color", "whether the text is coloured (default auto: on a terminal, unless NO_COLOR is set)")
}

// flagError says what is wrong with a flag and what would be right. Help that was asked for before
// it is given all the same.
func (p *program) flagError(c *cobra.Command, err error) error {
	if help, _ := c.Flags().GetBool(usage.Help); help {
		return pflag.ErrHelp
	}
	if !c.HasParent() {
		if wrong := p.firstWord(c, c.Flags().Args()); wrong != nil {
			return wrong
		}
	}
	var unknown *pflag.NotExistError
	var lacks *pflag.ValueRequiredError
	var invalid *pflag.InvalidValueError
	var syntax *pflag.InvalidSyntaxError
	switch {
	case errors.As(err, &unknown) && unknown.GetSpecifiedShortnames() != "":
		return oneDash(c, "-"+unknown.GetSpecifiedShortnames())
	case errors.As(err, &unknown):
		return p.unknownFlag(c, unknown.GetSpecifiedName())
	case errors.As(err, &lacks):
		return badUse("--%s needs %s behind it", lacks.GetFlag().Name, needed(lacks.GetFlag().Value))
	case errors.As(err, &invalid) && usage.TakesNothing(invalid.GetFlag()):
		return badUse("--%s %s: it takes no value; write the flag alone", invalid.GetFlag().Name, netlist.Visible(invalid.GetValue()))
	case errors.As(err, &invalid):
		return badUse("--%s %s: %s", invalid.GetFlag().Name, netlist.Visible(invalid.GetValue()), errors.Unwrap(invalid))
	case errors.As(err, &syntax):
		return badUse("%s: flags are written --name, or --name=value", netlist.Visible(syntax.GetSpecifiedFlag()))
	}
	return err
}

// oneDash answers words such as -format=json, which pflag takes for several flags of one letter.
func oneDash(c *cobra.Command, word string) error {
	name, _, _ := strings.Cut(word[1:], "=")
	if c.Flags().Lookup(name) != nil {
		return badUse("%s: flags are written with two dashes: -%s", netlist.Visible(word), netlist.Visible(word))
	}
	return badUse("%s: no such flag; a file of that name is written ./%s", netlist.Visible(word), netlist.Visible(word))
}

// testWord finds a word such as -test.v, which pflag passes over as one of go test.
func testWord(args []string) string {
	for _, arg := range args {
		switch {
		case arg == "--":
			return ""
		case strings.HasPrefix(arg, "-test."):
			return arg
		}
	}
	return ""
}

// needed tells what belongs behind a flag.
func needed(v pflag.Value) string {
	if words := flags.Choices(v); len(words) > 0 {
		return phrase.Or(words)
	}
	return "a " + v.Type()
}

func (p *program) unknownFlag(c *cobra.Command, name string) error {
	name = netlist.Visible(name)
	topic := p.topic(c)
	if near := netlist.Nearest(name, append(flagNames(c), usage.Help)); near != "" {
		return badUse("%s has no flag --%s%s", topic.Name(), name, usage.Meant("--"+near))
	}
	own := flagNames(topic)
	var others []string
	for _, other := range p.commands {
		if slices.Contains(flagNames(other), name) {
			others = append(others, other.Name())
		}
	}
	switch {
	case len(others) > 0:
		return badUse("%s has no flag --%s; it belongs to %s", topic.Name(), name, phrase.List(others))
	case len(own) == 0:
		return badUse("%s has no flag --%s, nor any other", topic.Name(), name)
	}
	return badUse("%s has no flag --%s; it has --%s", topic.Name(), name, strings.Join(own, ", --"))
}

func flagNames(c *cobra.Command) []string {
	return each(usage.Flags(c), func(f *pflag.Flag) string { return f.Name })
}
