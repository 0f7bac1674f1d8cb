package jsonout

import (
	"coldcheck/analysis"
	"coldcheck/analysis/trace"
)

// Traces are the paths of a set and the figures beside them.
type Traces struct {
	Format version `json:"format" jsonschema_description:"the version of this JSON"`
	Set    Set     `json:"set" jsonschema_description:"the set that was looked at, and the bench"`
	Traces []Trace `json:"traces" jsonschema_description:"the paths to each node in each state"`
}

// Trace is the paths from one node to another in one state. The figures are V and mA, and those of
// a cleared state are those before the breaker opens.
type Trace struct {
	From        string       `json:"from" jsonschema_description:"where the paths begin"`
	Side        lineSide     `json:"side" jsonschema_description:"the conductor of the line that they begin at"`
	To          string       `json:"to" jsonschema_description:"where they end"`
	State       *State       `json:"state" jsonschema:"nullable" jsonschema_description:"the state, null where none is told"`
	Cleared     bool         `json:"cleared" jsonschema_description:"a breaker opens: the figures are those before"`
	VoltsOpen   float64      `json:"volts_open" jsonschema_description:"V AC rms with nothing connected"`
	VoltsMeter  float64      `json:"volts_meter" jsonschema_description:"V AC on a meter of 10 MΩ"`
	Milliamps   float64      `json:"milliamps" jsonschema_description:"mA AC through the body network of IEC 60990"`
	VoltsDC     float64      `json:"volts_dc" jsonschema_description:"V DC with nothing connected"`
	MilliampsDC float64      `json:"milliamps_dc" jsonschema_description:"mA DC through 2000 Ω"`
	Paths       []Path       `json:"paths" jsonschema_description:"the paths, fewest safeguards first"`
	Disagree    disagreement `json:"disagree" jsonschema_description:"how the paths and the figures disagree, empty where they do not"`
}

// Path is one path: parts and nodes by turns, and the parts in it that are safeguards, or would be
// if they were sound.
type Path struct {
	Path       []string `json:"path" jsonschema_description:"the way of the current, parts and nodes by turns"`
	Safeguards int      `json:"safeguards" jsonschema_description:"how many safeguards are in it"`
	Barriers   []string `json:"barriers" jsonschema_description:"the parts of the path that are safeguards, or would be if they were sound"`
}

// disagreements are the words of the key disagree, "" where paths and figures agree.
var disagreements = map[trace.Disagreement]disagreement{
	trace.Agree: "", trace.CannotCarry: "cannot-carry", trace.CarriesYet: "carries-yet", trace.NoPath: "no-path",
}

// OfTraces puts traces into the shape of their JSON.
func OfTraces(c *analysis.Circuit, supply string, traces []trace.Trace) *Traces {
	out := &Traces{Format: Format, Set: setOf(c, supply), Traces: []Trace{}}
	for _, t := range traces {
		r := t.Reading
		one := Trace{
			From: t.From, Side: lineSide(t.Side), To: t.To, State: stateOf(t.State), Cleared: t.Cleared,
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
