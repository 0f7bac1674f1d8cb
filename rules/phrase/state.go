package phrase

import (
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// Plug tells a plug polarity.
func Plug(polarity analysis.Polarity) string {
	if polarity == analysis.Reversed {
		return "plug reversed"
	}
	return "plug as marked"
}

// Setting tells where a control stands: "S1 off", "S2 at battery", "S2 at line or battery".
func Setting(control string, at ...string) string {
	if len(at) == 1 && (at[0] == "on" || at[0] == "off") {
		return netlist.Visible(control) + " " + at[0]
	}
	return netlist.Visible(control) + " at " + Or(Visible(at))
}

// Settings tells where each control stands.
func Settings(settings []analysis.Setting) []string {
	var words []string
	for _, x := range settings {
		words = append(words, Setting(x.Name, x.At))
	}
	return words
}

// Turned tells to where a control is turned: "R9 turned to zero", "R9 at the middle", "R9 turned to jack".
func Turned(x analysis.Setting) string {
	name := netlist.Visible(x.Name)
	if x.At == analysis.Middle {
		return name + " at the middle"
	}
	return name + " turned to " + netlist.Visible(x.At)
}

// TurnedTo tells to where a control is turned as a clause: "R9 is turned to zero", "R9 stands at the
// middle or is turned to jack".
func TurnedTo(control string, at []string) string {
	var words, ends []string
	for _, x := range at {
		if x == analysis.Middle {
			words = append(words, "stands at the middle")
		} else {
			ends = append(ends, netlist.Visible(x))
		}
	}
	if len(ends) > 0 {
		words = append(words, "is turned to "+Or(ends))
	}
	return netlist.Visible(control) + " " + Or(words)
}

// TurnedAway tells each control that does not stand at rest, which is the middle, or a rheostat's full
// value: a state has it there alone where nothing is said.
func TurnedAway(controls []analysis.Setting) []string {
	var words []string
	for _, x := range controls {
		if x.At != analysis.Middle && x.At != analysis.Full {
			words = append(words, Turned(x))
		}
	}
	return words
}

// Standing tells where a control stands as a clause: "S1 is off", "S2 stands at line or battery".
func Standing(control string, at []string) string {
	verb := " stands at "
	if slices.Contains(at, "on") || slices.Contains(at, "off") {
		verb = " is "
	}
	return netlist.Visible(control) + verb + strings.Join(Visible(at), " or ")
}

// Rectifiers tells which rectifier is taken as conducting, "" being none: "V5 conducting", "no
// rectifier or V5 conducting".
func Rectifiers(labels []string) string {
	named := slices.DeleteFunc(slices.Clone(labels), func(s string) bool { return s == "" })
	small := slices.Contains(named, analysis.SmallDiodes)
	switch {
	case len(named) == 0:
		return "no rectifier conducting"
	case small && len(labels) == 1:
		return analysis.SmallDiodes + " conduct"
	case len(named) < len(labels):
		return "no rectifier or " + Or(named) + " conducting"
	}
	return Or(named) + " conducting"
}

// State tells a state: "plug reversed, S1 off, V3 pulled".
func State(s analysis.State) string {
	words := append([]string{Plug(s.Plug)}, Settings(s.Settings)...)
	words = append(words, TurnedAway(s.Controls)...)
	if s.Rectifier != "" {
		words = append(words, Rectifiers([]string{s.Rectifier}))
	}
	for _, f := range s.Faults {
		words = append(words, Fault(f))
	}
	for _, fuse := range s.Blown {
		words = append(words, netlist.Visible(fuse)+" blown")
	}
	if s.Without {
		words = append(words, "the failed parts' shorts left out")
	}
	return strings.Join(words, ", ")
}
