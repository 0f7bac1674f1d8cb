package rules

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// list joins words as a sentence does: "a", "a and b", "a, b and c".
func list(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
}

// few joins at most n words, and says how many more there are.
func few(words []string, n int) string {
	if len(words) <= n+1 {
		return list(words)
	}
	return fmt.Sprintf("%s and %d more", strings.Join(words[:n], ", "), len(words)-n)
}

// be is "is" for one thing and "are" for several.
func be(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// were is "was" for one thing and "were" for several.
func were(n int) string {
	if n == 1 {
		return "was"
	}
	return "were"
}

// things counts what names stand for: one name that is a plural ("extension sockets") stands for
// several.
func things(names []string) int {
	if len(names) == 1 && plural(names[0]) {
		return 2
	}
	return len(names)
}

// plural tells whether a name ends as a plural does: "cabinet screws", and not "chassis".
func plural(name string) bool {
	name = strings.ToLower(name)
	if len(name) < 4 || !strings.HasSuffix(name, "s") {
		return false
	}
	for _, singular := range []string{"ss", "is", "us"} {
		if strings.HasSuffix(name, singular) {
			return false
		}
	}
	return true
}

// does is a verb as one thing or several have it: "startles", "startle".
func does(n int, verb string) string {
	if n == 1 {
		return verb + "s"
	}
	return verb
}

// visible makes names fit for a terminal.
func visible(names []string) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = netlist.Visible(n)
	}
	return out
}

// metalName tells a piece of metal with all its names.
func metalName(m *Metal) string {
	names := visible(m.Nodes())
	if len(names) == 1 {
		return names[0]
	}
	return list(names) + " (one piece of metal)"
}

// wayWords tells a plug way.
func wayWords(way analysis.Polarity) string {
	if way == analysis.Reversed {
		return "plug reversed"
	}
	return "plug as marked"
}

// StateWords tells a state: "plug reversed, S1 off, V3 pulled".
func StateWords(s analysis.State) string {
	words := []string{wayWords(s.Plug)}
	for _, x := range s.Settings {
		if x.At == "on" || x.At == "off" {
			words = append(words, x.Name+" "+x.At)
		} else {
			words = append(words, x.Name+" at "+netlist.Visible(x.At))
		}
	}
	if s.Rectifier != "" {
		words = append(words, s.Rectifier+" conducting")
	}
	for _, f := range s.Faults {
		words = append(words, FaultWords(f))
	}
	if s.Without {
		words = append(words, "the failed parts' shorts left out")
	}
	return strings.Join(words, ", ")
}

// FaultWords tells a fault: "C1 shorted", "V3 pulled", "neutral lost".
func FaultWords(f *analysis.Fault) string {
	part := netlist.Visible(f.Part)
	between := ""
	if len(f.Between) == 2 {
		b := visible(f.Between)
		between = fmt.Sprintf(" (%s to %s)", b[0], b[1])
	}
	switch f.Kind {
	case analysis.NeutralLost:
		return "neutral lost"
	case analysis.EarthLost:
		if f.Part == analysis.SupplyName {
			return "earth contact open"
		}
		return part + " (earth wire) off"
	case analysis.GuardOff:
		return "guard off " + part
	case analysis.Pulled:
		return part + " pulled"
	case analysis.Open:
		return part + " open"
	case analysis.Stuck:
		return part + " stuck" + between
	case analysis.HeaterCathode:
		return part + " heater to cathode" + between
	case analysis.InsulationOut:
		return part + " insulation failed" + between
	}
	return part + " " + string(f.Kind) + between
}
