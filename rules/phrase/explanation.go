package phrase

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
)

// Explanation tells a way in which the set may be other than described: "C1 leaks, 24 kΩ",
// "S1 is in the other leg, behind line 1".
func Explanation(e *diagnose.Explanation) string {
	part := netlist.Visible(e.Part)
	switch e.Kind {
	case diagnose.FaultsInSet:
		if len(e.Faults) == 1 && e.Faults[0].Kind == analysis.Pulled {
			return Faults(e.Faults) + ", or its heater open"
		}
		return Faults(e.Faults)
	case diagnose.PlugReversed:
		words := "the plug stood the other way round than noted, or the outlet is wired backwards"
		if len(e.Faults) > 0 {
			words += ", and " + Faults(e.Faults)
		}
		return words
	case diagnose.SwitchMoved:
		return fmt.Sprintf("%s is in the other leg, behind %s", part, netlist.Visible(e.Nodes[0]))
	case diagnose.EndsSwapped:
		return fmt.Sprintf("%s has %s and %s exchanged", part, e.Terminals[0], e.Terminals[1])
	case diagnose.ConnectionOff:
		if len(e.Terminals) > 0 && (e.Terminals[0] == "hot" || e.Terminals[0] == "neutral") { // of a plug whose blades nothing need mark
			return fmt.Sprintf("a lead of %s is off, at %s", part, netlist.Visible(e.Nodes[0]))
		}
		if len(e.Terminals) > 0 {
			return fmt.Sprintf("%s %s is off, at %s", part, e.Terminals[0], netlist.Visible(e.Nodes[0]))
		}
		return fmt.Sprintf("%s is open, or one end of it is off", part)
	case diagnose.StatedAbsent:
		return fmt.Sprintf("%s does not conduct or leak as the file states", part)
	case diagnose.OtherValue:
		return fmt.Sprintf("%s is %s, not %s", part, Estimate(e.Value, e.Unit), Value(e.Stated, e.Unit))
	case diagnose.DriedOut:
		return fmt.Sprintf("%s has dried out: %s and less of its %s left", part, Estimate(e.Value, e.Unit), Value(e.Stated, e.Unit))
	case diagnose.WeakTube:
		if e.Dead() {
			return fmt.Sprintf("%s passes nothing, though it may light", part)
		}
		return fmt.Sprintf("%s is weak: a third of its current", part)
	case diagnose.WrongType:
		return fmt.Sprintf("another type stands in the socket of %s: %s, or one with the same heater", part, e.Type)
	case diagnose.Leaks:
		return fmt.Sprintf("%s leaks, %s (%s)", part, Estimate(e.Value, netlist.Ohm), Ends(e.Nodes[0], e.Nodes[1]))
	}
	return "as described"
}

// Fit tells how well an explanation fits: "fits, off by 0.2 of the band on average".
func Fit(e *diagnose.Explanation) string {
	fit := "fits"
	if !e.Fits {
		fit = "does not fit every reading"
	}
	return fmt.Sprintf("%s, score %s", fit, shown(e.Score))
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
				return fmt.Sprintf("write a wire from %s beside %s", Ends(f.Nodes[0], f.Nodes[1]), part)
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
	case diagnose.DriedOut:
		return fmt.Sprintf("hold a good capacitor of the same value across %s, clipped on with the plug out; if that mends it, replace it", part)
	case diagnose.WeakTube:
		return fmt.Sprintf("try a good %s in its place", part)
	case diagnose.WrongType:
		return fmt.Sprintf("read the type on %s, and write it where it is to stay", part)
	case diagnose.Leaks:
		if p := set.Part(e.Part); p != nil && p.Kind == netlist.KindCapacitor {
			return fmt.Sprintf("write leakage = %q on %s", Estimate(e.Value, netlist.Ohm), part)
		}
		return fmt.Sprintf("write a resistor of %s from %s", Estimate(e.Value, netlist.Ohm), Ends(e.Nodes[0], e.Nodes[1]))
	}
	return ""
}

// Apart says which explanations the readings cannot tell apart, and which measurement would;
// "" where there is one alone.
func Apart(a *diagnose.Account) string {
	if a.Leading < 2 {
		return ""
	}
	var names []string
	for i := range a.Leading {
		names = append(names, fmt.Sprintf("(%d) %s", i+1, Explanation(&a.Explanations[i])))
	}
	text := "the readings cannot tell apart: " + strings.Join(names, "; ")
	if a.Further == nil {
		if a.Cut {
			return text + ". No other measurement that was tried would either; look at the parts, or lift an end of each"
		}
		return text + ". No other measurement would either, nor one with a tube pulled or one lead off; look at the parts"
	}
	var each []string
	for i, x := range a.Further.Predicted {
		each = append(each, fmt.Sprintf("%s if (%d)", Meter(a.Further.Quantity, x), i+1))
	}
	return fmt.Sprintf("%s. To tell, measure %s of %s: %s", text, Quantity(a.Further.Quantity), Measurement(a.Further.Measurement), strings.Join(each, ", "))
}
