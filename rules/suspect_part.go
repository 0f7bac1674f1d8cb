package rules

import (
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// SuspectPart finds parts that stand between line and hand and that no one vouches for.
var SuspectPart = &Rule{
	Name:    "suspect-part",
	Signal:  Caution,
	Signals: "CAUTION",
	Looks: "a paper capacitor that no one has proven, functional or suspect insulation, that stands between the line and metal " +
		"that a hand can reach, where no stronger finding has told it",
	Why: "Waxed paper takes up moisture, rubber falls off, fibre drinks water and tracks. Such a part may be sound today; it is not a " +
		"safeguard to count on, so one fewer stands between the line and the hand than the schematic shows.",
	Blind: "Parts whose condition the file does not state: all but paper capacitors and functional insulation count as good there. " +
		"A measurement with a few volts does not prove a part.",
	Source: "restorers' experience with waxed-paper capacitors; IEC 62368-1, where functional insulation is no safeguard",
	Remedy: "Replace it: a class Y capacitor for paper, basic or better insulation for functional or perished. If it has been proven at " +
		"working volts, write condition = \"good\" in the file.",
	Caution: "Do not disturb asbestos or brittle rubber more than the work needs. Unplug, discharge, and check cold and hot after the change.",
	Subject: OfPart,
	Run: func(k *Facts) []Finding {
		var findings []Finding
		for _, p := range k.Set.Parts {
			var metals []*Metal
			for _, m := range k.Metals {
				if k.suspectAt(m, p.Name) && !k.soleAt(m, p.Name) {
					metals = append(metals, m)
				}
			}
			if len(metals) == 0 {
				continue
			}
			findings = append(findings, Finding{
				Signal: Caution, Nodes: nodesOf(metals), Parts: []string{p.Name},
				Message: fmt.Sprintf("%s stands between the line and %s, and no one vouches for it", k.suspectWords(p), metalNames(metals)),
			})
		}
		return findings
	},
}

// suspectAt reports whether breaking down at no cost, a part takes a safeguard from a piece of metal:
// it stands in the gap, or it is one of a minimal set of faults.
func (k *Facts) suspectAt(m *Metal, part string) bool {
	for _, f := range k.Circuit.FaultsOf(part) {
		if f.Cost > 0 || f.Kind != analysis.Shorted && f.Kind != analysis.InsulationOut && f.Kind != analysis.HeaterCathode {
			continue
		}
		if m.inSets(f) || slices.Contains(k.keptOff(k.gaps, f.Part, f.Nodes[0], f.Nodes[1]), m) {
			return true
		}
	}
	return false
}

// soleAt reports whether the rules of one failure tell of the part at that metal.
func (k *Facts) soleAt(m *Metal, part string) bool {
	return slices.ContainsFunc(k.soles, func(s *sole) bool { return s.at(m) && s.has(part) })
}

func (k *Facts) suspectWords(p *netlist.Part) string {
	switch d := p.Detail.(type) {
	case *netlist.Capacitor:
		return phrase.Capacitor(p.Name, d)
	case *netlist.Insulation:
		words := fmt.Sprintf("%s, %s insulation", p.Name, d.Grade)
		if p.Condition == netlist.Suspect && d.Grade != netlist.Functional {
			words += ", suspect"
		}
		return words
	}
	return fmt.Sprintf("insulation of %s (%s)", p.Name, p.Kind)
}
