package rules

import (
	"fmt"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// OneFault finds metal that any other single failure makes live.
var OneFault = &Rule{
	Name:    "one-fault",
	Signal:  Warning,
	Signals: "WARNING",
	Looks:   "a touch point that one other failure makes live: neutral lost, earth lost, a pole stuck, heater to cathode, something open or pulled",
	Why: "A lost neutral, a welded switch pole or a tube pulled to look at it are everyday events. " +
		"None of them shows from outside, and the metal that was cold a minute ago is then on the line.",
	Blind:  "How likely the failure is on this very set.",
	Source: "IEC 62368-1 annex B.4 (single faults); IEC 60990:2016 clause 6 (neutral open, earth open)",
	Remedy: "give the metal a barrier that does not depend on it: a class Y capacitor alone between the line side and the metal, or an isolating transformer",
	Caution: "Pull the plug before tubes are pulled or lids come off, and discharge the reservoirs. Test the outlet, its neutral and its earth. " +
		"Re-check cold and hot after any change; follow local electrical codes and qualified advice.",
	Run: runOneFault,
}

func runOneFault(k *Case) []Finding {
	all := k.oneFailure("one-fault")
	for i := range all {
		if all[i].Parts[0] == analysis.SupplyName {
			all[i].Parts = all[i].Parts[1:]
		}
	}
	return append(all, k.untold(all)...)
}

// untold keeps the law that no point of depth 0 or 1 goes without a finding: what the rules before
// have no name for is told here.
func (k *Case) untold(told []Finding) []Finding {
	var all []Finding
	for _, m := range k.Metals {
		for _, p := range m.Points {
			if p.Depth == analysis.None || p.Depth > 1 || k.strongest(p.Name, pointRules...) >= Caution || speaksOf(told, p.Name) {
				continue
			}
			w := p.Normal
			if p.Depth > 0 || w == nil {
				w = p.OneFault
			}
			f := Finding{Signal: Warning, Nodes: []string{p.Name}, Worst: w}
			set := p.FaultSets[0]
			if len(set.Faults) == 0 {
				f.Signal = Danger
				f.Message = fmt.Sprintf("%s %s live with nothing failed", netlist.Visible(p.Name), phrase.Be(phrase.Things([]string{p.Name})))
			} else {
				f.Message = fmt.Sprintf("%s %s one failure from live: %s", netlist.Visible(p.Name), phrase.Be(phrase.Things([]string{p.Name})), phrase.Faults(set.Faults))
			}
			if w != nil {
				f.Path = k.pathIn(k.Circuit, w.State, p.Name)
				f.Parts = partsOf(f.Path)
				f.tellFigures(w.Reading, k.atLeast(f.Path, w.State))
			}
			all = append(all, f)
		}
	}
	return all
}

func speaksOf(findings []Finding, node string) bool {
	for _, f := range findings {
		for _, n := range f.Nodes {
			if n == node {
				return true
			}
		}
	}
	return false
}
