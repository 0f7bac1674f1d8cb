package diagnose

import (
	"math"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// How often a thing goes wrong in sets of this age, against the least frequent: trade practice, as service
// shops count what they replace. They order explanations that the readings cannot tell apart; a logarithm is
// all that counts, and no more than a factor of mostFrequent lies between any two.
const (
	mostFrequent = 30.0

	paperLeaks    = 30.0 // wax and paper let moisture in: every one of them leaks by now
	electrolytics = 20.0 // dry out where they are warm, leak where they stood
	rectifiers    = 25.0 // the tube that wears first: the surge of every switching on, a tap that burns out
	outputTubes   = 15.0 // run hot
	tubesOpen     = 8.0  // the others: open heaters, worn cathodes, tubes that were pulled
	plugTurned    = 10.0 // a plain plug, or a reading noted the wrong way round
	typesMixed    = 6.0  // what was in the drawer went into the socket
	carbonDrifts  = 10.0 // carbon composition drifts up with heat and damp
	lampsOpen     = 10.0 // dial lamps burn out
	droppersOpen  = 8.0  // what runs hot: resistors of hotOhmsWatts and more
	contactsOpen  = 8.0  // switches, sockets, cords, fuses
	wiredWrong    = 4.0  // someone was in there before
	heaterLeaks   = 4.0  // heater to cathode
	partsOpen     = 2.0  // windings, coils, other resistors
	valuesOff     = 2.0  // coils, potentiometers, capacitors of another value
	filmShorts    = 2.0  // film and ceramic last
	insulation    = 1.5  // washers, sleeves, windings to cores
	micaFails     = 1.0  // mica, and resistors that short
)

// often is how frequent an explanation's first thing wrong is.
func often(set *netlist.Set, e *Explanation) float64 {
	p := set.Part(e.Part)
	switch e.Kind {
	case PlugReversed:
		return plugTurned
	case SwitchMoved, EndsSwapped:
		return wiredWrong
	case ConnectionOff:
		return contactsOpen
	case StatedAbsent, AsDescribed:
		return mostFrequent
	case DriedOut:
		return electrolytics
	case WeakTube:
		return tubeOften(p)
	case WrongType:
		return typesMixed
	case Leaks:
		return leaksOften(p)
	case OtherValue:
		if p != nil && p.Kind == netlist.KindResistor {
			return carbonDrifts
		}
		return valuesOff
	}
	if len(e.Faults) == 0 {
		return micaFails
	}
	return faultOften(p, e.Faults[0])
}

// leaksOften is how often a part leaks.
func leaksOften(p *netlist.Part) float64 {
	if p == nil {
		return insulation
	}
	switch d := p.Detail.(type) {
	case *netlist.Capacitor:
		switch {
		case analysis.Reservoir(d.Farads):
			return electrolytics
		case d.Class != "", d.Type == "film", d.Type == "ceramic":
			return filmShorts
		case d.Type == "mica":
			return micaFails
		}
		return paperLeaks
	case *netlist.Tube:
		return heaterLeaks
	}
	return insulation
}

// faultOften is how often a fault comes.
func faultOften(p *netlist.Part, f *analysis.Fault) float64 {
	switch f.Kind {
	case analysis.Pulled:
		return tubeOften(p)
	case analysis.HeaterCathode:
		return heaterLeaks
	case analysis.Stuck, analysis.NeutralLost, analysis.EarthLost:
		return contactsOpen
	case analysis.Open:
		return openOften(p)
	case analysis.Shorted:
		if p != nil && (p.Kind == netlist.KindCapacitor || p.Kind == netlist.KindTube) {
			return leaksOften(p)
		}
		return micaFails
	}
	return insulation
}

// What tells a power tube and a power resistor from others.
const (
	outputAmps   = 0.02 // A, of its plate
	hotOhmsWatts = 2.0  // W, its rating
)

// tubeOften is how often a tube wears out.
func tubeOften(p *netlist.Part) float64 {
	if p == nil {
		return tubesOpen
	}
	d, ok := p.Detail.(*netlist.Tube)
	switch {
	case !ok:
	case len(d.Type.Rectifiers) > 0:
		return rectifiers
	case slices.ContainsFunc(d.Type.Working, func(w netlist.Working) bool { return w.PlateAmps >= outputAmps }):
		return outputTubes
	}
	return tubesOpen
}

// openOften is how often a part other than a tube opens.
func openOften(p *netlist.Part) float64 {
	if p == nil {
		return partsOpen
	}
	switch d := p.Detail.(type) {
	case *netlist.Fuse, *netlist.Switch:
		return contactsOpen
	case *netlist.Lamp:
		return lampsOpen
	case *netlist.Resistor:
		if d.Watts >= hotOhmsWatts {
			return droppersOpen
		}
	case *netlist.Thermistor:
		return droppersOpen
	}
	return partsOpen
}

// rarity is what the frequency adds to an explanation's weight: nothing for the most frequent, so much less
// than apart for the least that it orders only what readings cannot tell apart.
func rarity(set *netlist.Set, e *Explanation) float64 { return math.Log(mostFrequent / often(set, e)) }
