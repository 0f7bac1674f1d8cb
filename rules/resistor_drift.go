package rules

import (
	"fmt"
	"math"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// ResistorDrift finds resistors that measure outside their tolerance.
var ResistorDrift = &Rule{
	Name:    "resistor-drift",
	Signal:  Caution,
	Signals: "NOTICE; CAUTION where the resistor stands between the line and a hand",
	Looks:   "a resistor that was measured outside its tolerance",
	Why: "Old carbon composition drifts upward, most in high values, and may go on drifting; one that was overloaded comes down. In the signal " +
		"part that is a fault of sound. Between line and metal it decides how much current a hand gets.",
	Blind:  "Resistors that were not measured, or were measured in place with something across them; potentiometers.",
	Source: "the marked value and tolerance (IEC 60062); restorers' measurements of carbon composition resistors",
	Remedy: "Replace it by the marked value. Between line and metal: two metal film resistors in series, of a voltage grade fit for the line, at " +
		"least 470 kΩ each at 120 V and 1 MΩ each at 230 V.",
	Caution: "Lift one end before trusting the figure. Discharge reservoirs before an ohmmeter goes in.",
	Subject: OfPart,
	Run: func(k *Facts) []Finding {
		var findings []Finding
		plain := Finding{Signal: Notice}
		var lines []string
		for p, r := range details[*netlist.Resistor](k.Set) {
			if r.Measured == 0 {
				continue
			}
			off := r.Measured/r.Ohms - 1
			if 100*math.Abs(off) <= r.Tolerance*ratingSlack {
				continue
			}
			words := fmt.Sprintf("%s measures %s, marked %s: %s %s, tolerance %s", p.Name, phrase.Value(r.Measured, netlist.Ohm),
				phrase.Value(r.Ohms, netlist.Ohm), phrase.Percent(off), highOrLow(off), phrase.Tolerance(r.Tolerance))
			if metals := k.resistorBarrier(p.Name, r); len(metals) > 0 {
				findings = append(findings, Finding{Signal: Caution, Nodes: nodesOf(metals), Parts: []string{p.Name},
					Message: fmt.Sprintf("%s; it stands between the line and %s", words, metalNames(metals))})
				continue
			}
			plain.Parts, lines = append(plain.Parts, p.Name), append(lines, words)
		}
		if len(lines) > 0 {
			plain.Message, plain.Notes = lines[0], lines[1:]
			findings = append(findings, plain)
		}
		return findings
	},
}

func highOrLow(off float64) string {
	if off < 0 {
		return "low"
	}
	return "high"
}

// resistorBarrier lists the pieces of metal that a resistor keeps from the line: it stands in the
// gap, or its short is one of a minimal set of faults. It counts as marked, too: one that came
// down under the least ohms of a barrier was meant as one, and the gap is looked for without it.
func (k *Facts) resistorBarrier(name string, r *netlist.Resistor) []*Metal {
	if max(r.Ohms, r.Measured) < analysis.SafeguardOhms {
		return nil
	}
	var metals []*Metal
	for _, m := range k.Metals {
		in := false
		for _, f := range k.Circuit.FaultsOf(name) {
			in = in || f.Kind == analysis.Shorted && m.inSets(f)
		}
		if in {
			metals = append(metals, m)
		}
	}
	for _, m := range k.keptOff(k.line.GapsWithout(k.foremostNodes(), name), name, r.Ends[0], r.Ends[1]) {
		if !slices.Contains(metals, m) {
			metals = append(metals, m)
		}
	}
	return metals
}
