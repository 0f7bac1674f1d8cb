package text

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// foldFrom is how many like pieces in a row are told as one.
const foldFrom = 3

// Path tells a path as a person would follow it with a probe: from the plug's blade, node by node
// and part by part. A run of heaters, or of wires, is one phrase.
func Path(set *netlist.Set, p analysis.Path) string {
	var words []string
	if terminal := plugTerminal(set, p.From); terminal != "" {
		words = append(words, terminal)
	}
	words = append(words, netlist.Visible(p.From))
	for i := 0; i < len(p.Steps); {
		run := runOf(set, p.Steps[i:])
		if run < foldFrom {
			run = 1
		}
		words = append(words, tellSteps(set, p.Steps[i:i+run]), netlist.Visible(p.Steps[i+run-1].To))
		i += run
	}
	return strings.Join(words, " > ")
}

// plugTerminal is "PL1 hot" for a node at the plug, "PL1" where nothing tells which blade is the hot one, else "".
func plugTerminal(set *netlist.Set, node string) string {
	if !phrase.AtPlug(set, node) {
		return ""
	}
	part, plug := set.Plug()
	if plug.Style == "plain" {
		return part.Name
	}
	return strings.TrimSpace(part.Name + " " + phrase.Blade(set, node))
}

// runOf counts the steps at the front that are told together, at least one.
func runOf(set *netlist.Set, steps []analysis.Step) int {
	sort := foldSort(set, steps[0])
	n := 1
	for sort != "" && n < len(steps) && foldSort(set, steps[n]) == sort {
		n++
	}
	return n
}

// foldSort names what a step can be folded with, "" where it is told alone.
func foldSort(set *netlist.Set, s analysis.Step) string {
	switch {
	case s.Piece == "heater":
		return "heaters of"
	case s.Sort == analysis.Conductor && kindOf(set, s) == netlist.KindWire:
		return "wires"
	}
	return ""
}

func kindOf(set *netlist.Set, s analysis.Step) netlist.Kind {
	if part := set.Part(s.Part); part != nil {
		return part.Kind
	}
	return ""
}

func tellSteps(set *netlist.Set, steps []analysis.Step) string {
	if len(steps) == 1 {
		return tellStep(set, steps[0])
	}
	var names []string
	for _, s := range steps {
		if len(names) == 0 || names[len(names)-1] != s.Part {
			names = append(names, s.Part)
		}
	}
	if len(names) == 1 {
		return names[0] + " heater"
	}
	return fmt.Sprintf("%s %s", foldSort(set, steps[0]), strings.Join(names, ", "))
}

// tellStep names one piece of a part: "S1", "V5 heater", "T1 primary", "V5 rectifying",
// "V3 grid to cathode".
func tellStep(set *netlist.Set, s analysis.Step) string {
	switch {
	case s.Sort == analysis.Rectifying && kindOf(set, s) == netlist.KindTube:
		return s.Part + " " + phrase.Section(set.Part(s.Part).Detail.(*netlist.Tube), s.From, s.To)
	case s.Sort == analysis.Rectifying || s.Piece == "":
		return s.Part
	}
	return s.Part + " " + netlist.Visible(s.Piece)
}

// barriers tells what stands between in a path: "C1 (capacitor) and I2 (insulation)", or "nothing".
func barriers(set *netlist.Set, p analysis.Path) string {
	var words []string
	times := map[string]int{}
	for _, s := range p.Barriers() {
		word := barrier(set, s)
		if times[word] == 0 {
			words = append(words, word)
		}
		times[word]++
	}
	if len(words) == 0 {
		return "nothing"
	}
	for i, word := range words {
		if n := times[word]; n > 1 {
			words[i] = fmt.Sprintf("%s %d times", word, n)
		}
	}
	return phrase.List(words)
}

func barrier(set *netlist.Set, s analysis.Step) string {
	what := "insulation"
	switch s.Sort {
	case analysis.Capacitive, analysis.Resistive:
		what = string(kindOf(set, s))
	case analysis.Insulating:
		if s.Piece == "heater to cathode" {
			what = s.Piece
		}
	}
	if s.Cost == 0 {
		part := set.Part(s.Part)
		switch {
		case part != nil && part.Condition == netlist.Failed:
			what += ", failed"
		case part != nil && part.Condition == netlist.Suspect:
			what += ", suspect"
		default:
			what += ", no safeguard"
		}
	}
	return fmt.Sprintf("%s (%s)", s.Part, what)
}
