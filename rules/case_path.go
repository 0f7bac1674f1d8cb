package rules

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/trace"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// throughAll tells the loads of a path, and those of one in parallel with it.
func (k *Case) throughAll(c *analysis.Circuit, state analysis.State, p *analysis.Path) string {
	text := k.through(p)
	if p == nil {
		return text
	}
	if other := k.through(trace.Beside(c, state, p)); other != "" {
		text += ", and " + other + " beside it"
	}
	return text
}

// through tells what loads a path goes through: "the heater string", "V1's heater", "motor M1".
func (k *Case) through(p *analysis.Path) string {
	if p == nil {
		return ""
	}
	var heaters, others []string
	seen := map[string]bool{}
	for _, s := range p.Steps {
		if s.Sort == analysis.Conductor || seen[s.Part] {
			continue
		}
		seen[s.Part] = true
		if s.Piece == "heater" {
			heaters = append(heaters, s.Part)
		} else if words := k.loadWords(s); words != "" {
			others = append(others, words)
		}
	}
	switch len(heaters) {
	case 0:
	case 1:
		others = append([]string{heaters[0] + "'s heater"}, others...)
	default:
		others = append([]string{"the heater string"}, others...)
	}
	return phrase.Few(others, 3)
}

func (k *Case) loadWords(s analysis.Step) string {
	part := k.Set.Part(s.Part)
	switch {
	case s.Sort == analysis.Rectifying && s.Piece == analysis.SmallDiodes:
		return s.Part + " " + phrase.Section(part.Detail.(*netlist.Tube), s.From, s.To)
	case s.Sort == analysis.Rectifying:
		return "rectifier " + s.Part
	case part == nil:
		return ""
	case part.Kind == netlist.KindTransformer:
		return strings.Join(strings.Fields(fmt.Sprintf("%s's %s winding", s.Part, netlist.Visible(s.Piece))), " ")
	}
	return string(part.Kind) + " " + s.Part
}

// atLeast reports whether a current is the least to reckon with: its path goes through heaters or
// lamps, which carry more while they are cold. With a rectifier taken as conducting it is the most
// already.
func (k *Case) atLeast(p *analysis.Path, state analysis.State) bool {
	if p == nil || state.Rectifier != "" {
		return false
	}
	for _, s := range p.Steps {
		part := k.Set.Part(s.Part)
		if s.Piece == "heater" || s.Sort == analysis.Load && part != nil && part.Kind == netlist.KindLamp {
			return true
		}
	}
	return false
}

// throughGood tells of the current the safeguards that it passes while they are good, "" of none.
func (k *Case) throughGood(couplers []trace.Coupler) string {
	var names []string
	for _, x := range couplers {
		if x.Safeguard {
			names = append(names, phrase.Part(k.Set, x.Part))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return " through " + phrase.List(names)
}

// standsBetween tells what stands in a path between the line and a hand in a state.
func (k *Case) standsBetween(p *analysis.Path, state analysis.State) string {
	names := k.safeguards(p, state)
	switch {
	case p == nil:
		return ""
	case len(names) == 0:
		return "nothing"
	}
	return strings.Join(names, "; ")
}

// uncounted is said of a safeguard that no one vouches for.
const uncounted = ", on which no one can count"

// safeguards tells those in a path.
func (k *Case) safeguards(p *analysis.Path, state analysis.State) []string {
	var names []string
	if p == nil {
		return nil
	}
	for _, s := range p.Barriers() {
		if trace.HoldsVoltage(k.Circuit, s, state) {
			continue
		}
		text := phrase.Part(k.Set, s.Part)
		if s.Cost == 0 {
			text += uncounted
		}
		names = append(names, text)
	}
	return names
}
