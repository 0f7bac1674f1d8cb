package rules

import (
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// EarthedLine finds earths that are tied to a line conductor.
var EarthedLine = &Rule{
	Name:    "earthed-line",
	Signal:  Danger,
	Signals: "DANGER",
	Looks:   "a point meant for an outside earth, or anything on an earth, that conductors tie to a line conductor",
	Why: "An earth wire on a line conductor is a short of the line in one plug polarity, through a pipe or a rod that may not trip the breaker; " +
		"in the other way it carries the set's current. Whatever shares that earth comes up to line volts with it.",
	Blind:  "Earths that the file does not name, and an outlet whose earth contact is bridged to its neutral.",
	Source: "IEC 62368-1 clause 5.3 and annex on equipment grounds; trade practice: the equipment ground is never a return",
	Remedy: "take the earth off the line: couple the ground terminal by a class Y capacitor of 4.7 nF or less alone, " +
		"and earth a chassis only after it is off the line on both sides",
	Caution: "Disconnect the earth wire before the plug goes in. Work unplugged, and measure from the terminal to each blade afterwards. " +
		"The grounding of a set is a matter for local electrical codes and a qualified person.",
	Subject: OfEarth,
	Live:    true,
	Run:     runEarthedLine,
}

func runEarthedLine(k *Facts) []Finding {
	_, plug := k.Set.Plug()
	type earth struct{ node, what string }
	var earths []earth
	for _, p := range k.Result.Points {
		if p.Touch == "ground" {
			earths = append(earths, earth{p.Name, fmt.Sprintf("%s, meant for an outside earth wire,", netlist.Visible(p.Name))})
		}
	}
	if plug.Earth != "" {
		earths = append(earths, earth{plug.Earth, fmt.Sprintf("%s, on the plug's earth contact,", netlist.Visible(plug.Earth))})
	}
	if k.Set.Node(netlist.BuildingEarth) != nil {
		earths = append(earths, earth{netlist.BuildingEarth, netlist.BuildingEarth})
	}
	if !k.Circuit.Bench.Isolated {
		for _, name := range k.Circuit.Bench.Earthed {
			earths = append(earths, earth{name, fmt.Sprintf("%s, earthed on the bench,", netlist.Visible(name))})
		}
	}
	var all []Finding
	var seen []string
	for _, e := range earths {
		if slices.Contains(seen, e.node) {
			continue
		}
		if f, ok := k.tiedToLine(e.node, e.what); ok {
			seen = append(seen, e.node)
			all = append(all, f)
		}
	}
	return all
}

// tiedToLine tells the first state in which conductors tie an earth to a line conductor.
func (k *Facts) tiedToLine(node, what string) (Finding, bool) {
	for _, w := range k.wirings {
		for _, l := range k.line.Conductors() {
			if !w.Joined(l.Blade, node) {
				continue
			}
			p, ok := w.Shortest(l.Blade, node, analysis.Query{Pass: analysis.Channel.Conducts})
			if !ok {
				continue
			}
			side := "line conductor"
			if !k.plainPlug() {
				side = l.Name + " " + side
			}
			state := w.State
			state.Plug = analysis.AsMarked // in which this conductor is the hot one
			if l == k.line.Neutral {
				state.Plug = analysis.Reversed
			}
			does := phrase.Plug(state.Plug) + " it shorts the line through the earth"
			switch k.Set.Earthed {
			case netlist.EarthedMidpoint, netlist.EarthedStar:
				side, does = "leg "+bladeOf(l), "either way of the plug it shorts that leg to the earth, for both legs are hot"
			case netlist.EarthedNowhere:
				side, does = "leg "+bladeOf(l), fmt.Sprintf("it earths mains that are earthed nowhere, and puts %s at the full line volts to earth", bladeOf(l.Other))
			}
			return Finding{
				Signal: Danger, Nodes: []string{node}, Parts: p.Parts(), Path: &p, Worst: inState(state), Between: "nothing",
				Message: fmt.Sprintf("%s is tied to the %s by conductors alone: %s", what, side, does),
			}, true
		}
	}
	return Finding{}, false
}
