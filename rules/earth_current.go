package rules

import (
	"fmt"
	"math/cmplx"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// The limits of current in an earth conductor, in mA.
const (
	earthLimit = 5.0 // the upper limit of any row of IEC 60335-1 clause 13.2; past let-go if the wire opens
	earthNote  = 3.5 // IEC 60335-1 clause 13.2, stationary class I
)

// EarthCurrent finds current that the earth conductor carries with nothing wrong.
var EarthCurrent = &Rule{
	Name:    "earth-current",
	Signal:  Warning,
	Signals: "WARNING over 5 mA, NOTICE from 3.5 mA",
	Looks:   "more than 5 mA in the plug's earth contact, or in a wire on an earth, with nothing wrong; from 3.5 mA a note",
	Why: "An earth conductor is there for faults. The day it opens, at an adapter, a rusty pipe clamp or a broken wire, what it " +
		"carried goes through the next hand. Over 5 mA a person may not let go.",
	Blind: "Stray capacitance of windings and wires; rectifiers that conduct; what other sets put on the same earth.",
	Source: "IEC 60335-1 clause 13.2 (3.5 mA for stationary class I); UL 943 for the trip of a class A GFCI, between 4 and 6 mA; " +
		"IEC 62368-1 table 4, ES2",
	Remedy: "Take line capacitors to the earthed metal down to 4.7 nF class Y, or out; undo any tie between a line conductor and the earth.",
	Caution: "Do not cure a tripping GFCI by lifting the earth. Test the outlet's earth, and measure the current again with a " +
		"clamp or in the lead after the change.",
	Subject: OfEarth,
	Current: true,
	Run: func(k *Facts) []Finding {
		var findings []Finding
		if ma, at := mostOf(k.judged, barely, func(s *analysis.Solution) float64 { return 1e3 * s.ContactAmps() }); ma >= earthNote {
			plug, _ := k.Set.Plug()
			findings = append(findings, earthFinding(ma, at, "the plug's earth contact", plug.Name))
		}
		return append(findings, k.buildingCurrent()...)
	},
}

// buildingCurrent tells each wire to the building's earth, and all that is on that earth together
// where it comes to more than any wire tells: when a pipe clamp opens, metal on it carries the sum.
func (k *Facts) buildingCurrent() []Finding {
	var findings []Finding
	strongest := Signal(-1)
	for p, w := range details[*netlist.Wire](k.Set) {
		if slices.Contains(w.Ends[:], netlist.BuildingEarth) {
			ma, at := mostOf(k.judged, barely, func(s *analysis.Solution) float64 { return wireMilliamps(s, p.Name) })
			if ma >= earthNote {
				f := earthFinding(ma, at, p.Name+", the wire to "+netlist.BuildingEarth, p.Name)
				findings, strongest = append(findings, f), max(strongest, f.Signal)
			}
		}
	}
	if k.Set.Node(netlist.BuildingEarth) == nil {
		return findings
	}
	into := func(s *analysis.Solution) float64 {
		return 1e3 * cmplx.Abs(s.Volts(netlist.BuildingEarth)) / analysis.BuildingOhms
	}
	if ma, at := mostOf(k.judged, barely, into); ma >= earthNote {
		if f := earthFinding(ma, at, "all that is on "+netlist.BuildingEarth+" together"); f.Signal > strongest {
			findings = append(findings, f)
		}
	}
	return findings
}

func wireMilliamps(s *analysis.Solution, wire string) float64 {
	most := 0.0
	for _, f := range s.Flows(wire) {
		most = max(most, 1e3*cmplx.Abs(f.Amps))
	}
	return most
}

func earthFinding(ma float64, at analysis.State, where string, parts ...string) Finding {
	f := Finding{Signal: Notice, Parts: parts, Worst: inState(at), Notes: []string{"a class A GFCI trips between 4 and 6 mA (UL 943)"}}
	f.Message = fmt.Sprintf("%s in %s with nothing wrong: a GFCI may trip on it", phrase.Milliamps(ma), where)
	if ma > earthLimit {
		f.Signal = Warning
		f.Message = fmt.Sprintf("%s in %s with nothing wrong; the limit is 5 mA, past which a person who becomes the earth may not let go",
			phrase.Milliamps(ma), where)
	}
	return f
}
