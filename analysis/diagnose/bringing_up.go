package diagnose

import (
	"math"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// BringingUp is how a set is brought up: slowly, behind a lamp or a variable transformer.
type BringingUp struct {
	Settings []analysis.Setting
	// Reservoir is the capacitor that the rectifier charges first; Selenium is the rectifiers that are. ""
	// and nil for none.
	Reservoir string
	Selenium  []string
	// Steps are the mains turned up.
	Steps []BringingUpStep
	// LampWatts is the lamp to take in series, of the mains' volts; Lamp is what stands across it.
	LampWatts float64
	Lamp      []LampCase
	// StopAmps: at more from the line the plug is pulled.
	StopAmps float64
}

// BringingUpStep is the set at so many percent of its mains.
type BringingUpStep struct {
	Percent     float64
	Amps, Watts float64
	VoltsDC     float64 // on the first reservoir
	HasDC       bool
}

// LampCase is the volts across the lamp in series, in a case.
type LampCase struct {
	Case  string
	Volts float64 // of the mains'
}

// The cases in which a lamp in series is told.
const (
	CaseSound            = "sound"
	CaseReservoirShorted = "reservoir shorted"
	CaseStringOpen       = "string open"
)

// How a set is brought up, by trade practice.
const (
	lampShare = 1.5 // of the set's watts: the lamp leaves it half of the mains and more
	stopShare = 1.5 // of the amps at full mains: more is a fault
)

var (
	bringingUpPercents = []float64{25, 50, 75, 100}
	// lampSizes are usual filament lamps, W.
	lampSizes = []float64{15, 25, 40, 60, 75, 100, 150, 200, 300, 500, 750, 1000}
)

// bringUp lays out how the set is brought up, in the position of which most is told.
func (l *Checklist) bringUp() {
	c := l.Circuit
	if len(l.Playing) == 0 {
		return
	}
	at := l.Mainly().WorkingSet
	first := firstReservoir(c, at)
	b := &BringingUp{Settings: c.Positions[at.Options.Position].Settings, StopAmps: stopShare * at.LineAmps(),
		LampWatts: lampFor(at.Watts)}
	if first >= 0 {
		b.Reservoir = c.Set.Parts[first].Name
	}
	for _, p := range c.Set.Parts {
		if d, ok := p.Detail.(*netlist.Rectifier); ok && d.Type == "selenium" {
			b.Selenium = append(b.Selenium, p.Name)
		}
	}
	for _, percent := range bringingUpPercents {
		w := at
		if percent != at.Options.Percent {
			o, err := at.Options, error(nil)
			o.Percent = percent
			if w, err = c.WorkingSet(o); err != nil {
				continue
			}
		}
		step := BringingUpStep{Percent: percent, Amps: w.LineAmps(), Watts: w.Watts}
		for _, x := range w.Capacitors {
			if x.Part == first {
				step.VoltsDC, step.HasDC = math.Abs(x.VoltsDC), true
			}
		}
		b.Steps = append(b.Steps, step)
	}
	b.lampCases(c, at, first)
	l.BringingUp = b
}

// lampCases finds what stands across the lamp: with the set sound, its first reservoir shorted, its heaters'
// string open.
func (b *BringingUp) lampCases(c *analysis.Circuit, at *analysis.WorkingSet, first int) {
	with := func(name string, faults ...*analysis.Fault) {
		o := at.Options
		o.Faults, o.Lamp = faults, &analysis.Lamp{Watts: b.LampWatts, Volts: c.Set.Volts}
		if w, err := c.WorkingSet(o); err == nil && w.Limiter != nil {
			b.Lamp = append(b.Lamp, LampCase{name, w.Limiter.Volts})
		}
	}
	with(CaseSound)
	if f := faultOf(c, first, analysis.Shorted); f != nil {
		with(CaseReservoirShorted, f)
	}
	for _, h := range at.Heaters {
		// A heater that takes less than half of the mains stands in series with something.
		if f := faultOf(c, h.Part, analysis.Pulled); f != nil && h.Volts < c.Set.Volts/2 && inString(c, at, f) {
			with(CaseStringOpen, f)
			return
		}
	}
}

// inString reports whether pulling a tube takes the heater current of another one.
func inString(c *analysis.Circuit, at *analysis.WorkingSet, pulled *analysis.Fault) bool {
	o := at.Options
	o.Faults = []*analysis.Fault{pulled}
	w, err := c.WorkingSet(o)
	if err != nil {
		return false
	}
	left := map[int]float64{}
	for _, h := range w.Heaters {
		left[h.Part] = h.Amps
	}
	for _, h := range at.Heaters {
		if c.Set.Parts[h.Part].Name != pulled.Part && left[h.Part] < h.Amps/2 {
			return true
		}
	}
	return false
}

// faultOf is a part's first fault of a kind, nil for none.
func faultOf(c *analysis.Circuit, part int, kind analysis.FaultKind) *analysis.Fault {
	if part < 0 {
		return nil
	}
	for _, f := range c.Faults {
		if f.Part == c.Set.Parts[part].Name && f.Kind == kind {
			return f
		}
	}
	return nil
}

// firstReservoir is the filter capacitor with the most volts, by its place among the parts; -1 for none.
func firstReservoir(c *analysis.Circuit, at *analysis.WorkingSet) int {
	best, most := -1, 0.0
	for _, x := range at.Capacitors {
		d := c.Set.Parts[x.Part].Detail.(*netlist.Capacitor)
		if x.Known && analysis.Reservoir(d.Farads) && math.Abs(x.VoltsDC) > most*1.001 {
			best, most = x.Part, math.Abs(x.VoltsDC)
		}
	}
	return best
}

// lampFor is the first usual lamp of lampShare times a set's watts.
func lampFor(watts float64) float64 {
	i, _ := slices.BinarySearch(lampSizes, lampShare*watts)
	return lampSizes[min(i, len(lampSizes)-1)]
}
