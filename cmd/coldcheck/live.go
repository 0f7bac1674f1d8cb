package main

import (
	"context"
	"fmt"
	"io"
	"os/exec"
	"runtime"

	"github.com/spf13/cobra"

	"coldcheck/cmd/coldcheck/flags"
	"coldcheck/cmd/coldcheck/live"
	"coldcheck/cmd/coldcheck/output"
)

func benchCommand(p *program) *cobra.Command {
	o := &options{}
	c := p.command(o, liveBench, &cobra.Command{
		Use:   "bench [flags] SET",
		Short: "show a set in the browser, alive: any state, the file as it is edited, a plan by pointing, readings",
		Long: `Serves a set file to a browser on this machine, and has the program work out whatever is set there: the plug, every switch and control, up to three failures at once, an isolating transformer, earth clips. What a hand would take at each piece of metal is shown with its drawing, whichever rectifier conducts.

The page follows the file: saved in any editor, it is new at once and stands where it stood; slips are told over the last good page. A part or a point that is picked offers what a bench does to it; each becomes a step of a plan, and what the plan cures, leaves and brings is told as it grows. What a meter shows is typed in and judged, with what would explain it and what to measure next. The plans of rework --propose can be stepped through.

It prints the address, which has a random key in it: only who has the address gets in, and only from this machine. Nothing is read but the files that are named. Nothing is written but by the buttons: Save plan writes NAME.plan.toml beside the set file NAME.toml, Save readings NAME.readings.toml; neither is overwritten unasked, and the set file never.

It runs until it is interrupted (Ctrl-C), and ends with status 2 then, as every command does.`,
		Example:           `coldcheck bench set.toml`,
		Args:              oneFile,
		ValidArgsFunction: setFiles,
	})
	c.Flags().Var(flags.Word(&o.plan, fileType), "plan", "a rework plan to begin with")
	c.Flags().Var(flags.Count(&o.port, 1, 65535), "port", "the port to be had on this machine (default one that is free)")
	c.Flags().BoolVar(&o.noOpen, "no-open", false, "print the address and open no browser")
	return c
}

func liveBench(c *call) int {
	if c.args[0] == "-" || c.options.plan == "-" {
		return c.usage("bench follows files, so standard input will not do; name a file")
	}
	bench, err := live.New(live.Options{Set: c.args[0], Plan: c.options.plan, Port: c.options.port})
	if err != nil {
		c.sayProblem(err)
		return statusBad
	}
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	if status := c.write("", func(o *output.Output) error {
		_, err := io.WriteString(o, bench.URL()+"\n")
		return err
	}); status != statusOK {
		bench.Close()
		return status
	}
	c.sayLine("the bench is open at that address until you press Ctrl-C here")
	interrupted, release := output.TakeInterrupt()
	defer release()
	go func() {
		select {
		case <-interrupted:
			stop()
		case <-ctx.Done():
		}
	}()
	if !c.options.noOpen {
		go func() {
			if err := openBrowser(bench.Ticket()); err != nil {
				c.sayLine("no browser could be opened; open the address yourself")
			}
		}()
	}
	if err := bench.Serve(ctx, c.sayLine); err != nil {
		c.say(fmt.Errorf("the bench had to close: %w", err))
		return statusBad
	}
	c.sayLine("interrupted; the bench is closed, and what was typed in its pages stays there until they are closed too")
	return statusBad
}

// openBrowser has the system open an address.
func openBrowser(url string) error {
	name, args := "xdg-open", []string{url}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", url}
	}
	return exec.Command(name, args...).Run()
}
