package working

import (
	"math"
	"strings"

	"coldcheck/netlist"
)

// Rough laws of what glows: hot ohms times a share that is left cold plus the rest times (V/rated V)^power.
// At half its volts a heater draws some 70 % of its current.
const (
	heaterCold = 1.0 / 6 // as circuit.ColdHeater
	lampCold   = 0.12
	glowPower  = 0.6
	fed        = 0.6  // of its rated volts: from here up a heater's tube draws
	atRest     = 2e-3 // change of ohms that is taken as none
	mostWarm   = 60
)

// glowing is a branch whose ohms follow its own volts.
type glowing struct {
	at         int // in resist
	hot, rated float64
	cold       float64
}

// glow lists the heaters and lamps, and a lamp in the line.
func (n *branches) glow() []glowing {
	var all []glowing
	for k, r := range n.resist {
		switch r.what {
		case heater:
			h := n.c.Set.Parts[r.part].Detail.(*netlist.Tube).Type.Heater
			all = append(all, glowing{k, r.ohms, r.ohms * h.Amps, heaterCold})
		case lamp:
			d := n.c.Set.Parts[r.part].Detail.(*netlist.Lamp)
			all = append(all, glowing{k, r.ohms, d.Volts, lampCold})
		case limiter:
			all = append(all, glowing{k, r.ohms, n.o.Lamp.Volts, lampCold})
		}
	}
	return all
}

// warm sets every glowing branch to the ohms of its volts, and reports whether any changed.
func (n *branches) warm(all []glowing, volts []float64) bool {
	changed := false
	for k, g := range all {
		want := g.hot * (g.cold + (1-g.cold)*math.Pow(volts[k]/g.rated, glowPower))
		r := &n.resist[g.at]
		changed = changed || math.Abs(want/r.ohms-1) > atRest
		r.ohms = want
	}
	return changed
}

// chill finds the tubes whose heaters are not fed and that draw as yet, and reports whether there are any.
// One whose heater the file does not wire counts as fed.
func (n *branches) chill(all []glowing, volts []float64) bool {
	share := map[int]float64{}
	for k, g := range all {
		if r := n.resist[g.at]; r.what == heater {
			share[r.part] = max(share[r.part], volts[k]/g.rated)
		}
	}
	found := false
	for i, p := range n.c.Set.Parts {
		d, ok := p.Detail.(*netlist.Tube)
		if !ok || n.coldTube[i] || d.Type.Heater == nil {
			continue
		}
		pins := d.Type.Heater.Pins
		if wired := d.Node(pins[0]) != "" || d.Node(pins[1]) != ""; wired && share[i] < fed {
			n.coldTube[i], found = true, true
		}
	}
	return found
}

// work finds the steady state of all: it steps, warms what glows, chills what is not fed, and again.
func (n *branches) work() (*run, []instant, error) {
	if len(n.store) > mostStores {
		return nil, nil, ErrTooLarge
	}
	x, on := make([]float64, len(n.store)), strings.Repeat(string(rune(blocks)), len(n.rectifier))
	all := n.glow()
	volts := make([]float64, len(all))
	periods := 0
	for turn := range mostWarm {
		r := newRun(n)
		var err error
		if x, on, err = r.settle(x, on, turn > 0); err != nil {
			return nil, nil, err
		}
		record := make([]instant, 0, periodSteps)
		if _, _, err = r.period(x, on, nil, func(i instant) { record = append(record, i) }); err != nil {
			return nil, nil, err
		}
		r.periods += periods
		periods = r.periods
		for k, g := range all {
			volts[k] = n.rms(record, n.resist[g.at].a, n.resist[g.at].b)
		}
		cold, changed := n.chill(all, volts), n.warm(all, volts)
		if !cold && !changed {
			return r, record, nil
		}
		if cold {
			n.draws()
			n.number()
		}
	}
	return nil, nil, ErrRestless
}

// rms are the volts between two nodes over a period.
func (n *branches) rms(record []instant, a, b int) float64 {
	sum := 0.0
	for _, at := range record {
		v := voltsAt(at.nodes, n.at(a)) - voltsAt(at.nodes, n.at(b))
		sum += v * v
	}
	return math.Sqrt(sum / float64(len(record)))
}
