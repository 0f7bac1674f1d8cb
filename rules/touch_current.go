package rules

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/rules/phrase"
)

// TouchCurrent finds current through good parts.
var TouchCurrent = &Rule{
	Name:    "touch-current",
	Signal:  Danger,
	Signals: "WARNING over 0.5 mA AC or 2 mA DC (ES1); DANGER over 5 mA AC or 25 mA DC (ES2) with nothing failed",
	Looks: "current through good parts and stated leakage in normal states; with the earth contact open; once a tube is pulled or a lamp, " +
		"fuse, coil or resistor is open; and with all bare touch points joined as by one hand",
	Why: "A sound capacitor of 0.1 µF passes some 4.5 mA at 120 V 60 Hz: nothing is broken, and the metal still bites. " +
		"A start from a small shock drops tools and sets, and at 5 mA the hand may not let go.",
	Blind: "Stray capacitance of windings and insulation is not in the figures: a well isolated chassis still shows a phantom reading on a " +
		"high-resistance meter. Mains and capacitors have tolerances of a tenth and more.",
	Source: "IEC 60990:2016 figure 3 and clause 6; IEC 62368-1 table 4 and 5.2.2.2",
	Remedy: "replace what couples the metal to the line by a class Y capacitor of a value that keeps the current under 0.5 mA " +
		"(4.7 nF is 0.21 mA at 120 V 60 Hz, 0.33 mA at 220 V 50 Hz), without a resistor across it, or with two in series",
	Caution: "Work unplugged with the reservoirs discharged. Measure the current again both plug ways with 1.5 kΩ and 0.15 µF to a tested earth, " +
		"without an isolation transformer, which hides it. Follow local electrical codes.",
	Run: runTouchCurrent,
}

func runTouchCurrent(k *Case) []Finding {
	var all []Finding
	for _, m := range k.Metals {
		if len(k.liveness(m).all()) > 0 {
			continue
		}
		f, ok := k.normalCurrent(m)
		if ok {
			all = append(all, f)
		}
		if ok && f.Worst.Class() == analysis.Live {
			continue
		}
		beyond := analysis.UnderLimit
		if ok {
			beyond = analysis.Startles // that much is told already
		}
		if f, ok := k.currentOnceOpen(m, beyond); ok {
			all = append(all, f)
		}
	}
	if f, ok := k.joinedCurrent(); ok {
		all = append(all, f)
	}
	return all
}

// normalCurrent tells what a piece of metal passes with nothing failed.
func (k *Case) normalCurrent(m *Metal) (Finding, bool) {
	w := m.Points[0].Normal
	if w == nil || w.Class() == analysis.UnderLimit || m.Guarded() && w.Class() != analysis.Live {
		return Finding{}, false
	}
	f := k.tellCurrent(m, w)
	f.Signal = Warning
	n := phrase.Things(m.Nodes())
	what := phrase.Verb(n, "startle")
	switch {
	case w.Class() == analysis.Live && m.Guarded():
		what = phrase.Be(n) + " live behind " + m.guardWords()
	case w.Class() == analysis.Live:
		f.Signal, what = Danger, phrase.Be(n)+" live"
	}
	f.Message = fmt.Sprintf("%s %s with nothing failed: %s%s", m.Name(), what, phrase.Current(w.Reading), k.couplers(f.Path))
	return f, true
}

// currentOnceOpen tells what a piece of metal passes once something that is no safeguard is open:
// the limit there is still ES1. What is within the band beyond is passed over.
func (k *Case) currentOnceOpen(m *Metal, beyond analysis.Class) (Finding, bool) {
	var most *analysis.Worst
	var others, live []string
	for _, fault := range k.opening() {
		w := k.worstWith(fault, m)
		if w == nil || w.Class() <= beyond || m.Guarded() {
			continue
		}
		if fault.Kind == analysis.NeutralLost && w.Class() == analysis.Live {
			continue // one-fault tells it
		}
		if w.Class() == analysis.Live {
			live = append(live, phrase.Fault(fault))
			k.openTold[openFault{m, fault}] = true
		} else {
			others = append(others, phrase.Fault(fault))
		}
		if most == nil || w.Class() > most.Class() || w.Class() == most.Class() && w.Severity() > most.Severity() {
			most = w
		}
	}
	if most == nil {
		return Finding{}, false
	}
	f := k.tellCurrent(m, most)
	f.Signal = Warning
	what := phrase.Verb(phrase.Things(m.Nodes()), "startle")
	if most.Class() == analysis.Live {
		what = phrase.Be(phrase.Things(m.Nodes())) + " live"
	}
	f.Message = fmt.Sprintf("%s %s once %s: %s%s", m.Name(), what, phrase.Once(most.State.Faults[0]), phrase.Current(most.Reading), k.couplers(f.Path))
	f.Parts = append([]string{most.State.Faults[0].Part}, f.Parts...)
	if len(live) > 1 {
		f.Notes = append(f.Notes, "each of these alone makes it live: "+phrase.List(live))
	}
	if len(others) > 0 && len(live)+len(others) > 1 {
		f.Notes = append(f.Notes, "each of these alone makes it startle: "+phrase.Few(others, 6))
	}
	return f, true
}

// openFault is something open that makes a piece of metal live, and is told by touch-current.
type openFault struct {
	metal *Metal
	fault *analysis.Fault
}

// joinedCurrent tells all bare points under one hand, where that is worse than each alone.
func (k *Case) joinedCurrent() (Finding, bool) {
	w := k.Result.Together
	if w == nil || w.Class() == analysis.UnderLimit {
		return Finding{}, false
	}
	var nodes []string
	for _, p := range k.Circuit.Bare() {
		nodes = append(nodes, p.Name)
		if len(k.liveness(k.metalOf(p.Name)).all()) > 0 {
			return Finding{}, false
		}
		if n := k.Result.Point(p.Name).Normal; n != nil && n.Class() >= w.Class() {
			return Finding{}, false
		}
	}
	f := Finding{Signal: Warning, Nodes: nodes, Worst: w}
	f.tellFigures(w.Reading, false)
	if w.Class() == analysis.Live {
		f.Signal = Danger
	}
	f.Message = fmt.Sprintf("touched by one hand together, %s pass %s, more than each alone", phrase.Few(phrase.Visible(nodes), 4), phrase.Current(w.Reading))
	return f, true
}

// tellCurrent is a finding of a current at a piece of metal with its way.
func (k *Case) tellCurrent(m *Metal, w *analysis.Worst) Finding {
	f := Finding{Nodes: m.Nodes(), Worst: w}
	f.Path = k.pathIn(k.Circuit, w.State, m.Node())
	f.Parts = partsOf(f.Path)
	f.tellFigures(w.Reading, k.atLeast(f.Path, w.State))
	f.Between = k.between(f.Path)
	return f
}

// couplers names the safeguards in a path, through which the current passes while they are good.
func (k *Case) couplers(p *analysis.Path) string {
	if p == nil {
		return ""
	}
	var names []string
	for _, s := range p.Barriers() {
		names = append(names, phrase.Part(k.Set, s.Part))
	}
	if len(names) == 0 {
		return ""
	}
	return " through " + phrase.Few(names, 3)
}

// between tells what stands in a path between line and hand.
func (k *Case) between(p *analysis.Path) string {
	if p == nil {
		return ""
	}
	var names []string
	for _, s := range p.Barriers() {
		text := phrase.Part(k.Set, s.Part)
		if s.Cost == 0 {
			text += ", on which no one can count"
		}
		names = append(names, text)
	}
	if len(names) == 0 {
		return "nothing"
	}
	return strings.Join(names, "; ")
}

// worstWith is the worst at a piece of metal with one fault, nil where every state is cleared. Several
// rules ask for it, of every metal.
func (k *Case) worstWith(f *analysis.Fault, m *Metal) *analysis.Worst {
	if k.single[f] == nil {
		k.judge([]*analysis.Fault{f})
	}
	return k.single[f][m]
}

// judge fills in the worsts of some faults.
func (k *Case) judge(faults []*analysis.Fault) {
	worsts := make([]map[*Metal]*analysis.Worst, len(faults))
	k.Circuit.JudgedEach(faults, func(i int, rows []analysis.Row) {
		worsts[i] = make(map[*Metal]*analysis.Worst, len(k.Metals))
		for _, m := range k.Metals {
			worsts[i][m] = analysis.WorstOf(rows, m.index, nil)
		}
	})
	for i, f := range faults {
		k.single[f] = worsts[i]
	}
}

// opening lists the faults that open something that is no safeguard, and judges them.
func (k *Case) opening() []*analysis.Fault {
	var all, open []*analysis.Fault
	for _, f := range k.Circuit.Faults {
		switch f.Kind {
		case analysis.EarthLost, analysis.Pulled, analysis.Open, analysis.NeutralLost:
			all = append(all, f)
			if k.single[f] == nil {
				open = append(open, f)
			}
		}
	}
	k.judge(open)
	return all
}
