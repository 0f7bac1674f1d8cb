package rules

import (
	"fmt"

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
	Run: func(k *Case) []Finding {
		var findings []Finding
		for _, p := range k.Set.Parts {
			r, ok := p.Detail.(*netlist.Resistor)
			if !ok || r.Watts == 0 {
				continue
			}
			watts, at := k.mostWatts(p.Name, r.Watts)
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

// mostWatts is the most that a resistor burns. A state with a lamp open is told only where the
// resistor is within its watts while all lamps are whole.
func (k *Case) mostWatts(part string, rated float64) (float64, analysis.State) {
	most, at := mostWattsIn(part, k.Normal)
	if most > rated*ratingSlack {
		return most, at
	}
	for _, f := range k.Circuit.Faults {
		if f.Kind != analysis.Open || k.Set.Part(f.Part).Kind != netlist.KindLamp {
			continue
		}
		if watts, state := mostWattsIn(part, k.withFault(f)); watts > most*ratingSlack {
			most, at = watts, state
		}
	}
	return most, at
}

func mostWattsIn(part string, solutions []*analysis.Solution) (most float64, at analysis.State) {
	for _, s := range solutions {
		if s.Cleared {
			continue
		}
		watts := 0.0
		for _, f := range s.Flows(part) {
			watts += f.Watts()
		}
		if watts > most*ratingSlack {
			most, at = watts, s.State
		}
	}
	return most, at
}
