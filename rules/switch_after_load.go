package rules

import (
	"fmt"
	"strings"

	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// SwitchAfterLoad finds what stays on the hot conductor because it hangs there ahead of the switch.
var SwitchAfterLoad = &Rule{
	Name:    "switch-after-load",
	Signal:  Warning,
	Signals: "WARNING; NOTICE where it is one class X capacitor behind a fuse, with what drains it, and nothing else",
	Looks:   "a load, a rectifier or a capacitor on the hot conductor ahead of every switch; with a plain plug, one on each conductor",
	Why: "What hangs ahead of the switch stays at the line when the set is off. Where the other end of it leads to B-minus or " +
		"to the chassis, it lifts that metal to the line, and a set that is switched off is the one that people take hold of.",
	Blind:  "A contact that sticks; a switch outside the set, such as a switched outlet.",
	Source: "the order plug, fuse, switch, load in the hot leg: trade practice for line-connected sets",
	Remedy: "Wire the hot leg in this order: narrow blade of a polarized plug, fuse, switch, and only then anything that draws " +
		"current. Move line filters behind the switch, as a class X part.",
	Caution: "Unplug the set and let the reservoirs drain before moving a lead. Test the outlet: one wired backwards turns the " +
		"order round. Check again cold and hot after the change.",
	Subject: OfLine,
	Run: func(k *Facts) []Finding {
		side := k.line
		if len(side.Switches()) == 0 {
			return nil
		}
		if k.bothHot() != "" {
			return k.aheadOfEitherLeg()
		}
		hot := side.HangingAhead(side.Hot)
		if len(hot) == 0 {
			return nil
		}
		if !k.plainPlug() && k.loneFilter(hot) {
			return []Finding{{
				Signal: Notice, Parts: hot, Remedy: "Nothing at once; when it is replaced, fit it behind the switch, as a class X part.",
				Message: fmt.Sprintf("%s %s on the hot leg as marked (%s) ahead of any switch: a class X capacitor behind a fuse, across the line, stays on it",
					phrase.List(hot), phrase.Verb(len(hot), "hang"), bladeOf(side.Hot)),
			}}
		}
		if !k.plainPlug() {
			return []Finding{{
				Signal: Warning, Parts: hot,
				Message: fmt.Sprintf("%s %s on the hot leg as marked (%s) ahead of any switch: switched off, still on the line",
					phrase.Few(hot, 4), phrase.Verb(len(hot), "hang"), bladeOf(side.Hot)),
			}}
		}
		neutral := side.HangingAhead(side.Neutral)
		if len(neutral) == 0 {
			return nil
		}
		return []Finding{{
			Signal: Warning, Parts: union(hot, neutral),
			Message: fmt.Sprintf("whichever way the plug stands, something is on the live side ahead of any switch: %s on %s, %s on %s",
				phrase.Few(hot, 3), bladeOf(side.Hot), phrase.Few(neutral, 3), bladeOf(side.Neutral)),
		}}
	},
}

// aheadOfEitherLeg speaks of mains of which both legs are hot: what hangs on either ahead of its switch.
// A leg without a switch is for switch-in-neutral to tell.
func (k *Facts) aheadOfEitherLeg() []Finding {
	var findings []Finding
	for _, l := range k.line.Conductors() {
		if len(l.Full) == 0 && len(l.Other.Full) > 0 {
			continue
		}
		parts := k.line.HangingAhead(l)
		if len(parts) == 0 {
			continue
		}
		findings = append(findings, Finding{
			Signal: Warning, Parts: parts, Remedy: legRemedy,
			Caution: "Unplug the set and let the reservoirs drain before moving a lead. Check again cold and hot after the change.",
			Message: fmt.Sprintf("%s %s on the leg %s ahead of any switch, and %s: switched off, still on the line",
				phrase.Few(parts, 4), phrase.Verb(len(parts), "hang"), bladeOf(l), k.bothHot()),
		})
	}
	return findings
}

// loneFilter reports whether what hangs ahead of every switch is one good class X capacitor across the
// line, behind a fuse. A resistor that drains it draws next to nothing and hangs not there.
func (k *Facts) loneFilter(parts []string) bool {
	if len(k.line.HangingUnfused(k.line.Hot)) > 0 {
		return false
	}
	for _, name := range parts {
		p := k.Set.Part(name)
		d, ok := p.Detail.(*netlist.Capacitor)
		if !ok || !strings.Contains(d.Class, "X") || p.Condition != netlist.Good || !k.line.AlwaysAcross(d.Ends[0], d.Ends[1]) {
			return false
		}
	}
	return len(parts) == 1
}
