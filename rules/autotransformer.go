package rules

import (
	"fmt"

	"coldcheck/analysis/lineside"
	"coldcheck/netlist"
)

// Autotransformer finds a transformer that does not separate the set from the line.
var Autotransformer = &Rule{
	Name:    "autotransformer",
	Signal:  Caution,
	Signals: "CAUTION",
	Looks:   "a transformer with a winding on the line that shares a point with one that is not, or that is tapped",
	Why: "A heavy core, a case and a pair of output terminals look like isolation. Where line and load share a point, they are one circuit: " +
		"the chassis behind it is as much on the line as with no transformer at all.",
	Blind:  "A tie inside the can that the file does not name; a transformer outside the set, such as a step-down converter, most of which are of this kind.",
	Source: "IEC 61558-2-4 and 61558-2-6 (what an isolating transformer is, and that this is none)",
	Remedy: "Treat the set as one without a transformer. To separate it, fit a double-wound transformer with double or reinforced insulation " +
		"(IEC 61558-2-4) of enough VA ahead of it, and join nothing of its secondary to the primary.",
	Caution: "A variable autotransformer on the bench does not isolate either: it goes ahead of an isolation transformer, never instead of one. " +
		"Check with an ohmmeter, unplugged, from the blades to the load.",
	Subject: OfPart,
	Run: func(k *Facts) []Finding {
		var findings []Finding
		for p, t := range details[*netlist.Transformer](k.Set) {
			if tie, ok := k.line.TieOf(p.Name, t); ok {
				findings = append(findings, Finding{Signal: Caution, Parts: []string{p.Name}, Message: tellTie(p.Name, tie)})
			}
		}
		return findings
	},
}

// tellTie tells what a transformer's line winding shares with the rest.
func tellTie(name string, tie lineside.Tie) string {
	if tie.Tapped {
		return fmt.Sprintf("%s looks like isolation and is not: its winding on the line is tapped at %s, which feeds the set", name, netlist.Visible(tie.Node))
	}
	return fmt.Sprintf("%s looks like isolation and is not: its %s winding, on the line, shares %s with its %s winding",
		name, netlist.Visible(tie.Winding), netlist.Visible(tie.Node), netlist.Visible(tie.Other))
}
