package rules

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

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
	Signals: "CAUTION; WARNING where the plug's own blades keep more than 60 V after 2 s, and more than so large a capacitor may",
	Looks:   "a capacitor that stays over 60 V DC for more than a second after the plug is pulled",
	Why: "A reservoir keeps its charge for minutes or days where nothing drains it. It shocks, burns a ring or a screwdriver, and the start " +
		"it gives does more harm than the shock. On the plug's own blades it waits in the hand that pulled the plug.",
	Blind:  "The charge of a picture tube and of a boost reservoir, of which it only reminds; what the tubes drain while they cool; charge that creeps back into an electrolytic after it was shorted; how long the set has been off.",
	Source: "IEC 62368-1: tables 4 and 5 (60 V DC, charged capacitors, ES1) and clause 5.5.2.2 (plug blades within 2 s)",
	Remedy: "Discharge through a resistor of some 1 to 10 kΩ, 5 W, on insulated clips, and measure. To drain it by itself: a bleeder of 100 to " +
		"470 kΩ, 1 W, across a reservoir; across the plug, 1 MΩ of a voltage grade fit for the line.",
	Caution: "Measure after discharging, and again after a minute. Do not short a reservoir with a screwdriver.",
	Subject: OfPart,
	Run: func(k *Facts) []Finding {
		var findings []Finding
		var others []analysis.Stored
		blades := onBlades(k.Result.Stored)
		for _, s := range k.Result.Stored {
			switch {
			case s.BladeSeconds > 0 && blades.overLimit(s):
				findings = append(findings, blades.tell(s))
			case s.Seconds > soonGone:
				others = append(others, s)
			}
		}
		// Worst first; what is equal stays in the order of the file.
		slices.SortStableFunc(others, func(a, b analysis.Stored) int { return cmp.Compare(b.Joules, a.Joules) })
		return append(append(findings, foldStored(others)...), k.televisions()...)
	},
}

// bladeFarads is what lies across the plug's blades, side by side.
type bladeFarads float64

// onBlades adds up what lies across the blades in some position of the switches.
func onBlades(all []analysis.Stored) bladeFarads {
	sum := 0.0
	for _, s := range all {
		if s.BladeSeconds > 0 {
			sum += farads(s)
		}
	}
	return bladeFarads(sum)
}

func farads(s analysis.Stored) float64 { return 2 * s.Joules / (s.Volts * s.Volts) }

// overLimit reports whether the blades have more volts after the time that the standard gives them than
// it lets through of what lies across them. All of it drains through what drains each.
func (b bladeFarads) overLimit(s analysis.Stored) bool { return b.left(s) > chargedVolts(float64(b)) }

// left are the volts of the blades after that time: V·e^(−t/RC), R from the time to 60 V of one alone.
func (b bladeFarads) left(s analysis.Stored) float64 {
	if math.IsInf(s.BladeSeconds, 1) {
		return s.Volts
	}
	tau := s.BladeSeconds / math.Log(s.Volts/analysis.StoredVolts) * float64(b) / farads(s)
	return s.Volts * math.Exp(-analysis.BladeSecondsLimit/tau)
}

func (b bladeFarads) tell(s analysis.Stored) Finding {
	return Finding{
		Signal: Warning, Parts: []string{s.Part},
		Message: fmt.Sprintf("%s keeps the plug's own blades over 60 V after unplugging: %s, %s; after 2 s %s are let through of so large a capacitor (IEC 62368-1, 5.5.2.2)",
			s.Part, phrase.Charge(s), phrase.Drain(s.BladeSeconds), phrase.Volts(chargedVolts(float64(b)))),
	}
}

// charged are the volts that a charged capacitor may have where anyone may touch it: the limits of ES1 by
// capacitance (IEC 62368-1 table 5, from trade knowledge), in F and V, the largest first.
var charged = [][2]float64{{350e-9, analysis.StoredVolts}, {170e-9, 75}, {91e-9, 100}, {61e-9, 125}, {41e-9, 150}, {28e-9, 200}, {18e-9, 250},
	{12e-9, 350}, {8e-9, 500}, {4e-9, 1000}}

// chargedVolts is that limit for a capacitance, on a straight line between two of the table.
func chargedVolts(c float64) float64 {
	if c >= charged[0][0] {
		return charged[0][1]
	}
	for i := 1; i < len(charged); i++ {
		if above, at := charged[i-1], charged[i]; c >= at[0] {
			return at[1] + (above[1]-at[1])*(c-at[0])/(above[0]-at[0])
		}
	}
	return charged[len(charged)-1][1]
}

// televisions tells of tubes that make a line-output stage what it keeps.
func (k *Facts) televisions() []Finding {
	var parts []string
	for p, d := range details[*netlist.Tube](k.Set) {
		use := strings.ToLower(d.Type.Use)
		if slices.ContainsFunc([]string{"damper", "boost", "line output", "line-output", "horizontal"}, func(word string) bool { return strings.Contains(use, word) }) {
			parts = append(parts, p.Name)
		}
	}
	if len(parts) == 0 {
		return nil
	}
	return []Finding{{
		Signal: Caution, Parts: parts,
		Message: fmt.Sprintf("%s %s of a television's line-output stage: the picture tube's anode and the boost reservoir keep a charge of thousands and of hundreds of volts, which is not worked out here",
			phrase.List(parts), phrase.Be(len(parts))),
		Remedy: "Discharge the anode to the picture tube's own outer coating by an insulated lead with some 1 MΩ in series, not to the chassis; discharge the boost reservoir, and measure.",
	}}
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
