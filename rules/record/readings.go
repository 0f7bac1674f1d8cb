package record

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/analysis/survey"
	"coldcheck/netlist"
)

// Reading is one that the file of the set has, or one that is still to be taken.
type Reading struct {
	diagnose.Measurement
	AsFound           bool // of the set as it was
	Taken             bool // the file has it: Read is what the meter showed, Off how far off that is, in bands
	Read, Off         float64
	Expect, Low, High float64 // of one that is taken Expect alone
	Bar               Bar     // why it must not be taken
}

// Agrees reports whether a reading that was taken is as the wiring described has it.
func (r *Reading) Agrees() bool { return r.Taken && r.Off <= 1 && r.Off >= -1 }

// Bar is why a reading must not be taken, NoBar where it may.
type Bar string

// The bars.
const (
	NoBar          Bar = ""
	IsLive         Bar = "live"
	MayBeLive      Bar = "may be live" // a plain plug does not tell which way it is in
	Shorts         Bar = "shorts the line"
	ReadingsDiffer Bar = "readings differ" // what is live is not known
)

// read gathers the readings of both files, then the hot check of every piece of metal, both ways of the plug.
func (r *Record) read() {
	r.taken(diagnose.Explain(r.Before.Case.Circuit), true)
	now := r.After.Case.Circuit
	if !survey.ChecklistFits(now) {
		r.taken(diagnose.Explain(now), false)
		r.Unlaid = true
		return
	}
	checks := diagnose.Checks(now)
	r.taken(checks.Account, false)
	for _, metal := range checks.Metals {
		for _, plug := range []analysis.Polarity{analysis.AsMarked, analysis.Reversed} {
			if hot := hotReading(checks, metal, plug); hot != nil {
				r.Readings = append(r.Readings, *hot)
			}
		}
	}
}

// taken adds the readings of a file, none where it has none.
func (r *Record) taken(a *diagnose.Account, asFound bool) {
	if a == nil {
		return
	}
	for i, m := range a.Measurements {
		r.Readings = append(r.Readings, Reading{Measurement: m, AsFound: asFound, Taken: true,
			Read: a.Shown[i], Off: a.Described.Off[i], Expect: a.Described.Predicted[i]})
	}
}

// Differ reports whether a reading of the set as it is now is not as the wiring described has it.
func (r *Record) Differ() bool {
	return slices.ContainsFunc(r.Readings, func(x Reading) bool { return x.Taken && !x.AsFound && !x.Agrees() })
}

// hotReading is the hot check of a piece of metal in one plug polarity, in the position of switches and controls
// in which it reads most; barred where it must not be made in any of them.
func hotReading(l *diagnose.Checklist, metal []string, plug analysis.Polarity) *Reading {
	var most *Reading
	for i := range l.Hot {
		h := &l.Hot[i]
		if h.Plug != plug || !slices.Contains(metal, h.Point) {
			continue
		}
		x := &Reading{Measurement: h.Load.Measurement, Expect: h.Load.Expect, Low: h.Load.Low, High: h.Load.High, Bar: barOf(l, h)}
		if most == nil || worseBar(x.Bar, most.Bar) || x.Bar == most.Bar && x.Expect > most.Expect {
			most = x
		}
	}
	return most
}

func barOf(l *diagnose.Checklist, h *diagnose.HotCheck) Bar {
	switch {
	case h.Cleared:
		return Shorts
	case h.Live:
		return IsLive
	case h.LiveReversed:
		return MayBeLive
	case l.Hold():
		return ReadingsDiffer
	}
	return NoBar
}

// bars are those that there are, the weakest first.
var bars = []Bar{NoBar, ReadingsDiffer, MayBeLive, IsLive, Shorts}

func worseBar(a, b Bar) bool { return slices.Index(bars, a) > slices.Index(bars, b) }

// HotCheck reports whether it is a hot check, still to be made.
func (r *Reading) HotCheck() bool { return !r.Taken && r.B == netlist.BuildingEarth }
