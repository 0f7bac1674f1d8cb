package rules

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// soonGone is how soon a charge must be below 60 V not to be told: a hand takes longer from the
// plug to the set.
const soonGone = 1.0 // s

// smallCharge is the energy below which a charge is told among others and not by itself.
const smallCharge = 1e-3 // J

// StoredCharge finds what stays charged once the plug is out.
var StoredCharge = &Rule{
	Name:    "stored-charge",
	Signal:  Warning,
	Signals: "CAUTION; WARNING where the plug's own blades stay over 60 V for more than 2 s",
	Looks:   "a capacitor that stays over 60 V DC for more than a second after the plug is pulled",
	Why: "A reservoir keeps its charge for minutes or days where nothing drains it. It shocks, burns a ring or a screwdriver, and the start " +
		"it gives does more harm than the shock. On the plug's own blades it waits in the hand that pulled the plug.",
	Blind:  "What the tubes drain while they cool; charge that creeps back into an electrolytic after it was shorted; how long the set has been off.",
	Source: "IEC 62368-1: table 4 (60 V DC, ES1) and clause 5.5.2.2 (plug blades within 2 s)",
	Remedy: "Discharge through a resistor of some 1 to 10 kΩ, 5 W, on insulated clips, and measure. To drain it by itself: a bleeder of 100 to " +
		"470 kΩ, 1 W, across a reservoir; across the plug, 1 MΩ of a voltage grade fit for the line.",
	Caution: "Measure after discharging, and again after a minute. Do not short a reservoir with a screwdriver.",
	Subject: OfPart,
	Run: func(k *Facts) []Finding {
		var findings []Finding
		var others []analysis.Stored
		for _, s := range k.Result.Stored {
			switch {
			case s.BladeSeconds > analysis.BladeSecondsLimit:
				findings = append(findings, onBlades(s))
			case s.Seconds > soonGone:
				others = append(others, s)
			}
		}
		// Worst first; what is equal stays in the order of the file.
		slices.SortStableFunc(others, func(a, b analysis.Stored) int { return cmp.Compare(b.Joules, a.Joules) })
		return append(findings, foldStored(others)...)
	},
}

func onBlades(s analysis.Stored) Finding {
	return Finding{
		Signal: Warning, Parts: []string{s.Part},
		Message: fmt.Sprintf("%s keeps the plug's own blades over 60 V after unplugging: %s, %s; the limit is 2 s (IEC 62368-1, 5.5.2.2)",
			s.Part, phrase.Charge(s), phrase.Drain(s.BladeSeconds)),
	}
}

// foldStored tells one or two capacitors each, and more than two in one finding.
func foldStored(all []analysis.Stored) []Finding {
	tell := func(s analysis.Stored) string {
		words := fmt.Sprintf("%s, %s", phrase.Charge(s), phrase.Drain(s.Seconds))
		if !math.IsInf(s.Drain, 1) {
			words += " through " + phrase.Estimate(s.Drain, netlist.Ohm)
		}
		return words
	}
	if len(all) <= 2 {
		var findings []Finding
		for _, s := range all {
			findings = append(findings, Finding{Signal: Caution, Parts: []string{s.Part}, Message: s.Part + " stays charged after unplugging: " + tell(s)})
		}
		return findings
	}
	f := Finding{Signal: Caution}
	var lines, small []string
	for _, s := range all {
		f.Parts = append(f.Parts, s.Part)
		if s.Joules < smallCharge && len(lines) > 0 {
			small = append(small, s.Part)
		} else {
			lines = append(lines, s.Part+", "+tell(s))
		}
	}
	f.Message = fmt.Sprintf("%d capacitors stay charged after unplugging, foremost %s", len(all), lines[0])
	f.Notes = lines[1:]
	if len(small) > 0 {
		each := ""
		if len(small) > 1 {
			each = " each"
		}
		f.Notes = append(f.Notes, "under 1 mJ"+each+": "+phrase.Few(small, 12))
	}
	return []Finding{f}
}
