package rules

import (
	"fmt"
	"sync"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// OverWatts finds resistors that burn more than they are rated for.
var OverWatts = &Rule{
	Name:    "over-watts",
	Signal:  Caution,
	Signals: "CAUTION",
	Looks:   "a resistor over its stated watts with nothing wrong, or with one lamp open",
	Why: "A resistor over its watts chars what is near it, drifts, and ends open or, when carbon, short. A dropper or a surge resistor " +
		"that goes takes the insulation beside it along.",
	Blind: "Resistors without stated watts; the current that tubes draw from B-plus, which is not worked out here; heat that cannot get away. " +
		"A resistor is told to run at half of its watts.",
	Source:  "the maker's rating; trade practice of twice the watts worked out",
	Remedy:  "Fit a resistor of twice the watts that it burns, flameproof in the line, with air round it; if a lamp is what failed, fit the lamp.",
	Caution: "It is hot for minutes after the plug is pulled. Look for charred insulation near by, and check cold before the set is plugged in again.",
	Subject: OfPart,
	Stress:  true,
	Run: func(k *Facts) []Finding {
		lampsOpen := sync.OnceValue(func() []*analysis.Solution { return k.withEachLampOpen() })
		var findings []Finding
		for p, r := range details[*netlist.Resistor](k.Set) {
			if r.Watts == 0 {
				continue
			}
			// A state with a lamp open is told only where the resistor is within its watts while all lamps
			// are whole.
			watts, at := mostWatts(p.Name, k.judged)
			if watts <= r.Watts*ratingSlack {
				watts, at = mostWatts(p.Name, lampsOpen())
			}
			if watts <= r.Watts*ratingSlack {
				continue
			}
			findings = append(findings, Finding{
				Signal: Caution, Parts: []string{p.Name}, Worst: inState(at),
				Message: fmt.Sprintf("%s, %s, burns %s and is rated %s", p.Name, phrase.Value(r.InUse(), netlist.Ohm),
					phrase.Value(watts, netlist.Watt), phrase.Value(r.Watts, netlist.Watt)),
			})
		}
		return findings
	},
}

// withEachLampOpen solves every normal state with each lamp open in turn.
func (k *Facts) withEachLampOpen() []*analysis.Solution {
	var solutions []*analysis.Solution
	for _, f := range k.Circuit.Faults {
		if f.Kind != analysis.Open || k.Set.Part(f.Part).Kind != netlist.KindLamp {
			continue
		}
		for _, state := range k.Circuit.Normal() {
			solutions = append(solutions, k.Circuit.Solve(state.WithFaults(f)))
		}
	}
	return notCleared(solutions)
}

// mostWatts is the most that a resistor burns in some states, and in which.
func mostWatts(part string, solutions []*analysis.Solution) (float64, analysis.State) {
	return mostOf(solutions, clearly, func(s *analysis.Solution) float64 {
		watts := 0.0
		for _, f := range s.Flows(part) {
			watts += f.Watts()
		}
		return watts
	})
}
