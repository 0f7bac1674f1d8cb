package main

import (
	"coldcheck/analysis"
)

// command is one command: its name, how it is written, what it does, its flags, and how it runs.
type command struct {
	name     string
	synopsis string // behind the command's name
	summary  string // one line, a phrase
	help     string // paragraphs, wrapped
	example  string // as it stands on the screen, commands and what they print
	flags    []flagInfo
	defaults options
	run      func(*call) int
}

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

// neverFail is the word of --fail-on that is no signal word.
const neverFail = "never"

// commands is the one list of commands, in the order in which help tells them.
func commands() []*command {
	return []*command{inspectCommand, statesCommand, traceCommand, reworkCommand, checklistCommand, exampleCommand, partCommand, whyCommand,
		schemaCommand, completionCommand, helpCommand}
}

func findCommand(name string) *command {
	for _, c := range commands() {
		if c.name == name {
			return c
		}
	}
	return nil
}

func commandNames() []string {
	var names []string
	for _, c := range commands() {
		names = append(names, c.name)
	}
	return names
}

// otherWords answers the words that people try for our commands.
var otherWords = map[string]string{
	"check":   "coldcheck inspect FILE looks a set over",
	"test":    "coldcheck inspect FILE looks a set over",
	"run":     "coldcheck inspect FILE looks a set over",
	"new":     "coldcheck example NAME prints a set file to start from, coldcheck example lists them",
	"list":    "coldcheck example lists the set files that are here, coldcheck why the rules, coldcheck part the parts",
	"explain": "coldcheck why RULE says what a finding means, coldcheck part KIND what a part is",
}

// Flags that several commands have.
var (
	supplyFlag = flagInfo{"supply", "what the set is plugged into (default mains); isolated is an isolating transformer",
		func(o *options) value { return choice{&o.supply, []string{supplyMains, supplyIsolated}, ""} }}
	earthedFlag = flagInfo{"earthed", "a node that an instrument's lead ties to earth; may be repeated",
		func(o *options) value { return words{&o.earthed, "NODE"} }}
	formatFlag = flagInfo{"format", "how the result is written (default text)",
		func(o *options) value { return choice{&o.format, []string{formatText, formatJSON}, ""} }}
	writeFlag = flagInfo{"write", "write the result to a new file instead of the screen",
		func(o *options) value { return word{&o.write, "FILE"} }}
	plugFlag = flagInfo{"plug", "only this way of the plug (default both)",
		func(o *options) value {
			return choice{&o.plug, []string{string(analysis.AsMarked), string(analysis.Reversed)}, ""}
		}}
	switchFlag = flagInfo{"switch", "only with this switch, or selector, in this position, like S1=off; may be repeated",
		func(o *options) value { return settings{&o.switches} }}
)
