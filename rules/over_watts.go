package rules

import (
	"fmt"
	"slices"
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
	Blind: "Resistors without stated watts; tubes that draw more than usual ones; heat that cannot get away. A resistor is told to run at half of " +
		"its watts.",
	Source:  "the maker's rating; trade practice of twice the watts worked out",
	Remedy:  "Fit a resistor of twice the watts that it burns, flameproof in the line, with air round it; if a lamp is what failed, fit the lamp.",
	Caution: "It is hot for minutes after the plug is pulled. Look for charred insulation near by, and check cold before the set is plugged in again.",
	Subject: OfPart,
	Stress:  true,
	Run: func(k *Facts) []Finding {
		lampsOpen := sync.OnceValue(func() []*analysis.Playing { return k.withEachLampOpen() })
		var findings []Finding
		for i, p := range k.Set.Parts {
			r, ok := p.Detail.(*netlist.Resistor)
			if !ok || r.Watts == 0 {
				continue
			}
			// A state with a lamp open is told only where the resistor is within its watts while all lamps
			// are whole.
			watts, at := k.mostWatts(i, []*analysis.Playing{k.Circuit.Playing()})
			if watts <= r.Watts*ratingSlack {
				watts, at = k.mostWatts(i, lampsOpen())
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

// withEachLampOpen is the set while it plays with each lamp open in turn.
func (k *Facts) withEachLampOpen() []*analysis.Playing {
	var all []*analysis.Playing
	for _, f := range k.Circuit.Faults {
		if f.Kind == analysis.Open && k.Set.Part(f.Part).Kind == netlist.KindLamp {
			all = append(all, k.Circuit.PlayingWith(f))
		}
	}
	return all
}

// mostWatts is the most that a resistor burns while the set plays, and in which state. Where not every
// position could be solved in time, what it burns in the normal states counts too.
func (k *Facts) mostWatts(part int, all []*analysis.Playing) (most float64, at analysis.State) {
	for _, p := range all {
		for _, w := range slices.Concat(p.OnLine, p.OnBattery) {
			if r := w.Of(part); r != nil && r.Watts > most*clearly {
				most, at = r.Watts, k.Circuit.StateAt(analysis.AsMarked, w.Options.Position).WithFaults(w.Options.Faults...)
			}
		}
		if p.Unsolved == nil && !p.Cut {
			continue
		}
		bound, state := mostOf(k.judged, clearly, func(s *analysis.Solution) float64 {
			watts := 0.0
			for _, f := range s.Flows(k.Set.Parts[part].Name) {
				watts += f.Watts()
			}
			return watts
		})
		if bound > most {
			most, at = bound, state
		}
	}
	return most, at
}
