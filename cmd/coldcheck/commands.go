package main

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"coldcheck/cmd/coldcheck/usage"
	"coldcheck/netlist"
)

// otherWords answers the words that people try for our commands.
var otherWords = map[string]string{
	"check":   "coldcheck inspect FILE looks a set over",
	"test":    "coldcheck inspect FILE looks a set over",
	"run":     "coldcheck inspect FILE looks a set over",
	"new":     "coldcheck draft FILE asks about a set and writes its file; coldcheck example NAME prints one to start from",
	"list":    "coldcheck example lists the set files that are here, coldcheck why the rules, coldcheck part the parts",
	"explain": "coldcheck why RULE says what a finding means, coldcheck part KIND what a part is",
}

// findCommand finds a command by its name, nil where there is none.
func (p *program) findCommand(name string) *cobra.Command {
	if i := slices.Index(p.commandNames(), name); i >= 0 {
		return p.commands[i]
	}
	return nil
}

func (p *program) commandNames() []string {
	return each(p.commands, (*cobra.Command).Name)
}

// firstWord tells what is wrong with a first word that is neither a command nor a file.
func (p *program) firstWord(_ *cobra.Command, args []string) error {
	if len(args) == 0 || args[0] == "-" || isFile(args[0]) {
		return nil
	}
	word := args[0]
	wrong := func(format string, args ...any) error {
		return &useError{text: fmt.Sprintf(format, args...), whole: true}
	}
	if ours := otherWords[strings.ToLower(word)]; ours != "" {
		return wrong("no command %q; %s", netlist.Visible(word), ours)
	}
	if looksLikeFile(word) {
		return nil
	}
	if near := netlist.Nearest(word, p.commandNames()); near != "" {
		return wrong("no command %q%s", netlist.Visible(word), usage.Meant("coldcheck "+near))
	}
	return wrong("no command and no file %q; the commands are %s", netlist.Visible(word), strings.Join(p.commandNames(), ", "))
}

// each is what a list gives, one by one.
func each[T, R any](list []T, of func(T) R) []R {
	all := make([]R, 0, len(list))
	for _, one := range list {
		all = append(all, of(one))
	}
	return all
}

func isFile(path string) bool {
	info, err := os.Stat(path)
	return err == nil && !info.IsDir()
}

func looksLikeFile(word string) bool { return strings.ContainsAny(word, `./\`) }

// oneFile lets a command take one set file.
func oneFile(c *cobra.Command, args []string) error {
	switch len(args) {
	case 0:
		return badUse("%s needs a set file behind it, or - for standard input", c.Name())
	case 1:
		return nil
	}
	return badUse("%s takes one set file, and here are %d: %s", c.Name(), len(args), netlist.Visible(strings.Join(args, ", ")))
}

// atMostOne lets a command take one argument, or none.
func atMostOne(what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) > 1 {
			return badUse("%s takes one %s", c.Name(), what)
		}
		return nil
	}
}
