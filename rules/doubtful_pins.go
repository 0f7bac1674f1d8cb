package rules

import (
	"fmt"

	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// DoubtfulPins finds tubes of which the catalogue takes some pins for granted.
var DoubtfulPins = &Rule{
	Name:    "doubtful-pins",
	Signal:  Caution,
	Signals: "CAUTION",
	Looks:   "a tube of a type of which some pins are taken for granted",
	Why: "What a pin is decides where the line goes. Of a few types no two sources were at hand that agree: a pin that is another than it is " +
		"taken for moves a heater's end, a cathode or a plate to another wire, and with it what is live.",
	Blind:  "A socket that was rewired for another tube; a tube that is not of the type printed on it.",
	Source: "the tube catalogue of this program, which says which pins it is not sure of",
	Remedy: "Hold the pins against a tube manual or the tube itself, by an ohmmeter between the heater pins; where they differ, write the type into the " +
		"file as its own, under [tube_types].",
	Caution: "Do not trust a path that leads through these pins until then. Measure with the plug out and the reservoirs discharged.",
	Subject: OfPart,
	Run: func(k *Facts) []Finding {
		var findings []Finding
		at := map[string]int{}
		for p, d := range details[*netlist.Tube](k.Set) {
			if d.Type.Doubtful == "" {
				continue
			}
			i, seen := at[d.Type.Name]
			if !seen {
				i = len(findings)
				at[d.Type.Name] = i
				findings = append(findings, Finding{Signal: Caution})
			}
			f := &findings[i]
			f.Parts = append(f.Parts, p.Name)
			f.Message = fmt.Sprintf("%s (%s): taken for granted, to be held against a tube manual: %s", phrase.List(f.Parts), netlist.Visible(d.Type.Name), netlist.Visible(d.Type.Doubtful))
		}
		return findings
	},
}
