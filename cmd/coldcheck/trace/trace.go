// Package trace sets the paths to a touch point beside what the solution says of it: the paths say
// how current may come, the figures how much.
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
	// Tied tells that conductors alone tie the point to the other side of the supply, or to an earth.
	Tied     bool
	Disagree Disagreement
}

// Disagreement says where paths and figures do not say the same.
type Disagreement int

// The disagreements.
const (
	Agree       Disagreement = iota
	CannotCarry              // a path without safeguards, and not even FeltMilliamps
	CarriesYet               // safeguards in every path, and yet more than FeltMilliamps
	NoPath                   // no path, and yet more than FeltMilliamps
)

// FeltMilliamps is what a path that counts must be able to carry (ES1 of IEC 62368-1).
const FeltMilliamps = 0.5

// All traces every state that the filter lets through, no fault, all rectifiers blocking: by point,
// then plug way, then switches.
func All(c *analysis.Circuit, q Query) []Trace {
	var states []analysis.State
	for _, s := range c.Normal() {
		if lets(q.Filter, s) {
			states = append(states, s)
		}
	}
	wirings := make([]*analysis.Wiring, len(states))
	solutions := make([]*analysis.Solution, len(states))
	for i, s := range states {
		wirings[i], solutions[i] = c.Wiring(s), c.Solve(s)
	}
	var traces []Trace
	for _, to := range targets(c, q) {
		for i := range states {
			traces = append(traces, one(c, q, to, wirings[i], solutions[i]))
		}
	}
	return traces
}

func lets(f analysis.Filter, s analysis.State) bool {
	if f.Plug != "" && f.Plug != s.Plug {
		return false
	}
	return !slices.ContainsFunc(s.Settings, func(x analysis.Setting) bool {
		want, fixed := f.Settings[x.Control]
		return fixed && want != x.At
	})
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

func one(c *analysis.Circuit, q Query, to string, w *analysis.Wiring, s *analysis.Solution) Trace {
	t := Trace{From: q.From, To: to, State: w.State, Cleared: s.Cleared, Reading: s.Read(to, "")}
	for k := range c.Points {
		if c.Points[k].Name == to {
			t.Point = &c.Points[k]
		}
	}
	hot, neutral := c.Blades(w.State.Plug)
	var avoid []string
	switch q.From {
	case FromHot:
		t.Side, t.From, avoid = FromHot, hot, w.Ends()
	case FromNeutral:
		t.Side, t.From, avoid = FromNeutral, neutral, w.Group(hot)
	}
	t.Tied = q.From == FromHot && slices.Contains(w.Ends(), to)
	t.Paths = w.Paths(t.From, to, q.Paths, analysis.Query{Avoid: avoid})
	t.Disagree = t.compare()
	return t
}

// compare holds the paths of the hot side against the figures.
func (t *Trace) compare() Disagreement {
	if t.Side != FromHot || t.Cleared {
		return Agree
	}
	felt := t.Reading.Band() != analysis.Faint
	switch {
	case len(t.Paths) == 0 && felt:
		return NoPath
	case len(t.Paths) == 0:
		return Agree
	case len(t.Paths[0].Barriers()) == 0 && t.Reading.Milliamps < FeltMilliamps:
		return CannotCarry
	case t.Paths[0].Cost() > 0 && felt:
		return CarriesYet
	}
	return Agree
}
