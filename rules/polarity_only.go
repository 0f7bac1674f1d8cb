package rules

import (
	"cmp"
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// liftOff is the remedy for metal on the line.
const liftOff = "lift the line side off this metal: make B-minus an insulated bus and join it to the metal by a class Y capacitor of " +
	"4.7 nF or less alone, or feed the set through an isolating transformer"

// PolarityOnly finds metal that is live in exactly one plug polarity.
var PolarityOnly = &Rule{
	Name:    "polarity-only",
	Signal:  Danger,
	Signals: "DANGER; behind a guard it is told as behind-guard",
	Looks:   "a touch point that is live in exactly one plug polarity, whatever the switches: the plug's polarity is all there is",
	Why: "A polarized plug promises only that one blade fits one slot. It does not know how the outlet is wired, and it does " +
		"nothing when the neutral comes off upstream. Between the line and the hand there is no part that would have to fail.",
	Blind:  "How the outlet is wired, whether an adapter or an old extension cord turns the plug round, or whether a blade was filed.",
	Source: "IEC 60990:2016 clause 6 (both plug polarities are measured); IEC 62368-1 table 4; trade practice on polarized plugs",
	Remedy: liftOff + "; a polarized plug is worth having, with fuse and switch in the hot leg",
	Caution: "Work with the plug out and the reservoirs discharged. Test the outlet with a tester, and do not rely on the plug: " +
		"measure every metal part both ways round after the change. Follow local electrical codes; have a qualified person judge it.",
	Subject: OfMetal,
	Live:    true,
	Run:     runPolarityOnly,
}

func runPolarityOnly(k *Facts) []Finding { return k.tellBare(k.onePolarity, k.tellPolarity) }

func (k *Facts) tellPolarity(m *Metal, l *liveness) Finding {
	rows := l.all()
	f := k.tellLive(m, rows)
	live := rows[0].State.Plug
	_, plug := k.Set.Plug()
	f.Message = fmt.Sprintf("%s %s live whenever the %s%s: only the plug polarity keeps the line off",
		m.Name(), phrase.Be(phrase.Things(m.Nodes())), plugTurned(live, plug.Style), whileSwitches(ofPolarity(rows, live), k.grounded))
	then := "; fuse and switch go into the hot leg, with a polarized plug where outlets take one"
	if side := k.line; !k.plainPlug() && len(side.Hot.Fuses) > 0 && len(side.Hot.Full) > 0 && len(side.OnlyIn(side.Neutral)) == 0 {
		then = "" // they are there
	}
	f.Remedy = k.liftRemedy(m, f.Path, then)
	f.Notes = append(f.Notes, k.undoes(m, live.Other(), f)...)
	return f
}

func plugTurned(polarity analysis.Polarity, style string) string {
	if style == "plain" {
		return fmt.Sprintf("plug stands one of its two ways (%s; nothing tells which)", phrase.Plug(polarity))
	}
	if polarity == analysis.Reversed {
		return "plug is reversed or the outlet wired backwards"
	}
	return "plug stands as marked"
}

// undoes tells, with figures, what makes the metal live although the plug stands as it should.
func (k *Facts) undoes(m *Metal, good analysis.Polarity, f Finding) []string {
	_, plug := k.Set.Plug()
	turned := "an outlet wired backwards, an adapter or a filed blade"
	if plug.Style == "plain" {
		turned = "turning the plug round, for nothing marks which way is right"
	}
	if f.Worst != nil && f.Worst.Milliamps+f.Worst.MilliampsDC > 0 {
		turned += ": " + phrase.Current(f.Worst.Reading)
	}
	notes := []string{"undone by " + turned}
	var single []string
	for _, fault := range k.grounded.Faults {
		if fault.Cost > 1 {
			continue
		}
		worst := k.worstOfPieces(m, fault, good)
		if worst == nil || worst.Class() != analysis.Live {
			continue
		}
		text := fmt.Sprintf("%s %s", phrase.Fault(fault), phrase.Current(worst.Reading))
		if fault.Kind == analysis.NeutralLost {
			single = append([]string{text}, single...)
		} else {
			single = append(single, text)
		}
	}
	round := "the right way round"
	if plug.Style == "plain" {
		round = "the other way round"
	}
	if len(single) > 0 {
		notes = append(notes, fmt.Sprintf("%s (%s) one failure makes it live all the same: %s", round, phrase.Plug(good), phrase.Few(single, 4)))
	} else {
		notes = append(notes, fmt.Sprintf("%s (%s) it took more than one failure in what was described", round, phrase.Plug(good)))
	}
	if text := k.switchHelps(m, good.Other()); text != "" {
		notes = append(notes, text)
	}
	return notes
}

// worstOfPieces is the worst of what a fault leaves of a metal in one plug polarity, with all
// rectifiers blocking where it is live then.
func (k *Facts) worstOfPieces(m *Metal, fault *analysis.Fault, polarity analysis.Polarity) *analysis.Worst {
	rows := ofPolarity(k.grounded.Judged(fault), polarity)
	var most *analysis.Worst
	for _, piece := range k.pieces(m, fault) {
		if w := worstBlocking(rows, piece); w != nil && (most == nil || cmp.Or(cmp.Compare(w.Class(), most.Class()), cmp.Compare(w.Severity(), most.Severity())) > 0) {
			most = w
		}
	}
	return most
}

// switchHelps says whether switching off takes the line away in the bad plug polarity.
func (k *Facts) switchHelps(m *Metal, bad analysis.Polarity) string {
	var useless []string
	rows := ofPolarity(k.live(m).all(), bad)
	for _, control := range k.grounded.Switches {
		part := k.Set.Part(control.Name)
		if part == nil || part.Kind != netlist.KindSwitch {
			continue
		}
		for _, r := range rows {
			if r.State.At(control.Name) == "off" {
				useless = append(useless, control.Name)
				break
			}
		}
	}
	if len(useless) == 0 {
		return ""
	}
	return "switching off does not help: with " + strings.Join(useless, ", ") + " off it is live all the same"
}
