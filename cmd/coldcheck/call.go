package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"coldcheck/cmd/coldcheck/output"
	"coldcheck/cmd/coldcheck/text"
)

// call is one use of a command.
type call struct {
	program *program
	command *cobra.Command
	options *options
	args    []string // what the flags left
	stdin   io.Reader
	stdout  io.Writer
	stderr  io.Writer
}

// do runs a command. A file of --write that is there is told before any work is done.
func (c *call) do(does func(*call) int) int {
	if err := c.mayWrite(); err != nil {
		c.say(err)
		return statusBad
	}
	return does(c)
}

// mayWrite tells what would keep --write from writing.
func (c *call) mayWrite() error {
	if c.options.write == "" || c.options.write == "-" || c.options.force {
		return nil
	}
	err := output.MustBeFree(c.options.write)
	if err != nil && c.command.Flags().Lookup(forceFlag) != nil {
		return fmt.Errorf("%w, or give --force", err)
	}
	return err
}

// print writes a text to standard output.
func (c *call) print(s string) int {
	return c.write("", func(o *output.Output) error {
		_, err := io.WriteString(o, s)
		return err
	})
}

// show lets fill make a page for standard output.
func (c *call) show(fill func(*text.Page)) int {
	return c.write("", func(o *output.Output) error {
		fill(c.page(o))
		return nil // the output keeps its first error
	})
}

// page is a page of text that goes where a result goes.
func (c *call) page(o *output.Output) *text.Page { return c.pageOn(o, o.Colour, o.Columns) }

// pageOn is a page of text with the colours and the width that are asked for, else those of a terminal.
func (c *call) pageOn(w io.Writer, colour bool, columns int) *text.Page {
	if c.options != nil {
		switch c.options.color {
		case colorAlways:
			colour = true
		case colorNever:
			colour = false
		}
		if c.options.width > 0 {
			columns = c.options.width
		}
	}
	if columns <= 0 {
		columns = text.Width
	}
	return text.NewPage(w, colour, columns)
}

// write lets fill make the result: for the file of a path, or for standard output where that is "" or
// "-".
func (c *call) write(path string, fill func(*output.Output) error) int {
	var err error
	if path == "" || path == "-" {
		err = output.Print(c.stdout, fill)
	} else {
		err = output.WriteFile(path, c.options.force, fill)
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
	c.sayLine("see: coldcheck help " + c.program.topic(c.command).Name())
	return statusBad
}
