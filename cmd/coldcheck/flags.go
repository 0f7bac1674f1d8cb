package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// options are what the flags of all commands leave behind, with their defaults.
type options struct {
	faults  int
	brief   bool
	supply  string
	earthed []string
	failOn  string
	format  string
	write   string

	plug     string
	switches []setting
	points   []string
	from, to string
	paths    int

	propose bool
	force   bool
	manual  bool
}

// flagInfo is one flag of a command: its name, what it does, and how its value is read.
type flagInfo struct {
	name  string
	help  string // a phrase, the default among it where there is one
	value func(*options) value
}

// flagSet makes the flags of a command ready to parse into o.
func (c *command) flagSet(o *options) *pflag.FlagSet {
	fs := pflag.NewFlagSet(c.name, pflag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.Usage = func() {}
	for _, info := range c.flags {
		v := info.value(o)
		f := fs.VarPF(v, info.name, "", info.help)
		if _, ok := v.(toggle); ok {
			f.NoOptDefVal = "true"
		}
	}
	return fs
}

// parse reads the flags of a command and gives what is left of the arguments. Asked for help it
// gives pflag.ErrHelp.
func (c *command) parse(args []string) (*options, []string, error) {
	o := c.defaults
	fs := c.flagSet(&o)
	if err := oneDash(fs, args); err != nil {
		return nil, nil, err
	}
	if err := fs.Parse(args); err != nil {
		return nil, nil, c.flagError(err)
	}
	return &o, fs.Args(), nil
}

// oneDash finds words such as -format=json, which would be read as several flags of one letter.
func oneDash(fs *pflag.FlagSet, args []string) error {
	for i := 0; i < len(args); i++ {
		arg := args[i]
		switch {
		case arg == "--":
			return nil
		case strings.HasPrefix(arg, "--"):
			name, _, valued := strings.Cut(arg[2:], "=")
			if f := fs.Lookup(name); f != nil && f.NoOptDefVal == "" && !valued {
				i++
			}
		case strings.HasPrefix(arg, "-") && arg != "-" && arg != "-h":
			if name, _, _ := strings.Cut(arg[1:], "="); name == "help" || fs.Lookup(name) != nil {
				return fmt.Errorf("%s: flags are written with two dashes: -%s", netlist.Visible(arg), netlist.Visible(arg))
			}
			return fmt.Errorf("%s: no such flag; a file of that name is written ./%s", netlist.Visible(arg), netlist.Visible(arg))
		}
	}
	return nil
}

func (c *command) flagError(err error) error {
	var unknown *pflag.NotExistError
	var lacks *pflag.ValueRequiredError
	var invalid *pflag.InvalidValueError
	switch {
	case errors.Is(err, pflag.ErrHelp):
		return pflag.ErrHelp
	case errors.As(err, &unknown):
		return c.unknownFlag(unknown.GetSpecifiedName())
	case errors.As(err, &lacks):
		return fmt.Errorf("--%s needs %s behind it", lacks.GetSpecifiedName(), needed(lacks.GetFlag().Value))
	case errors.As(err, &invalid):
		return fmt.Errorf("--%s %s: %w", invalid.GetFlag().Name, netlist.Visible(invalid.GetValue()), errors.Unwrap(invalid))
	}
	return err
}

// needed tells what belongs behind a flag.
func needed(v pflag.Value) string {
	if v, ok := v.(value); ok && len(v.choices()) > 0 {
		return phrase.Or(v.choices())
	}
	return "a " + v.Type()
}

func (c *command) unknownFlag(name string) error {
	name = netlist.Visible(name)
	own := c.flagNames()
	if near := nearest(name, own); near != "" {
		return fmt.Errorf("%s has no flag --%s%s", c.name, name, meant("--"+near))
	}
	var others []string
	for _, other := range commands() {
		for _, f := range other.flags {
			if f.name == name {
				others = append(others, other.name)
			}
		}
	}
	switch {
	case len(others) > 0:
		return fmt.Errorf("%s has no flag --%s; it belongs to %s", c.name, name, phrase.List(others))
	case len(own) == 0:
		return fmt.Errorf("%s has no flag --%s, nor any other", c.name, name)
	}
	return fmt.Errorf("%s has no flag --%s; it has --%s", c.name, name, strings.Join(own, ", --"))
}

func (c *command) flagNames() []string {
	var names []string
	for _, f := range c.flags {
		names = append(names, f.name)
	}
	return names
}
