package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strings"

	"github.com/spf13/pflag"

	"coldcheck/netlist"
)

// The exit statuses.
const (
	statusOK    = 0
	statusFound = 1 // of inspect: something at or above --fail-on
	statusBad   = 2 // bad use or bad input
)

// call is one use of the program.
type call struct {
	command *command
	options *options
	args    []string // what the flags left
	stdin   io.Reader
	stdout  io.Writer
	stderr  io.Writer
}

// run is the program.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	heedPipes()
	c := &call{stdin: stdin, stdout: stdout, stderr: stderr}
	if len(args) == 1 && args[0] == "--version" {
		return c.print(version())
	}
	name, rest, err := choose(args)
	if err != nil {
		c.say(err)
		return statusBad
	}
	if name == "" {
		return c.print(greeting)
	}
	c.command = findCommand(name)
	c.options, c.args, err = c.command.parse(rest)
	switch {
	case errors.Is(err, pflag.ErrHelp):
		return c.print(c.command.helpText())
	case err != nil:
		c.say(err)
		c.sayLine("see: coldcheck help " + c.command.name)
		return statusBad
	}
	return c.command.run(c)
}

// choose finds the command of an argument list. A file, or a flag, stands for inspect.
func choose(args []string) (name string, rest []string, err error) {
	if len(args) == 0 {
		return "", nil, nil
	}
	first := args[0]
	switch {
	case first == "-h" || first == "--help":
		return "help", args[1:], nil
	case findCommand(first) != nil:
		return first, args[1:], nil
	case strings.HasPrefix(first, "-") || isFile(first):
		return "inspect", args, nil
	}
	if ours := otherWords[strings.ToLower(first)]; ours != "" {
		return "", nil, fmt.Errorf("no command %q; %s", netlist.Visible(first), ours)
	}
	if looksLikeFile(first) {
		return "inspect", args, nil
	}
	if near := nearest(first, commandNames()); near != "" {
		return "", nil, fmt.Errorf("no command %q%s", netlist.Visible(first), meant("coldcheck "+near))
	}
	return "", nil, fmt.Errorf("no command and no file %q; the commands are %s", netlist.Visible(first), strings.Join(commandNames(), ", "))
}

// version says which build this is, as Go stamps it.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "coldcheck, of an unknown version\n"
	}
	return fmt.Sprintf("coldcheck %s, built with %s\n", info.Main.Version, info.GoVersion)
}

func isFile(path string) bool {
	info, err := os.Stat(path)
	return err == nil && !info.IsDir()
}

func looksLikeFile(word string) bool { return strings.ContainsAny(word, `./\`) }

// print writes a text to standard output.
func (c *call) print(s string) int {
	return c.write("", func(o *output) { io.WriteString(o, s) })
}

// write opens the output, lets make fill it, and closes it.
func (c *call) write(path string, make func(*output)) int {
	o, err := c.open(path)
	if err == nil {
		make(o)
		err = o.close()
	}
	if err != nil {
		c.say(err)
		return statusBad
	}
	return statusOK
}

// say tells an error, each of its lines as one.
func (c *call) say(err error) {
	for line := range strings.Lines(err.Error()) {
		c.sayLine(strings.TrimRight(line, "\n"))
	}
}

func (c *call) sayLine(line string) { fmt.Fprintln(c.stderr, "coldcheck: "+line) }

// usage tells what is wrong with the arguments, and where to read how they go.
func (c *call) usage(format string, args ...any) int {
	c.sayLine(fmt.Sprintf(format, args...))
	c.sayLine("see: coldcheck help " + c.command.name)
	return statusBad
}
