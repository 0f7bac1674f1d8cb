package rules

import (
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/trace"
	"coldcheck/rules/phrase"
)

// TouchCurrent finds current through good parts.
var TouchCurrent = &Rule{
	Name:    "touch-current",
	Signal:  Danger,
	Signals: "WARNING over 0.5 mA AC or 2 mA DC (ES1), NOTICE within a fifth below, also once something is open; DANGER over 5 mA AC or 25 mA DC (ES2) with nothing failed",
	Looks: "current through good parts and stated leakage in normal states; with the earth contact open; once a tube is pulled or a lamp, " +
		"fuse, coil or resistor is open; and with all bare touch points joined as by one hand",
	Why: "A sound capacitor of 0.1 µF passes some 4.5 mA at 120 V 60 Hz: nothing is broken, and the metal still bites. " +
		"A start from a small shock drops tools and sets, and at 5 mA the hand may not let go.",
	Blind: "Stray capacitance of windings and insulation is not in the figures: a well isolated chassis still shows a phantom reading on a " +
		"high-resistance meter. Mains and capacitors have tolerances of a tenth and more.",
	Source: "IEC 60990:2016 figure 3 and clause 6; IEC 62368-1 table 4 and 5.2.2.2",
	Remedy: "replace what couples the metal to the line by a class Y capacitor of a value that keeps the current under 0.5 mA " +
		"(4.7 nF is 0.21 mA at 120 V 60 Hz, 0.33 mA at 220 V 50 Hz), without a resistor across it, or with two in series",
	Caution: "Work unplugged with the reservoirs discharged. Measure the current again in both plug polarities with 1.5 kΩ and 0.15 µF to a tested earth, " +
		"without an isolation transformer, which hides it. Follow local electrical codes.",
	Subject: OfMetal,
	Current: true,
	Run:     runTouchCurrent,
}

func runTouchCurrent(k *Facts) []Finding {
	var all []Finding
	for _, m := range k.Metals {
		if k.live(m).ever() {
			continue
		}
		f, ok := k.normalCurrent(m)
		if ok {
			all = append(all, f)
		}
		if ok && f.Worst.Class() == analysis.Live {
			continue
		}
		var told *analysis.Worst
		if ok {
			told = f.Worst
		}
		for _, o := range k.openings(m) {
			if f, ok := k.currentOnceOpen(o, told); ok {
				all = append(all, f)
			}
		}
	}
	if f, ok := k.joinedCurrent(); ok {
		all = append(all, f)
	}
	return all
}

// normalCurrent tells what a piece of metal passes with nothing failed.
func (k *Facts) normalCurrent(m *Metal) (Finding, bool) {
	m = m.worstPiece()
	w := m.Points[0].Normal
	if w == nil || !worthTelling(w) || m.Guarded() && w.Class() != analysis.Live {
		return Finding{}, false
	}
	f, through := k.tellCurrent(m, w)
	what := startleOrLive(m, w)
	switch {
	case w.Class() == analysis.Live && m.Guarded():
		what += " behind " + m.guardWords()
	case w.Class() == analysis.Live:
		f.Signal = Danger
	case w.Class() == analysis.UnderLimit:
		f.Signal = Notice
	}
	f.Message = fmt.Sprintf("%s %s with nothing failed: %s%s", m.Name(), what, phrase.Current(w.Reading), through)
	return f, true
}

func startleOrLive(m *Metal, w *analysis.Worst) string {
	n := phrase.Things(m.Nodes())
	switch w.Class() {
	case analysis.Live:
		return phrase.Be(n) + " live"
	case analysis.Startles:
		return phrase.Verb(n, "startle")
	}
	return phrase.Pick(n, "comes", "come") + " within a fifth of startling"
}

// opening is what a piece of metal is asked for: the faults that open something that is no safeguard
// and leave the piece as it is.
type opening struct {
	metal  *Metal
	faults []*analysis.Fault
}

// openings are those of a metal: first the faults that leave it whole, then of those that part it each
// piece that they leave.
func (k *Facts) openings(m *Metal) []opening {
	all := []opening{{metal: m}}
	for _, fault := range k.Circuit.Faults {
		if !opens(fault) {
			continue
		}
		for _, piece := range k.pieces(m, fault) {
			at := slices.IndexFunc(all, func(o opening) bool { return o.metal.same(piece) })
			if at < 0 {
				at = len(all)
				all = append(all, opening{metal: piece})
			}
			all[at].faults = append(all[at].faults, fault)
		}
	}
	return all
}

// worstOnceOpen is the worst at a piece of metal with a fault that opens something, nil where that is
// not told here: a guard keeps fingers off, or it is for the rule of one fault to tell.
func (k *Facts) worstOnceOpen(m *Metal, fault *analysis.Fault) *analysis.Worst {
	w := k.worstWith(fault, m)
	if w == nil || m.Guarded() || fault.Kind == analysis.NeutralLost && w.Class() == analysis.Live {
		return nil
	}
	return w
}

// toldOnceOpen reports whether touch-current tells a set of faults: something open that is no
// safeguard, and that makes the metal live.
func (k *Facts) toldOnceOpen(m *Metal, faults []*analysis.Fault) bool {
	if len(faults) != 1 || !opens(faults[0]) || k.live(m).ever() {
		return false
	}
	if n := m.whole.Points[0].Normal; n != nil && n.Class() == analysis.Live {
		return false // so much is told that this is not
	}
	w := k.worstOnceOpen(m, faults[0])
	return w != nil && w.Class() == analysis.Live
}

// currentOnceOpen tells what a piece of metal passes once something that is no safeguard is open:
// the limit there is still ES1, and what is within a fifth below it is worth a word. What is in no higher
// class than what is told with nothing failed, if that is told, is passed over.
func (k *Facts) currentOnceOpen(o opening, told *analysis.Worst) (Finding, bool) {
	var most *analysis.Worst
	var startling, live []string
	for _, fault := range o.faults {
		w := k.worstOnceOpen(o.metal, fault)
		if w == nil || !worthTelling(w) || told != nil && w.Class() <= told.Class() {
			continue
		}
		switch w.Class() {
		case analysis.Live:
			live = append(live, phrase.Fault(fault))
		case analysis.Startles:
			startling = append(startling, phrase.Fault(fault))
		}
		if most == nil || w.Class() > most.Class() || w.Class() == most.Class() && w.Severity() > most.Severity() {
			most = w
		}
	}
	if most == nil {
		return Finding{}, false
	}
	f, through := k.tellCurrent(o.metal, most)
	if most.Class() == analysis.UnderLimit {
		f.Signal = Notice
	}
	fault := most.State.Faults[0]
	f.Message = fmt.Sprintf("%s %s once %s: %s%s", o.metal.Name(), startleOrLive(o.metal, most), phrase.Once(fault), phrase.Current(most.Reading), through)
	f.Parts = append([]string{fault.Part}, f.Parts...)
	if len(live) > 1 {
		f.Notes = append(f.Notes, "each of these alone makes it live: "+phrase.List(live))
	}
	if len(startling) > 0 && len(live)+len(startling) > 1 {
		f.Notes = append(f.Notes, "each of these alone makes it startle: "+phrase.Few(startling, 6))
	}
	return f, true
}

// joinedCurrent tells all bare points under one hand, where that is worse than each alone.
func (k *Facts) joinedCurrent() (Finding, bool) {
	w := k.Result.Together
	if w == nil || !worthTelling(w) {
		return Finding{}, false
	}
	var nodes []string
	for _, p := range k.Circuit.Bare() {
		nodes = append(nodes, p.Name)
		if k.live(k.metalOf(p.Name)).ever() {
			return Finding{}, false
		}
		if n := k.Result.Point(p.Name).Normal; n != nil && n.Class() >= w.Class() && (n.Class() > analysis.UnderLimit || n.JustUnder()) {
			return Finding{}, false
		}
	}
	f := Finding{Signal: Warning, Nodes: nodes, Worst: w}
	f.tellFigures(w.Reading, false)
	switch w.Class() {
	case analysis.Live:
		f.Signal = Danger
	case analysis.UnderLimit:
		f.Signal = Notice
	}
	f.Message = fmt.Sprintf("touched by one hand together, %s pass %s, more than each alone", phrase.Few(phrase.Visible(nodes), 4), phrase.Current(w.Reading))
	return f, true
}

// tellCurrent is a finding of a current at a piece of metal with its path and the parts that carry it,
// and through what it passes.
func (k *Facts) tellCurrent(m *Metal, w *analysis.Worst) (f Finding, through string) {
	f = Finding{Signal: Warning, Nodes: m.Nodes(), Worst: w}
	f.Path = trace.Foremost(k.Circuit, w.State, m.Node())
	couplers := trace.Couplers(k.Circuit, w.State, m.Node())
	for _, x := range couplers {
		f.Parts = append(f.Parts, x.Part)
	}
	f.Parts = union(f.Parts, f.Path.Parts())
	f.tellFigures(w.Reading, k.atLeast(f.Path, w.State))
	f.Between = k.standsBetween(f.Path, w.State)
	return f, k.throughGood(couplers)
}
