package analysis

import (
	"math"
	"math/cmplx"
	"slices"
	"testing"

	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

// twin is the straightforward solver, the judge of the fast one. It knows the set as it was read,
// not as elements, joins nodes by union-find, writes the whole nodal matrix of every state afresh
// and solves it dense by gonum. Its figures are written here a second time on purpose.
type twin struct {
	set   *netlist.Set
	bench Bench
	plug  *netlist.Plug
	nodes map[string]int
	iso   int // the other terminal of an isolated supply
	earth int
}

func newTwin(set *netlist.Set, bench Bench) *twin {
	_, plug := set.Plug()
	w := &twin{set: set, bench: bench, plug: plug, nodes: map[string]int{}}
	for i, n := range set.Nodes {
		w.nodes[n.Name] = i
	}
	w.iso, w.earth = len(set.Nodes), len(set.Nodes)+1
	return w
}

// condition is one state for the twin.
type condition struct {
	plug    Polarity
	at      map[string]string // every switch's and control's position
	faults  []twinFault
	without bool     // the shorts of failed parts left out
	blown   []string // fuses that a short has opened
	joined  []string // points that one hand joins
}

func (x condition) has(kind FaultKind, part string) bool {
	return slices.ContainsFunc(x.faults, func(f twinFault) bool { return f.kind == kind && f.part == part })
}

// lost reports whether the side of the supply that stands at a blade is open: the neutral one, or the one
// that the fault names.
func (x condition) lost(blade string, neutral bool) bool {
	return slices.ContainsFunc(x.faults, func(f twinFault) bool {
		return f.kind == NeutralLost && (len(f.between) == 0 && neutral || slices.Contains(f.between, blade))
	})
}

// twinMode is what of a state is solved. At AC one rectifier may conduct, or all small diodes; at DC tubes
// may draw, and rectifiers charge, from what AC leaves across them.
type twinMode struct {
	conducts       string
	direct         bool
	draws, charges bool
	from           twinSolution
	ammeters       bool // of the whole fuses
}

// smallDiodes stands where a rectifier's label would.
const smallDiodes = "small diodes"

// supply is the two sides: blade, volts behind it.
func (w *twin) supply(plug Polarity) (blades [2]string, volts [2]complex128) {
	blades = [2]string{w.plug.Hot, w.plug.Neutral}
	if plug == Reversed {
		blades[0], blades[1] = blades[1], blades[0]
	}
	v := w.set.Volts
	volts[0] = complex(v, 0)
	if !w.bench.Isolated {
		switch w.set.Earthed {
		case "midpoint":
			volts[0], volts[1] = complex(v/2, 0), complex(-v/2, 0)
		case "star":
			volts[0], volts[1] = complex(v/math.Sqrt(3), 0), cmplx.Rect(v/math.Sqrt(3), -2*math.Pi/3)
		}
	}
	return blades, volts
}

// floating reports whether neither side of the supply is earthed.
func (w *twin) floating() bool { return w.bench.Isolated || w.set.Earthed == "nowhere" }

// build writes the network of a state in a mode.
func (w *twin) build(x condition, m twinMode) *twinNetwork {
	omega := 2 * math.Pi * w.set.Hertz
	n := &twinNetwork{earth: w.earth}
	for i := range w.earth + 1 {
		n.parent = append(n.parent, i)
	}
	if !w.floating() {
		n.join(w.iso, w.earth)
	}
	blades, volts := w.supply(x.plug)
	for k, blade := range blades {
		if x.lost(blade, k == 1) {
			continue
		}
		emf := volts[k]
		if m.direct {
			emf = 0
		}
		n.branch(w.nodes[blade], w.iso, 10, emf)
	}
	if w.floating() && !m.direct {
		n.branch(w.nodes[blades[0]], w.earth, complex(0, omega*1e-9), 0)
		n.branch(w.iso, w.earth, complex(0, omega*1e-9), 0)
	}
	if w.plug.Earth != "" && !x.has(EarthLost, SupplyName) {
		n.branch(w.nodes[w.plug.Earth], w.earth, 10, 0)
	}
	if i, used := w.nodes[netlist.BuildingEarth]; used {
		n.branch(i, w.earth, 1.0/25, 0)
	}
	for _, name := range w.bench.Earthed {
		n.branch(w.nodes[name], w.earth, 10, 0)
	}
	for _, p := range w.set.Parts {
		if p.Kind == netlist.KindTube && x.has(Pulled, p.Name) {
			continue
		}
		w.place(n, p, x, m)
		if p.Condition == netlist.Failed && !x.without {
			for _, s := range failedShorts(p) {
				n.branch(w.nodes[s[0]], w.nodes[s[1]], 100, 0)
			}
		}
	}
	for _, name := range x.joined {
		n.join(w.nodes[name], w.nodes[x.joined[0]])
	}
	for _, f := range x.faults {
		if f.short[0] != "" && f.kind != Stuck {
			n.branch(w.nodes[f.short[0]], w.nodes[f.short[1]], 100, 0)
		}
	}
	return n
}

// solved is what the twin finds in a state with one rectifier conducting, or none.
type solved struct {
	w       *twin
	points  []int
	ac      twinSolution
	dc      []twinSolution // the ways of DC
	amps    float64        // the larger of the two sides of the supply, rectifiers blocking
	cleared bool
}

// dcWays are those in which a set is solved at DC: rectifiers as sources, or open beside batteries; with
// nothing drawn, or with the tubes drawing.
func (w *twin) dcWays() []twinMode {
	rectifiers, batteries, draws := false, false, false
	for _, p := range w.set.Parts {
		switch d := p.Detail.(type) {
		case *netlist.Rectifier:
			rectifiers = true
		case *netlist.Battery:
			batteries = true
		case *netlist.Tube:
			rectifiers = rectifiers || len(sectionsOf(d)) > 0
			draws = draws || len(drawingOf(d)) > 0
		}
	}
	if !rectifiers && !batteries {
		return nil
	}
	ways := []twinMode{{direct: true, charges: true}}
	if rectifiers && batteries {
		ways = append(ways, twinMode{direct: true})
	}
	for _, way := range slices.Clone(ways) {
		if draws {
			way.draws = true
			ways = append(ways, way)
		}
	}
	return ways
}

// all solves a state with all blocking, then with each rectifier that can conduct, in the order of
// the file, then with all small diodes.
func (w *twin) all(t settest.TB, x condition, points []string) map[string]solved {
	var at []int
	for _, p := range points {
		at = append(at, w.nodes[p])
	}
	s := solved{w: w, points: at}
	s.ac = w.build(x, twinMode{}).solve(t, at)
	for _, way := range w.dcWays() {
		way.from = s.ac
		s.dc = append(s.dc, w.build(x, way).solve(t, at))
	}
	blades, volts := w.supply(x.plug)
	for k, blade := range blades {
		if !x.lost(blade, k == 1) {
			s.amps = max(s.amps, cmplx.Abs(volts[k]+s.ac.volts[w.iso]-s.ac.volts[w.nodes[blade]])/0.1)
		}
	}
	s.cleared = s.amps > 20
	found := map[string]solved{"": s}
	for _, label := range w.labels(x) {
		one := s
		one.ac = w.build(x, twinMode{conducts: label}).solve(t, at)
		found[label] = one
	}
	return found
}

// blowing are the fuses that carry over 20 A in a state, all rectifiers blocking.
func (w *twin) blowing(t settest.TB, x condition) []string {
	amps := w.build(x, twinMode{ammeters: true}).solve(t, nil).amps
	var blown []string
	for _, p := range w.set.Parts {
		if p.Kind != netlist.KindFuse || x.has(Open, p.Name) || slices.Contains(x.blown, p.Name) {
			continue
		}
		if cmplx.Abs(amps[0]) > 20 {
			blown = append(blown, p.Name)
		}
		amps = amps[1:]
	}
	return blown
}

// uncleared is the state in which a cleared one is solved once more: with the fuses open that carry the
// short, else without the shorts of failed parts; ok is false where there is none.
func (w *twin) uncleared(t settest.TB, x condition) (again condition, ok bool) {
	if blown := w.blowing(t, x); len(blown) > 0 {
		x.blown = blown
		return x, true
	}
	x.without = true
	return x, slices.ContainsFunc(w.set.Parts, func(p *netlist.Part) bool { return p.Condition == netlist.Failed && len(failedShorts(p)) > 0 })
}

// labels names what can conduct.
func (w *twin) labels(x condition) []string {
	var labels []string
	small := false
	for _, p := range w.set.Parts {
		switch d := p.Detail.(type) {
		case *netlist.Rectifier:
			labels = append(labels, p.Name)
		case *netlist.Tube:
			if x.has(Pulled, p.Name) {
				continue
			}
			small = small || len(smallOf(d)) > 0
			wired := sectionsOf(d)
			for _, s := range wired {
				if len(wired) == 1 {
					labels = append(labels, p.Name)
				} else {
					labels = append(labels, p.Name+":"+itoa(s.Anode))
				}
			}
		}
	}
	if small {
		labels = append(labels, smallDiodes)
	}
	return labels
}

// between is the open volts and the impedance from point i to point j, -1 for earth. Between two groups no
// current can return.
func (s solved) between(x twinSolution, i, j int) (volts, ohms complex128) {
	other := s.w.earth
	if j >= 0 {
		other = s.points[j]
	}
	if x.group[s.points[i]] != x.group[other] {
		return 0, 0
	}
	volts, ohms = x.volts[s.points[i]], x.z[i][i]
	if j >= 0 {
		volts -= x.volts[other]
		ohms += x.z[j][j] - x.z[i][j] - x.z[j][i]
	}
	return volts, ohms
}

// reading is what is read at a point to earth, or from point i to point j; j is -1 for earth. At DC the way
// counts that drives the most through 2000 Ω.
func (s solved) reading(i, j int) Reading {
	volts, z := s.between(s.ac, i, j)
	body := 500 + 1/(1.0/1500+complex(0, 2*math.Pi*s.w.set.Hertz*0.22e-6))
	r := Reading{
		VoltsOpen:  cmplx.Abs(volts),
		VoltsMeter: cmplx.Abs(volts * 10e6 / (10e6 + z)),
		Milliamps:  1000 * cmplx.Abs(volts/(body+z)),
	}
	for _, way := range s.dc {
		direct, ohms := s.between(way, i, j)
		if milliamps := 1000 * cmplx.Abs(direct/(2000+ohms)); milliamps > r.MilliampsDC {
			r.VoltsDC, r.MilliampsDC = cmplx.Abs(direct), milliamps
		}
	}
	return r
}

// TestTwinByHand holds the judge itself to two sums: a divider, and a capacitor into a body.
func TestTwinByHand(t *testing.T) {
	set := settest.Load(t, settest.With(`
R1 = { kind = "resistor", ends = ["L", "chassis"], value = 9000 }
R2 = { kind = "resistor", ends = ["chassis", "N"], value = 1000 }
C1 = { kind = "capacitor", ends = ["L", "shaft"], value = "0.1 uF" }`, "chassis", "shaft"))
	got := newTwin(set, Bench{}).all(t, condition{plug: AsMarked}, []string{"chassis", "shaft"})[""]
	settest.Near(t, "divider", got.reading(0, -1).VoltsOpen, 120*1000.1/10000.2, 1e-6)
	// 120 / |1977.1 − j183.8 − j26525.8|
	settest.Near(t, "capacitor", got.reading(1, -1).Milliamps, 120e3/cmplx.Abs(complex(1977.1, -183.8-26525.8)), 1e-4)
}
