package trace

import (
	"slices"

	"coldcheck/analysis"
)

// The ends of --from that are no nodes: a side of the supply, whichever blade that is.
const (
	FromHot     = "hot"
	FromNeutral = "neutral"
)

// Query says which paths are wanted.
type Query struct {
	From   string // FromHot, FromNeutral, or a node
	To     string // a node; "" for every touch point
	Paths  int    // how many at most
	Filter analysis.Filter
}

// Trace is the paths from one node to another in one state, and what is read there.
type Trace struct {
	From, To string
	Side     string               // FromHot or FromNeutral where From is one of the supply's sides
	Point    *analysis.TouchPoint // nil where To is none
	State    analysis.State
	Cleared  bool
	Reading  analysis.Reading
	Paths    []analysis.Path
	// Metal is the first of the points that are one piece of metal with this one, itself where it is
	// the first; With are the others, told of the first.
	Metal string
	With  []*analysis.TouchPoint
	// Tied tells that conductors alone tie the point to the other side of the supply, or to an earth.
	Tied     bool
	Disagree Disagreement
}

// Disagreement says where paths and figures do not say the same.
type Disagreement int

// The disagreements.
const (
	Agree       Disagreement = iota
	CannotCarry              // a path without safeguards, and not even ES1Milliamps
	CarriesYet               // safeguards in every path, and yet more than ES1Milliamps
	NoPath                   // no path, and yet more than ES1Milliamps
)

// ES1Milliamps is what a path that counts must be able to carry (ES1 of IEC 62368-1).
const ES1Milliamps = 0.5

// All traces every state without a fault that the filter lets through, controls at rest unless it says
// otherwise: by point, then plug polarity, then switches. The figures are the worst over the rectifiers, each in turn taken as conducting.
func All(c *analysis.Circuit, q Query) []Trace {
	var states []analysis.State
	for _, s := range c.Normal() {
		if lets(c, q.Filter, s) {
			states = append(states, s)
		}
	}
	wirings := make([]*analysis.Wiring, len(states))
	solutions := make([][]*analysis.Solution, len(states))
	for i, s := range states {
		wirings[i] = c.Wiring(s)
		for _, rectifier := range append([]string{""}, c.Rectifiers...) {
			s.Rectifier = rectifier
			solutions[i] = append(solutions[i], c.Solve(s))
		}
	}
	var traces []Trace
	metals := c.Metals()
	for _, to := range targets(c, q) {
		first, with := metal(metals, q, to)
		for i := range states {
			t := read(c, q, to, wirings[i], solutions[i])
			t.Metal, t.With = first, with
			traces = append(traces, t)
		}
	}
	analysis.SideBySide(len(traces), func(k int) { traces[k].follow(c, q, wirings[k%len(states)]) })
	return traces
}

// metal is the first of the targets that are one piece of metal with a target, and the others.
func metal(metals [][]*analysis.TouchPoint, q Query, to string) (first string, with []*analysis.TouchPoint) {
	if q.To != "" {
		return to, nil
	}
	for _, points := range metals {
		if slices.ContainsFunc(points, func(p *analysis.TouchPoint) bool { return p.Name == to }) {
			return points[0].Name, points[1:]
		}
	}
	return to, nil
}

// worst is the worst reading over the solutions of one state.
func worst(solutions []*analysis.Solution, node string) (*analysis.Solution, analysis.Reading) {
	var most *analysis.Solution
	var at analysis.Reading
	for _, s := range solutions {
		r := s.Read(node, "")
		if most == nil || r.Class() > at.Class() || r.Class() == at.Class() && r.Severity() > plainer*at.Severity()+negligible {
			most, at = s, r
		}
	}
	return most, at
}

// plainer: what is within 1 % is as bad, as is what differs by 0.01 mA against the 5 mA of ES2, and
// then the state with all rectifiers blocking is told.
const (
	plainer    = 1.01
	negligible = 0.01 / analysis.ES2AmpsAC
)

// lets reports whether a state is to be traced. A control that is not asked for stands at rest.
func lets(c *analysis.Circuit, f analysis.Filter, s analysis.State) bool {
	if f.Plug != "" && f.Plug != s.Plug {
		return false
	}
	for _, x := range s.Settings {
		if want, fixed := f.Settings[x.Name]; fixed && want != x.At {
			return false
		}
	}
	for i, x := range s.Controls {
		want, fixed := f.Settings[x.Name]
		if !fixed {
			want = c.Controls[i].Positions[0]
		}
		if want != x.At {
			return false
		}
	}
	return true
}

func targets(c *analysis.Circuit, q Query) []string {
	if q.To != "" {
		return []string{q.To}
	}
	var names []string
	for _, p := range c.Points {
		names = append(names, p.Name)
	}
	return names
}

// read takes the figures of a state at a target.
func read(c *analysis.Circuit, q Query, to string, w *analysis.Wiring, solutions []*analysis.Solution) Trace {
	s, reading := worst(solutions, to)
	t := Trace{From: q.From, To: to, State: s.State, Cleared: s.Cleared, Reading: reading}
	for k := range c.Points {
		if c.Points[k].Name == to {
			t.Point = &c.Points[k]
		}
	}
	t.Tied = q.From == FromHot && slices.Contains(w.Ends(), to)
	return t
}

// follow finds the paths, and holds them against the figures.
func (t *Trace) follow(c *analysis.Circuit, q Query, w *analysis.Wiring) {
	hot, neutral := c.Blades(w.State.Plug)
	var avoid []string
	switch q.From {
	case FromHot:
		t.Side, t.From, avoid = FromHot, hot, w.Ends()
	case FromNeutral:
		t.Side, t.From, avoid = FromNeutral, neutral, w.Group(hot)
	}
	t.Paths = w.Paths(t.From, t.To, q.Paths, analysis.Query{Avoid: avoid})
	t.Disagree = t.compare()
}

// compare holds the paths of the hot side against the figures.
func (t *Trace) compare() Disagreement {
	if t.Side != FromHot || t.Cleared {
		return Agree
	}
	startles := t.Reading.Class() != analysis.UnderLimit
	switch {
	case len(t.Paths) == 0 && startles:
		return NoPath
	case len(t.Paths) == 0:
		return Agree
	case len(t.Paths[0].Barriers()) == 0 && t.Reading.Milliamps < ES1Milliamps:
		return CannotCarry
	case t.Paths[0].Cost() > 0 && startles:
		return CarriesYet
	}
	return Agree
}
