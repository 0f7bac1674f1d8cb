package rules

import (
	"fmt"
	"slices"

	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// FileNotice passes on what is odd in the file and no error.
var FileNotice = &Rule{
	Name:    "file-notice",
	Signal:  Notice,
	Signals: "NOTICE",
	Looks:   "what is odd in the set file and no error, with its place; a set of which nothing is on the line; which parts are on building earth",
	Why: "A slip of the pen in a name parts what is joined, and the set then looks better than it is. The ground sign of a schematic is B-minus or " +
		"the chassis, seldom an earth: the difference decides what is live.",
	Blind:   "Slips that make sense; wiring that differs from the file.",
	Source:  "the set file, format 1",
	Remedy:  "Look at the place in the file, and at the chassis, and write down what is there.",
	Caution: "A finding of nothing rests on the file: what it leaves out was not looked at.",
	Subject: OfSet,
	Run: func(k *Facts) []Finding {
		var findings []Finding
		for _, n := range k.Set.Notices {
			f := Finding{Signal: Notice, Message: fmt.Sprintf("%s: %s", n.Pos, n.Text)}
			if n.Node != "" {
				f.Nodes = []string{n.Node}
			}
			if n.Part != "" {
				f.Parts = []string{n.Part}
			}
			findings = append(findings, f)
		}
		if side := k.line; side.LeadsNowhere() {
			findings = append(findings, Finding{Signal: Notice, Nodes: []string{side.Hot.Blade, side.Neutral.Blade},
				Message: fmt.Sprintf("nothing leads from one blade of the plug (%s) to the other (%s): a lead of the cord is off, or a name is misspelt; "+
					"little can be found on a set that is off the line, and what is not told here is not cured",
					bladeOf(side.Hot), bladeOf(side.Neutral))})
		}
		if parts := k.partsOn(netlist.BuildingEarth); len(parts) > 0 {
			findings = append(findings, Finding{
				Signal: Notice, Nodes: []string{netlist.BuildingEarth}, Parts: parts,
				Message: fmt.Sprintf("%s %s on building earth: a rod or a pipe outside the set, not B-minus and not the chassis",
					phrase.Few(parts, 6), phrase.Be(len(parts))),
			})
		}
		return findings
	},
}

// partsOn lists the parts with a terminal or a frame on a node.
func (k *Facts) partsOn(node string) []string {
	var parts []string
	for _, p := range k.Set.Parts {
		on := slices.ContainsFunc(p.Terminals, func(t netlist.Terminal) bool { return t.Node == node })
		if on || p.Frame == node {
			parts = append(parts, p.Name)
		}
	}
	return parts
}
