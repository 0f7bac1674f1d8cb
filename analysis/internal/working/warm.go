package working

import (
	"math"
	"strings"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/netlist"
)

// Rough laws of what glows: hot ohms times a share that is left cold plus the rest times (V/rated V)^power.
// At half its volts a heater draws some 70 % of its current.
const (
	heaterCold = circuit.ColdHeater
	lampCold   = 0.12
	glowPower  = 0.6
	fed        = 0.6  // of its rated volts: from here up a heater's tube draws
	atRest     = 2e-3 // change of ohms that is taken as none
	mostWarm   = 60
)

// glow lists the branches whose ohms follow their own volts, by their places in resist: heaters, lamps and
// a lamp in the line.
func (n *branches) glow() []int {
	var all []int
	for k := range n.resist {
		if n.resist[k].full > 0 {
			all = append(all, k)
		}
	}
	return all
}

// warm sets every glowing branch to the ohms of its volts, and reports whether any changed.
func (n *branches) warm(all []int, volts []float64) bool {
	changed := false
	for k, at := range all {
		r, cold := &n.resist[at], lampCold
		if r.what == heater {
			cold = heaterCold
		}
		want := r.hot * (cold + (1-cold)*math.Pow(volts[k]/r.full, glowPower))
		changed = changed || math.Abs(want/r.ohms-1) > atRest
		r.ohms = want
	}
	return changed
}

// chill finds the tubes whose heaters are not fed and that draw as yet, and reports whether there are any.
// One whose heater the file does not wire counts as fed.
func (n *branches) chill(all []int, volts []float64) bool {
	share := map[int]float64{}
	for k, at := range all {
		if r := n.resist[at]; r.what == heater {
			share[r.part] = max(share[r.part], volts[k]/r.full)
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
		for k, at := range all {
			volts[k] = n.rms(record, n.resist[at].a, n.resist[at].b)
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
