package rules

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// liftOff is the remedy for metal on the line.
const liftOff = "lift the line side off this metal: make B-minus an insulated bus and join it to the metal by a class Y capacitor of " +
	"4.7 nF or less alone, or feed the set through an isolating transformer"

// PolarityOnly finds metal that is live in exactly one plug way.
var PolarityOnly = &Rule{
	Name:    "polarity-only",
	Signal:  Danger,
	Signals: "DANGER; behind a guard it is told as behind-guard",
	Looks:   "a touch point that is live in exactly one plug way, whatever the switches: the plug's polarity is all there is",
	Why: "A polarized plug promises only that one blade fits one slot. It does not know how the outlet is wired, and it does " +
		"nothing when the neutral comes off upstream. Between the line and the hand there is no part that would have to fail.",
	Blind:  "How the outlet is wired, whether an adapter or an old extension cord turns the plug round, or whether a blade was filed.",
	Source: "IEC 60990:2016 clause 6 (both ways of the plug are measured); IEC 62368-1 table 4; trade practice on polarized plugs",
	Remedy: liftOff + "; a polarized plug is worth having, with fuse and switch in the hot leg",
	Caution: "Work with the plug out and the reservoirs discharged. Test the outlet with a tester, and do not rely on the plug: " +
		"measure every metal part both ways round after the change. Follow local electrical codes; have a qualified person judge it.",
	Run: runPolarityOnly,
}

func runPolarityOnly(k *Case) []Finding { return k.unguarded((*liveness).oneWayOnly, k.tellPolarity) }

// unguarded tells each bare piece of metal that is live without a fault and that want picks.
func (k *Case) unguarded(want func(*liveness) bool, tell func(*Metal, *liveness) Finding) []Finding {
	var all []Finding
	for _, m := range k.Metals {
		if l := k.liveness(m); !m.Guarded() && len(l.all()) > 0 && want(l) {
			all = append(all, tell(m, l))
		}
	}
	return all
}

// tellLive is what the first three rules have in common: the worst state, its path and its
// figures.
func (k *Case) tellLive(m *Metal, rows []analysis.Row) Finding {
	w, judged := worstRow(rows, m.index)
	f := Finding{Signal: Danger, Nodes: m.Nodes(), Worst: w, Between: "nothing"}
	f.Path = k.freePath(k.Mains, w.State, m.Node())
	f.Parts = partsOf(f.Path)
	if judged {
		f.tellFigures(w.Reading, k.atLeast(f.Path, w.State))
	} else {
		f.Figures = "the line is shorted in this state and a breaker opens; until it does, or with the earth lost, the full line is on it"
		f.Worst = &analysis.Worst{State: w.State}
	}
	if k.Circuit.Bench.Isolated {
		f.Notes = append(f.Notes, "judged on the mains: with the isolated bench supply the isolation is the bench's, not the set's")
	}
	return f
}

func (k *Case) tellPolarity(m *Metal, l *liveness) Finding {
	rows := l.all()
	f := k.tellLive(m, rows)
	live := rows[0].State.Plug
	_, plug := k.Set.Plug()
	f.Message = fmt.Sprintf("%s %s live whenever the %s%s: only the way of the plug keeps the line off",
		metalName(m), be(things(m.Nodes())), plugTurned(live, plug.Style), switchWords(ofWay(rows, live), k.Mains))
	f.Remedy = liftOff + "; fuse and switch go into the hot leg, with a polarized plug where outlets take one"
	f.Notes = append(f.Notes, k.undoes(m, live.Other(), f)...)
	return f
}

func plugTurned(way analysis.Polarity, style string) string {
	if style == "plain" {
		return fmt.Sprintf("plug stands one of its two ways (%s; nothing tells which)", way)
	}
	if way == analysis.Reversed {
		return "plug is reversed or the outlet wired backwards"
	}
	return "plug stands as marked"
}

// undoes tells, with figures, what makes the metal live although the plug stands the good way.
func (k *Case) undoes(m *Metal, good analysis.Polarity, f Finding) []string {
	_, plug := k.Set.Plug()
	turned := "an outlet wired backwards, an adapter or a filed blade"
	if plug.Style == "plain" {
		turned = "turning the plug round, for nothing marks which way is right"
	}
	if f.Worst != nil && f.Worst.Milliamps+f.Worst.MilliampsDC > 0 {
		turned += ": " + current(f.Worst.Reading)
	}
	notes := []string{"undone by " + turned}
	var single []string
	for _, fault := range k.Mains.Faults {
		if fault.Cost > 1 {
			continue
		}
		worst := worstBlocking(ofWay(k.Mains.Judged(fault), good), m.index)
		if worst == nil || worst.Class() != analysis.Live {
			continue
		}
		text := fmt.Sprintf("%s %s", FaultWords(fault), current(worst.Reading))
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
		notes = append(notes, fmt.Sprintf("%s (%s) one failure makes it live all the same: %s", round, wayWords(good), few(single, 4)))
	} else {
		notes = append(notes, fmt.Sprintf("%s (%s) it took more than one failure in what was described", round, wayWords(good)))
	}
	if text := k.switchHelps(m, good.Other()); text != "" {
		notes = append(notes, text)
	}
	return notes
}

// switchHelps says whether switching off takes the line away in the bad plug way.
func (k *Case) switchHelps(m *Metal, bad analysis.Polarity) string {
	var useless []string
	rows := ofWay(k.liveness(m).all(), bad)
	for _, control := range k.Mains.Switches {
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
