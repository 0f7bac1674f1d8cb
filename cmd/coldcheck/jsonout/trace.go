package jsonout

import (
	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/trace"
)

// Traces are the paths of a set and the figures beside them.
type Traces struct {
	Format int     `json:"format"`
	Set    Set     `json:"set"`
	Traces []Trace `json:"traces"`
}

// Trace is the paths from one node to another in one state. The figures are V and mA, and those of
// a cleared state are those before the breaker opens.
type Trace struct {
	From        string  `json:"from"`
	Side        string  `json:"side"`
	To          string  `json:"to"`
	State       *State  `json:"state"`
	Cleared     bool    `json:"cleared"`
	VoltsOpen   float64 `json:"volts_open"`
	VoltsMeter  float64 `json:"volts_meter"`
	Milliamps   float64 `json:"milliamps"`
	VoltsDC     float64 `json:"volts_dc"`
	MilliampsDC float64 `json:"milliamps_dc"`
	Paths       []Path  `json:"paths"`
	Disagree    string  `json:"disagree"`
}

// Path is one path: parts and nodes by turns, and the parts in it that are safeguards, or would be
// if they were sound.
type Path struct {
	Path       []string `json:"path"`
	Safeguards int      `json:"safeguards"`
	Barriers   []string `json:"barriers"`
}

// disagreements are the words of the key disagree, "" where paths and figures agree.
var disagreements = map[trace.Disagreement]string{
	trace.Agree: "", trace.CannotCarry: "cannot-carry", trace.CarriesYet: "carries-yet", trace.NoPath: "no-path",
}

// OfTraces puts traces into the shape of their JSON.
func OfTraces(c *analysis.Circuit, supply string, traces []trace.Trace) *Traces {
	out := &Traces{Format: Format, Set: setOf(c, supply), Traces: []Trace{}}
	for _, t := range traces {
		r := t.Reading
		one := Trace{
			From: t.From, Side: t.Side, To: t.To, State: stateOf(t.State), Cleared: t.Cleared,
			VoltsOpen: round(r.VoltsOpen), VoltsMeter: round(r.VoltsMeter), Milliamps: round(r.Milliamps),
			VoltsDC: round(r.VoltsDC), MilliampsDC: round(r.MilliampsDC),
			Paths: []Path{}, Disagree: disagreements[t.Disagree],
		}
		for _, p := range t.Paths {
			barriers := []string{}
			for _, s := range p.Barriers() {
				barriers = append(barriers, s.Part)
			}
			one.Paths = append(one.Paths, Path{pathOf(c, p), p.Cost(), barriers})
		}
		out.Traces = append(out.Traces, one)
	}
	return out
}
