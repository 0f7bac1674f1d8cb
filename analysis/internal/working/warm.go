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

// ending is where a period that repeats itself begins and ends: volts of capacitors and amps of coils, and
// which rectifiers conduct.
type ending struct {
	x  []float64
	on string
}

// begin is where to begin: at rest, or where a set that differs little ended, so far as their parts are the
// same.
func (n *branches) begin() (e ending, warm bool) {
	e = ending{make([]float64, len(n.store)), strings.Repeat(string(rune(blocks)), len(n.rectifier))}
	f := n.o.From
	if f == nil {
		return e, false
	}
	before := f.by.n
	ended := map[storeKey]float64{}
	for k := range before.store {
		ended[before.storeKey(k)] = f.by.end.x[k]
	}
	for k := range n.store {
		e.x[k] = ended[n.storeKey(k)]
	}
	on := []byte(e.on)
	for k := range n.rectifier {
		for j := range before.rectifier {
			if before.rectifier[j].name == n.rectifier[k].name {
				on[k] = f.by.end.on[j]
			}
		}
	}
	e.on = string(on)
	for _, at := range n.glow() {
		n.resist[at].ohms = before.ohmsOf(&n.resist[at])
	}
	return e, true
}

// storeKey tells the stores of a set apart, whatever other parts it has.
type storeKey struct {
	part string
	coil bool
	a, b string
}

func (n *branches) storeKey(k int) storeKey {
	s := &n.store[k]
	key := storeKey{coil: s.coil, a: n.nodeName(s.a), b: n.nodeName(s.b)}
	if s.part >= 0 {
		key.part = n.c.Set.Parts[s.part].Name
	}
	return key
}

// nodeName is the name of a node of the set, "" of what is none.
func (n *branches) nodeName(i int) string {
	if i < 0 || i >= n.nodes {
		return ""
	}
	return n.c.NodeName(i)
}

// ohmsOf is what another set's branch stands at in this one, its own ohms where there is none.
func (n *branches) ohmsOf(r *resistance) float64 {
	for k := range n.resist {
		if o := &n.resist[k]; o.what == r.what && o.name == r.name && o.hot == r.hot {
			return o.ohms
		}
	}
	return r.ohms
}

// work finds the steady state of all: it steps, warms what glows, chills what is not fed, and again.
func (n *branches) work() (*run, []instant, ending, error) {
	if len(n.store) > mostStores {
		return nil, nil, ending{}, ErrTooLarge
	}
	at, warm := n.begin()
	all := n.glow()
	volts := make([]float64, len(all))
	periods := 0
	var room waveform
	for turn := range mostWarm {
		r := newRun(n)
		var err error
		if at.x, at.on, err = r.settle(at.x, at.on, warm || turn > 0); err != nil {
			return nil, nil, ending{}, err
		}
		record := make([]instant, 0, periodSteps)
		if _, _, err = r.period(at.x, at.on, nil, func(i instant) { record = append(record, i) }); err != nil {
			return nil, nil, ending{}, err
		}
		r.periods += periods
		periods = r.periods
		for k, branch := range all {
			n.wave(&room, record, n.resist[branch].a, n.resist[branch].b)
			volts[k] = rms(room[:])
		}
		cold, changed := n.chill(all, volts), n.warm(all, volts)
		if !cold && !changed {
			return r, record, at, nil
		}
		if cold {
			n.draws()
			n.number()
		}
	}
	return nil, nil, ending{}, ErrRestless
}
