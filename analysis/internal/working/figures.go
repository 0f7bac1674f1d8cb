package working

import (
	"errors"
	"math"
	"slices"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/netlist"
)

// ErrTooLarge is returned for a set with more capacitors and coils than mostStores, and for one that takes more work
// than it is given.
var ErrTooLarge = errors.New("the set is too large to be solved while it plays")

// Bounds on the work. A period takes the square of the stores, Newton's step the cube.
const (
	mostStores = 150
	// MostWork is the most that is spent on a set, in multiplications; a set of sixty parts takes a
	// hundredth of it.
	MostWork = 5e8
)

// Options say what of a set is worked out. None stands for what is not asked: Body and Reference.
type Options struct {
	Position  int // of switches and controls, in Circuit.Positions
	Plug      circuit.Polarity
	Percent   float64          // of the mains volts; 0 for all of them
	Faults    []*circuit.Fault // what is open, pulled or shorted
	Lamp      *Lamp            // in series with the set, nil for none
	Sound     bool             // the shorts of failed parts are left out
	Undrawn   bool             // the tubes draw nothing, hot as they may be
	Work      float64          // the most to spend on it, in multiplications; 0 for MostWork
	Drawn     map[int]float64  // by part: how many times its usual current a tube draws, where it is not once
	From      *Result          // a set that differs little: where to begin, nil for at rest
	Meter     Meter            // a voltmeter across two nodes, none where it has no ohms
	Body      int              // the node that a hand is on
	Reference int              // the node against which volts are told; None for the common negative
}

// None is the place of no node.
const None = -1

// Lamp is one in series with the set, by its rating.
type Lamp struct{ Watts, Volts float64 }

// Meter is a voltmeter between two nodes.
type Meter struct {
	A, B int
	Ohms float64
}

// Volts are those of a node against the reference: the mean, and the rms of the rest. A figure is false
// where nothing leads from one to the other that could tell it.
type Volts struct {
	DC, AC       float64
	HasDC, HasAC bool
}

// Load is a branch of ohms: rms volts and amps, and the watts in it.
type Load struct {
	Part, A, B         int
	Volts, Amps, Watts float64
	Rated              float64 // V, of heaters and lamps
}

// Resistor is what a resistor, a potentiometer or a thermistor carries.
type Resistor struct {
	Part          int
	Watts         float64
	VoltsDC, Amps float64 // of a potentiometer none: its halves differ
	Potentiometer bool
}

// Capacitor is what stands across a capacitor and flows through it.
type Capacitor struct {
	Part          int
	VoltsDC, Peak float64
	Known         bool // of VoltsDC and Peak: what passes DC joins its ends
	VoltsAC, Amps float64
	LeakWatts     float64
	HasLeak       bool
}

// Current is what flows in a fuse, a winding or a battery.
type Current struct {
	Part         int
	Name         string
	Amps, AmpsDC float64
}

// Coil is what a coil carries.
type Coil struct {
	Part                int
	Amps, AmpsDC, Watts float64
}

// Rectifier is what a rectifying section carries, and the most that it holds off.
type Rectifier struct {
	Name               string
	Part               int
	Amps, AmpsDC, Peak float64
	Reverse            float64 // V
}

// Draw is what a plate or a screen draws.
type Draw struct {
	Part, Node      int
	Screen          bool
	VoltsDC, AmpsDC float64
}

// Touch is what flows through a body: rms, mean, the rms of the rest, peak.
type Touch struct{ Amps, AmpsDC, AmpsAC, Peak float64 }

// Result is what the last period shows.
type Result struct {
	Options   Options
	Reference int
	Nodes     []Volts // by node of the set
	// Amps and Watts are from the line at the outlet, OtherAmps on its other side.
	Amps, OtherAmps, Watts float64
	BatteryWatts           float64 // from batteries
	Lost                   float64 // W, in all branches: what Watts and BatteryWatts should be
	Fuses, Windings        []Current
	Resistors              []Resistor
	Capacitors             []Capacitor
	Rectifiers             []Rectifier
	Heaters, Lamps, Motors []Load
	Coils                  []Coil
	Draws                  []Draw
	Batteries              []Current
	Limiter                *Load  // the lamp in series with the set
	Touch                  *Touch // nil where no hand is asked for
	Cold                   []int  // parts: tubes whose heaters are not fed
	Periods                int
	Work                   float64 // that was spent, in multiplications
	Left                   float64 // change in a period that is left where it only stands still

	by *teller
}

// LineAmps is the larger current of the two sides of the line, in A rms.
func (r *Result) LineAmps() float64 { return max(r.Amps, r.OtherAmps) }

// Across are the volts of node a against node b.
func (r *Result) Across(a, b int) Volts { return r.by.across(a, b) }

// Against is the same with the volts of nodes told against another one.
func (r *Result) Against(reference int) *Result {
	other := *r
	other.Reference, other.Nodes = reference, nil
	for i := range r.Nodes {
		other.Nodes = append(other.Nodes, r.by.across(i, reference))
	}
	return &other
}

// Of is the resistor, potentiometer or thermistor of that place among the parts, nil for none.
func (r *Result) Of(part int) *Resistor {
	for k := range r.Resistors {
		if r.Resistors[k].Part == part {
			return &r.Resistors[k]
		}
	}
	return nil
}

// Solve finds the working set.
func Solve(c *circuit.Circuit, o Options) (*Result, error) {
	if o.Percent == 0 {
		o.Percent = 100
	}
	if o.Work == 0 {
		o.Work = MostWork
	}
	n := build(c, o)
	r, record, end, err := n.work()
	if err != nil {
		return nil, err
	}
	o.From = nil // what it began from is not kept
	t := &teller{n: n, record: record, end: end, out: &Result{Options: o, Reference: n.reference, Periods: r.periods, Left: r.left, Work: n.spent}}
	t.out.by = t
	t.tell()
	return t.out, nil
}

// teller reads figures off a period.
type teller struct {
	n      *branches
	record []instant
	end    ending
	out    *Result
	room   waveform
}

// waveform is a figure at each step's end of a period.
type waveform [periodSteps]float64

// wave is what stands between two nodes. It is good until the next is asked for.
func (t *teller) wave(a, b int) []float64 {
	t.n.wave(&t.room, t.record, a, b)
	return t.room[:]
}

// wave is what stands between two nodes at each step's end of a period.
func (n *branches) wave(into *waveform, record []instant, a, b int) {
	i, j := n.at(a), n.at(b)
	for k, at := range record {
		into[k] = voltsAt(at.nodes, i) - voltsAt(at.nodes, j)
	}
}

func (t *teller) across(a, b int) Volts {
	var room waveform // of its own: many may ask at once
	t.n.wave(&room, t.record, a, b)
	w := room[:]
	return Volts{DC: mean(w), AC: rest(w), HasAC: t.n.joined(a, b, t.n.all), HasDC: t.n.joined(a, b, t.n.direct)}
}

func mean(w []float64) float64 {
	sum := 0.0
	for _, v := range w {
		sum += v
	}
	return sum / float64(len(w))
}

func rms(w []float64) float64 {
	sum := 0.0
	for _, v := range w {
		sum += v * v
	}
	return math.Sqrt(sum / float64(len(w)))
}

// rest is the rms of what is not the mean.
func rest(w []float64) float64 {
	m, r := mean(w), rms(w)
	return math.Sqrt(max(0, r*r-m*m))
}

func peak(w []float64) float64 {
	most := 0.0
	for _, v := range w {
		most = max(most, math.Abs(v))
	}
	return most
}

func (t *teller) tell() {
	n, out := t.n, t.out
	for i := range n.nodes {
		out.Nodes = append(out.Nodes, t.across(i, out.Reference))
	}
	t.line()
	for k := range n.resist {
		t.resistance(&n.resist[k])
	}
	for k := range n.store {
		t.store(k)
	}
	t.rectifiers()
	for _, b := range n.constant {
		current := t.wave(b.a, b.b)
		for k, v := range current {
			current[k] = (b.emf - v) / b.ohms
			out.BatteryWatts += current[k] * v / float64(len(current))
		}
		out.Batteries = append(out.Batteries, Current{Part: b.part, Name: n.c.Set.Parts[b.part].Name, Amps: rms(current), AmpsDC: mean(current)})
	}
	for i := range n.c.Set.Parts {
		if n.coldTube[i] {
			out.Cold = append(out.Cold, i)
		}
	}
}

// line is what the outlet gives.
func (t *teller) line() {
	for k, s := range t.n.source {
		volts := t.wave(s.a, s.b)
		amps := make([]float64, len(volts))
		for i, v := range volts {
			amps[i] = (t.record[i].emfs[k] - v) / circuit.SupplyOhms
			t.out.Watts += amps[i] * v / float64(len(volts))
		}
		if k == 0 {
			t.out.Amps = rms(amps)
		} else {
			t.out.OtherAmps = rms(amps)
		}
	}
}

func (t *teller) resistance(r *resistance) {
	out, w := t.out, t.wave(r.a, r.b)
	l := Load{Part: r.part, A: r.a, B: r.b, Volts: rms(w), Amps: rms(w) / r.ohms, Rated: r.full}
	l.Watts = l.Volts * l.Amps
	out.Lost += l.Watts
	switch r.what {
	case resistor, thermistor:
		out.Resistors = append(out.Resistors, Resistor{Part: r.part, Watts: l.Watts, VoltsDC: mean(w), Amps: l.Amps})
	case potentiometer:
		if last := len(out.Resistors) - 1; last >= 0 && out.Resistors[last].Part == r.part {
			out.Resistors[last].Watts += l.Watts
			return
		}
		out.Resistors = append(out.Resistors, Resistor{Part: r.part, Watts: l.Watts, Potentiometer: true})
	case leak:
		c := t.capacitor(r.part)
		c.LeakWatts, c.HasLeak = c.LeakWatts+l.Watts, true
	case heater:
		out.Heaters = append(out.Heaters, l)
	case lamp:
		out.Lamps = append(out.Lamps, l)
	case motor:
		out.Motors = append(out.Motors, l)
	case limiter:
		out.Limiter = &l
	case fuse:
		out.Fuses = append(out.Fuses, Current{r.part, r.name, l.Amps, mean(w) / r.ohms})
	case winding:
		name := r.name
		if !t.n.c.Set.Parts[r.part].Detail.(*netlist.Transformer).Coupled {
			name += " " + t.n.c.NodeName(r.a) + " to " + t.n.c.NodeName(r.b)
		}
		out.Windings = append(out.Windings, Current{r.part, name, l.Amps, mean(w) / r.ohms})
	case plate, screen:
		out.Draws = append(out.Draws, Draw{r.part, r.a, r.what == screen, mean(w), mean(w) / r.ohms})
	case body:
		for k := range w {
			w[k] /= r.ohms
		}
		out.Touch = &Touch{rms(w), mean(w), rest(w), peak(w)}
	}
}

// capacitor is the entry of a part, made where there is none.
func (t *teller) capacitor(part int) *Capacitor {
	for k := range t.out.Capacitors {
		if t.out.Capacitors[k].Part == part {
			return &t.out.Capacitors[k]
		}
	}
	t.out.Capacitors = append(t.out.Capacitors, Capacitor{Part: part})
	return &t.out.Capacitors[len(t.out.Capacitors)-1]
}

func (t *teller) store(k int) {
	s := &t.n.store[k]
	current := make([]float64, len(t.record))
	for i, at := range t.record {
		current[i] = at.amps[k]
	}
	if s.coil {
		watts := s.ohms * rms(current) * rms(current)
		t.out.Lost += watts
		if s.told {
			t.out.Coils = append(t.out.Coils, Coil{s.part, rms(current), mean(current), watts})
		}
		return
	}
	if !s.told {
		return
	}
	w, c := t.wave(s.a, s.b), t.capacitor(s.part)
	c.Known = t.n.joined(s.a, s.b, t.n.direct)
	c.VoltsDC, c.Peak, c.VoltsAC, c.Amps = mean(w), peak(w), rest(w), rms(current)
}

func (t *teller) rectifiers() {
	for k, r := range t.n.rectifier {
		w := t.wave(r.a, r.b)
		current, reverse := make([]float64, len(w)), 0.0
		for i, v := range w {
			if t.record[i].on[k] == conducts {
				current[i] = (v - r.drop) / r.ohms
			}
			reverse = max(reverse, -v)
			t.out.Lost += current[i] * v / float64(len(w))
		}
		t.out.Rectifiers = append(t.out.Rectifiers, Rectifier{r.name, r.part, rms(current), mean(current), slices.Max(current), reverse})
	}
}
