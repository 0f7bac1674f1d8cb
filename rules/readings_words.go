package rules

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
)

// ExplanationWords tells a way in which the set may be other than described: "C1 leaks, 24 kΩ",
// "S1 is in the other leg, behind line 1".
func ExplanationWords(e *diagnose.Explanation) string {
	part := netlist.Visible(e.Part)
	switch e.Kind {
	case diagnose.FaultsInSet:
		return faultsWords(e.Faults)
	case diagnose.PlugTurned:
		words := "the plug stood the other way round than noted, or the outlet is wired backwards"
		if len(e.Faults) > 0 {
			words += ", and " + faultsWords(e.Faults)
		}
		return words
	case diagnose.SwitchMoved:
		return fmt.Sprintf("%s is in the other leg, behind %s", part, netlist.Visible(e.Nodes[0]))
	case diagnose.EndsSwapped:
		return fmt.Sprintf("%s has %s and %s exchanged", part, e.Terminals[0], e.Terminals[1])
	case diagnose.ConnectionOff:
		if len(e.Terminals) > 0 {
			return fmt.Sprintf("%s %s is off, at %s", part, e.Terminals[0], netlist.Visible(e.Nodes[0]))
		}
		return fmt.Sprintf("%s is open, or one end of it is off", part)
	case diagnose.StatedAbsent:
		return fmt.Sprintf("%s does not conduct or leak as the file states", part)
	case diagnose.OtherValue:
		return fmt.Sprintf("%s is %s, not %s", part, amount(e.Value, 2, e.Unit), amount(e.Stated, 3, e.Unit))
	case diagnose.Leaks:
		return fmt.Sprintf("%s leaks, %s (%s)", part, amount(e.Value, 2, netlist.Ohm), span(e.Nodes[0], e.Nodes[1]))
	}
	return "as described"
}

// FigureWords tells what a meter shows, with its unit: "118 V", "220 kΩ", "open".
func FigureWords(q diagnose.Quantity, x float64) string {
	switch q {
	case diagnose.OhmsRead:
		switch {
		case x >= diagnose.OhmsRange:
			return "open"
		case x < 0.1:
			return "0 Ω"
		}
		return amount(x, 3, netlist.Ohm)
	case diagnose.MilliampsRead:
		return small(x) + " mA"
	case diagnose.VoltsDCRead:
		return small(x) + " V DC"
	}
	return small(x) + " V"
}

// small is digits, with what no meter shows told as 0.
func small(x float64) string {
	if x < 0.005 && x > -0.005 {
		return "0"
	}
	return digits(x, 3)
}

// MeasurementWords tells where and how a reading is taken: "chassis to building earth (plug as
// marked, S1 on)".
func MeasurementWords(m diagnose.Measurement) string {
	var state []string
	if m.Plug == "" {
		state = append(state, "plug out")
	} else {
		state = append(state, wayWords(m.Plug))
	}
	if m.Tied {
		state = append(state, "blades tied")
	}
	state = append(state, SettingsWords(m.Settings)...)
	for _, tube := range m.Pulled {
		state = append(state, tube+" pulled")
	}
	if m.Quantity != diagnose.OhmsRead && m.Quantity != diagnose.MilliampsRead && m.MeterOhms != analysis.MeterOhms {
		state = append(state, "meter of "+amount(m.MeterOhms, 3, netlist.Ohm))
	}
	return fmt.Sprintf("%s (%s)", span(m.A, m.B), strings.Join(state, ", "))
}

// SettingsWords tells where each control stands: "S1 off", "S2 at battery".
func SettingsWords(settings []analysis.Setting) []string {
	var words []string
	for _, x := range settings {
		if x.At == "on" || x.At == "off" {
			words = append(words, x.Name+" "+x.At)
		} else {
			words = append(words, x.Name+" at "+netlist.Visible(x.At))
		}
	}
	return words
}

// FitWords tells how well an explanation fits: "fits, off by 0.2 of the band on average".
func FitWords(e *diagnose.Explanation) string {
	fit := "fits"
	if !e.Fits {
		fit = "does not fit every reading"
	}
	return fmt.Sprintf("%s, score %s", fit, small(e.Score))
}

// InFile tells how an explanation is written into the set file, "" where it is not the file's.
func InFile(set *netlist.Set, e *diagnose.Explanation) string {
	part := netlist.Visible(e.Part)
	switch e.Kind {
	case diagnose.FaultsInSet:
		if len(e.Faults) != 1 {
			return ""
		}
		switch f := e.Faults[0]; f.Kind {
		case analysis.Shorted, analysis.HeaterCathode:
			return fmt.Sprintf("write condition = \"failed\" on %s", part)
		case analysis.InsulationOut:
			if len(f.Between) > 0 {
				return fmt.Sprintf("write a wire from %s beside %s", span(f.Nodes[0], f.Nodes[1]), part)
			}
			return fmt.Sprintf("write condition = \"failed\" on %s", part)
		case analysis.Open, analysis.Pulled, analysis.EarthLost:
			if f.Part == analysis.SupplyName {
				return ""
			}
			return fmt.Sprintf("take %s out of the file until it is replaced", part)
		}
	case diagnose.SwitchMoved:
		return fmt.Sprintf("write the ends of %s as they are wired", part)
	case diagnose.EndsSwapped:
		return fmt.Sprintf("write the terminals of %s as they are wired", part)
	case diagnose.ConnectionOff:
		return fmt.Sprintf("take %s, or its loose end, out of the file until it is mended", part)
	case diagnose.StatedAbsent:
		return fmt.Sprintf("take the failure or the leakage of %s out of the file", part)
	case diagnose.OtherValue:
		if e.Unit == netlist.Ohm {
			return fmt.Sprintf("measure %s with one end off and write what it is", part)
		}
		return fmt.Sprintf("write the value of %s as it is", part)
	case diagnose.Leaks:
		if p := set.Part(e.Part); p != nil && p.Kind == netlist.KindCapacitor {
			return fmt.Sprintf("write leakage = %q on %s", amount(e.Value, 2, netlist.Ohm), part)
		}
		return fmt.Sprintf("write a resistor of %s from %s", amount(e.Value, 2, netlist.Ohm), span(e.Nodes[0], e.Nodes[1]))
	}
	return ""
}
