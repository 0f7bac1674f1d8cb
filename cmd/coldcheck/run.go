package main

import (
	"errors"
	"fmt"
	"io"
	"runtime"

	"github.com/spf13/cobra"

	"coldcheck/cmd/coldcheck/output"
	"coldcheck/cmd/coldcheck/usage"
)

// The exit statuses.
const (
	statusOK    = 0
	statusFound = 1 // of inspect: something at or above --fail-on
	statusBad   = 2 // bad use or bad input
)

// program is one run: where it reads and writes, its commands in the order of help, and the status
// that it ends with.
type program struct {
	stdin    io.Reader
	stdout   io.Writer
	stderr   io.Writer
	root     *cobra.Command
	commands []*cobra.Command
	status   int
}

// run is the program.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	output.HeedPipes()
	p := newProgram(stdin, stdout, stderr)
	if asksCompletion(args) {
		p.registerValues()
	}
	command, err := p.execute(args)
	if err == nil {
		return p.status
	}
	var bad *useError
	if !errors.As(err, &bad) {
		bad = &useError{text: "these arguments are not understood; coldcheck help lists the commands", whole: true}
	}
	c := p.call(command, nil, nil)
	if bad.whole {
		c.sayLine(bad.text)
		return statusBad
	}
	return c.usage("%s", bad.text)
}

func (p *program) execute(args []string) (*cobra.Command, error) {
	if word := testWord(args); word != "" {
		c, _, _ := p.root.Find(args)
		return c, oneDash(c, word)
	}
	p.root.SetArgs(append([]string{}, args...)) // given nil, cobra takes the arguments of the process
	return p.root.ExecuteC()
}

// newProgram makes the commands. What cobra would say in its own words is kept silent or replaced.
func newProgram(stdin io.Reader, stdout, stderr io.Writer) *program {
	p := &program{stdin: stdin, stdout: stdout, stderr: stderr}
	help := helpCommand(p)
	p.commands = []*cobra.Command{inspectCommand(p), statesCommand(p), traceCommand(p), reworkCommand(p), checklistCommand(p), recordCommand(p), benchCommand(p),
		draftCommand(p), exampleCommand(p), partCommand(p), whyCommand(p), schemaCommand(p), completionCommand(p), help}
	p.root = rootCommand(p)
	p.root.AddCommand(p.commands...)
	p.root.SetHelpCommand(help)
	p.root.SetOut(stdout) // what the shells ask for goes there; all else is written by the commands
	p.root.SetErr(io.Discard)
	p.root.SetFlagErrorFunc(p.flagError)
	p.root.SetHelpFunc(func(c *cobra.Command, _ []string) { p.status = p.helpFlag(p.call(c, nil, nil)) })
	p.root.SetUsageFunc(func(*cobra.Command) error { return nil })
	return p
}

// rootCommand is the program without the name of a command: a file, or a flag, stands for inspect.
func rootCommand(p *program) *cobra.Command {
	o := inspectOptions()
	var version bool
	c := p.command(o, func(c *call) int {
		switch {
		case version:
			return c.print(versionLine())
		case len(c.args) == 0 && c.command.Flags().NFlag() == 0:
			return c.print(usage.Greeting)
		}
		return inspect(c)
	}, &cobra.Command{
		Use:               "coldcheck",
		Args:              p.firstWord,
		ValidArgsFunction: setFiles,
		SilenceErrors:     true,
		SilenceUsage:      true,
		CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true},
	})
	o.inspectFlags(c.Flags())
	c.Flags().BoolVar(&version, "version", false, "which build this is")
	return c
}

// command makes a command ready: what it does with its options and arguments, and --help.
func (p *program) command(o *options, does func(*call) int, c *cobra.Command) *cobra.Command {
	c.Run = func(_ *cobra.Command, args []string) { p.status = p.call(c, o, args).do(does) }
	c.Flags().SortFlags = false
	c.Flags().BoolP(usage.Help, "h", false, "how it is used")
	return c
}

func (p *program) call(c *cobra.Command, o *options, args []string) *call {
	return &call{program: p, command: c, options: o, args: args, stdin: p.stdin, stdout: p.stdout, stderr: p.stderr}
}

// useError is bad use, told in our words. It is whole where help has nothing to add.
type useError struct {
	text  string
	whole bool
}

func (e *useError) Error() string { return e.text }

func badUse(format string, args ...any) error { return &useError{text: fmt.Sprintf(format, args...)} }

// versionLine says which build this is, and what made it.
func versionLine() string {
	return output.Version() + ", built with " + runtime.Version() + "\n"
}
