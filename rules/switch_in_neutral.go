package rules

import (
	"fmt"

	"coldcheck/analysis/lineside"
	"coldcheck/rules/phrase"
)

// SwitchInNeutral finds a switch that opens the neutral leg alone.
var SwitchInNeutral = &Rule{
	Name:    "switch-in-neutral",
	Signal:  Warning,
	Signals: "WARNING",
	Looks: "a switch that opens only the neutral leg, another one in the hot leg or not; with a plain plug, or mains of which both legs " +
		"are hot, a switch that opens only one leg",
	Why: "Switched off, the whole set still hangs on the hot leg. Heaters, windings and motors then carry the line to B-minus, " +
		"and through it to whatever is joined to it. It looks off, and it is as live as it can be.",
	Blind:  "A switch outside the set; a pole that sticks (that is told as a fault); which blade of a plain plug is hot, which no one knows.",
	Source: "the order plug, fuse, switch, load in the hot leg: trade practice; IEC 60990:2016 clause 6, which measures in every position of the switch",
	Remedy: "Move the switch to the hot leg, behind the fuse and ahead of everything else, with a polarized plug; the neutral then goes " +
		"straight to the set's line side, never to metal that a hand can reach. Or fit a two-pole switch that opens both legs.",
	Caution: "A switch in the hot leg helps only while the outlet is wired right: test it. With the plug turned round the " +
		"neutral leg is hot, on or off. Work unplugged, and check again cold and hot after the change.",
	Subject: OfLine,
	Run: func(k *Facts) []Finding {
		side := k.line
		inHot, inNeutral := side.OnlyIn(side.Hot), side.OnlyIn(side.Neutral)
		switch {
		case k.bothHot() != "":
			return k.offOneLeg(inHot, inNeutral)
		case k.plainPlug() && len(inHot) > 0 && len(inNeutral) > 0:
			return []Finding{inEitherLeg(inHot, inNeutral, side)}
		case k.plainPlug():
			return append(inOneLeg(inHot, side.Hot), inOneLeg(inNeutral, side.Neutral)...)
		case len(inNeutral) == 0:
			return nil
		}
		unless := ""
		if others := side.Governors(inNeutral, side.Neutral); len(others) > 0 {
			unless = fmt.Sprintf(", unless %s in that leg %s off too", phrase.List(others), phrase.Be(len(others)))
		}
		return []Finding{{
			Signal: Warning, Parts: inNeutral,
			Message: fmt.Sprintf("%s %s only the neutral leg as marked (%s): off, the set still hangs on the hot leg (%s)%s",
				phrase.List(inNeutral), phrase.Verb(len(inNeutral), "open"), bladeOf(side.Neutral), bladeOf(side.Hot), unless),
		}}
	},
}

// offOneLeg speaks of mains of which both legs are hot: a switch that opens one alone leaves the set on
// the other.
func (k *Facts) offOneLeg(inHot, inNeutral []string) []Finding {
	remedy := "Fit a two-pole switch that opens both legs, behind a fuse in each: on these mains no one leg is the one to switch."
	caution := "Turning the plug round changes nothing here. Work unplugged, and check again cold and hot after the change."
	var findings []Finding
	for _, x := range []struct {
		switches []string
		l        *lineside.Conductor
	}{{inHot, k.line.Hot}, {inNeutral, k.line.Neutral}} {
		if len(x.switches) == 0 {
			continue
		}
		findings = append(findings, Finding{
			Signal: Warning, Parts: x.switches, Remedy: remedy, Caution: caution,
			Message: fmt.Sprintf("%s %s one leg alone (%s), and %s: switched off, the set still hangs on the other (%s)",
				phrase.List(x.switches), phrase.Verb(len(x.switches), "open"), bladeOf(x.l), k.bothHot(), bladeOf(x.l.Other)),
		})
	}
	return findings
}

// inEitherLeg speaks of a plain plug with switches of their own in both legs.
func inEitherLeg(inHot, inNeutral []string, side *lineside.Side) Finding {
	return Finding{
		Signal: Warning, Parts: union(inHot, inNeutral),
		Message: fmt.Sprintf("%s %s one leg alone (%s) and %s the other (%s), and with a plain plug no one knows which is hot: with one of them off "+
			"and the other on, the set hangs on the hot leg in one of the two ways",
			phrase.List(inHot), phrase.Verb(len(inHot), "open"), bladeOf(side.Hot), phrase.List(inNeutral), bladeOf(side.Neutral)),
	}
}

// inOneLeg speaks of a plain plug, whose blades are alike.
func inOneLeg(switches []string, l *lineside.Conductor) []Finding {
	if len(switches) == 0 {
		return nil
	}
	return []Finding{{
		Signal: Warning, Parts: switches,
		Message: fmt.Sprintf("%s %s one leg alone (%s), and with a plain plug no one knows which: in one of the two ways the set, "+
			"switched off, still hangs on the hot leg (%s)",
			phrase.List(switches), phrase.Verb(len(switches), "open"), bladeOf(l), bladeOf(l.Other)),
	}}
}
