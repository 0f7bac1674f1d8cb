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
	switch {
	case len(named) == 0:
		return "no rectifier conducting"
	case len(named) < len(labels):
		return "no rectifier or " + Or(named) + " conducting"
	}
	return Or(named) + " conducting"
}

// State tells a state: "plug reversed, S1 off, V3 pulled".
func State(s analysis.State) string {
	words := append([]string{Plug(s.Plug)}, Settings(s.Settings)...)
	if s.Rectifier != "" {
		words = append(words, Rectifiers([]string{s.Rectifier}))
	}
	for _, f := range s.Faults {
		words = append(words, Fault(f))
	}
	if s.Without {
		words = append(words, "the failed parts' shorts left out")
	}
	return strings.Join(words, ", ")
}
