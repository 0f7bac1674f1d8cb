package rules

import (
	"cmp"
	"fmt"
	"math/cmplx"
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/lineside"
	"coldcheck/netlist"
)

// earthedNowhere reports whether the building earths nothing of its mains.
func (k *Case) earthedNowhere() bool { return k.Set.Earthed == netlist.EarthedNowhere }

// plainPlug reports whether the plug's blades are alike: nothing tells which is hot.
func (k *Case) plainPlug() bool {
	_, plug := k.Set.Plug()
	return plug.Style == "plain"
}

// lineVolts are the volts to earth of the leg that has the most, on the mains that the rules of live metal
// judge on.
func (k *Case) lineVolts() float64 {
	hot, neutral := k.grounded.Supply()
	return max(cmplx.Abs(hot), cmplx.Abs(neutral))
}

// liveSignal is the signal word of metal that is on the line with nothing failed: on mains that are
// earthed nowhere it is live only once something else of the line meets earth, unless something does.
func (k *Facts) liveSignal(m *Metal) Signal {
	if n := m.Points[0].Normal; k.earthedNowhere() && (n == nil || n.Class() != analysis.Live) {
		return Warning
	}
	return Danger
}

// whenLive tells every plug polarity and switch position in which a piece of metal is live.
func (k *Facts) whenLive(rows []analysis.Row) string {
	if !k.earthedNowhere() {
		return whenStands(rows, k.grounded)
	}
	return "live " + eachPolarity(rows, k.grounded, func(plug analysis.Polarity) string {
		_, other := k.grounded.Blades(plug)
		return "as soon as " + netlist.Visible(other) + " meets earth"
	})
}

// liveWord is what metal on the line is: live, or where the building earths nothing no more than on it.
func (k *Facts) liveWord() string {
	if k.earthedNowhere() {
		return "on the line"
	}
	return "live"
}

// bothHot says of mains that are not earthed at the neutral why neither leg is one: "" where one is.
func (k *Case) bothHot() string {
	switch k.Set.Earthed {
	case netlist.EarthedMidpoint:
		return "both legs are hot (the mains are earthed at their midpoint)"
	case netlist.EarthedStar:
		return "both legs are hot (two lines of a three-phase network)"
	case netlist.EarthedNowhere:
		return "neither leg is earthed, so that either may come to the full line volts"
	}
	return ""
}

// legRemedy is what to do about switches and fuses where both legs are hot.
const legRemedy = "fit a fuse in each leg, then a two-pole switch that opens both, and only then anything that draws current"

// leg names a conductor as a person knows it: "hot leg (line 1)" of a marked plug, "leg line 1" where
// nothing is marked or both are hot.
func (k *Case) leg(l *lineside.Conductor) string {
	if k.plainPlug() || k.bothHot() != "" {
		return "leg " + bladeOf(l)
	}
	return fmt.Sprintf("%s leg as marked (%s)", l.Name, bladeOf(l))
}

// bladeOf is the node of a conductor's blade, fit for a terminal.
func bladeOf(l *lineside.Conductor) string { return netlist.Visible(l.Blade) }

// liftRemedy is what to do about metal on the line, and then on the line side: in a rule's own words, unless
// both legs are hot.
func (k *Facts) liftRemedy(m *Metal, p *analysis.Path, then string) string {
	if k.bothHot() != "" {
		then = "; then " + legRemedy
	}
	return cmp.Or(k.couplingRemedy(m, p), liftOff) + then
}

// couplingRemedy is what to do about a terminal that carries a signal, and that no coupling keeps off the
// line: "" of other metal.
func (k *Facts) couplingRemedy(m *Metal, p *analysis.Path) string {
	if p == nil || len(p.Steps) == 0 || slices.ContainsFunc(m.Points, func(point *analysis.PointResult) bool { return !netlist.Coupled(point.Touch) }) {
		return ""
	}
	last := p.Steps[len(p.Steps)-1]
	from := last.Part
	if k.Set.Part(last.Part).Kind == netlist.KindWire {
		from = netlist.Visible(last.From)
	}
	return fmt.Sprintf("put a class Y capacitor of 4.7 nF or less, and nothing else, between %s and %s: it passes the signal and holds off the line; or take %s off the set; "+
		"or feed the set through an isolating transformer", from, netlist.Visible(last.To), m.Name())
}
