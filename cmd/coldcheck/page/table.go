package page

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
)

// What a way must bring to be drawn as bringing it.
const (
	shareDrawn = 0.1   // of what the way brings that brings the most
	leastDrawn = 0.002 // against ES2: 0.01 mA AC
	// leastExplained is from where a state must have a way drawn: 0.05 mA AC.
	leastExplained = 0.01
	ownAmps        = 1e-3 // A, the set's own current in a part, AC and DC added, from which it is marked
	glowShare      = 0.5  // of its rated current, from which a heater or a lamp counts as hot
	// worseBy is how much worse a conducting rectifier must make a state to be shown instead, in the
	// same class; from toldBy it is told beside.
	worseBy = 2.0
	toldBy  = 1.01
	// leastTold is how much a state must be for that: 0.1 mA AC.
	leastTold = 0.02
	// entriesMost is how many states, times pieces of metal, a page holds.
	entriesMost = 60000
	// workMost bounds what is worked out for it: about a second's work.
	workMost = 1_000_000
)

// faultCase is a set of faults that the bench offers: none, one, or a fault set that makes a point
// live.
type faultCase struct {
	faults []*analysis.Fault
}

func (c faultCase) has(kind analysis.FaultKind) bool {
	return slices.ContainsFunc(c.faults, func(f *analysis.Fault) bool { return f.Kind == kind })
}

// table is what the bench shows, for each case, plug way, switch combination and piece of metal.
type table struct {
	k      *rules.Case
	scenes []*scene
	cases  []faultCase
	states []analysis.State // the normal ones: both ways, every combination
	// readings is by case, then state, then scene.
	readings [][][]reading
	dropped  int // faults that did not fit
}

// reading is one piece of metal in one state.
type reading struct {
	analysis.Reading
	state    analysis.State
	blocking analysis.Reading // with no rectifier conducting
	// conducting is the worst with one conducting, where that is worse; rectifier is which, else "".
	conducting analysis.Reading
	rectifier  string
	cleared    bool
	edges      []edgeState
	cool       []bool // by edge: a heater or a lamp that does not glow
	routes     []routeState
	earths     []bool // by way to an earth: it carries current away
	cold       bool   // brought through heaters or lamps that do not glow: it may be more
	unseen     bool   // felt, and by no way that is drawn
}

type edgeState byte

// The states of an edge, as script.js and style.css know them.
const (
	atRest      edgeState = '.'
	isOpen      edgeState = 'o'
	ownCurrent  edgeState = 'w'
	broken      edgeState = 'x'
	bringing    edgeState = 'c'
	brokenBring edgeState = 'X'
)

type routeState byte

// The states of a route.
const (
	routeOpen    routeState = 'o'
	routeHolds   routeState = 'h'
	routeIdle    routeState = 'n'
	routeBrings  routeState = 'c'
	routeCleared routeState = '!'
)

func newTable(k *rules.Case) *table {
	t := &table{k: k, states: k.Circuit.Normal()}
	t.scenes = make([]*scene, len(k.Metals))
	analysis.SideBySide(len(k.Metals), func(i int) { t.scenes[i] = newScene(k, k.Metals[i]) })
	t.cases = append(t.cases, faultCase{})
	for _, f := range k.Circuit.Faults {
		t.cases = append(t.cases, faultCase{[]*analysis.Fault{f}})
	}
	t.addFaultSets()
	t.fit()
	t.fill()
	for i, s := range t.scenes {
		routes, edges := s.choose()
		t.keep(i, routes, edges)
	}
	return t
}

// addFaultSets adds the fault sets of more than one fault that make a point live, guards aside.
func (t *table) addFaultSets() {
	known := map[string]bool{}
	for _, p := range t.k.Result.Points {
		for _, set := range p.FaultSets {
			faults := slices.DeleteFunc(slices.Clone(set.Faults), func(f *analysis.Fault) bool { return f.Kind == analysis.GuardOff })
			if id := faultsWords(t.k.Set, faults); len(faults) > 1 && !known[id] {
				known[id] = true
				t.cases = append(t.cases, faultCase{faults})
			}
		}
	}
}

// fit drops cases from the end until the page can hold them, the supply's own faults last.
func (t *table) fit() {
	// A node or a part of a state takes some ten times as long as a channel to draw it by.
	perState := 10*(len(t.k.Set.Nodes)+len(t.k.Set.Parts)) + 4*len(t.k.Circuit.Faults)
	for _, s := range t.scenes {
		perState += 2 * len(s.edges)
	}
	most := max(2, min(entriesMost/max(1, len(t.states)*len(t.scenes)), workMost/(len(t.states)*perState)))
	if len(t.cases) <= most {
		return
	}
	isSupply := func(c faultCase) bool {
		return len(c.faults) == 0 || len(c.faults) == 1 && c.faults[0].Part == analysis.SupplyName
	}
	slices.SortStableFunc(t.cases, func(a, b faultCase) int { return cmp.Compare(rankOf(!isSupply(a)), rankOf(!isSupply(b))) })
	t.dropped = len(t.cases) - most
	t.cases = t.cases[:most]
}

func rankOf(b bool) int {
	if b {
		return 1
	}
	return 0
}

// points are the indexes of the scenes' metals among the circuit's touch points.
func (t *table) points() []int {
	var points []int
	for _, s := range t.scenes {
		points = append(points, slices.IndexFunc(t.k.Circuit.Points, func(p analysis.TouchPoint) bool { return p.Name == s.target }))
	}
	return points
}

// fill reads the engine's table: of each state the row with all rectifiers blocking, and the worst
// of those with one conducting where that is worse.
func (t *table) fill() {
	points := t.points()
	for n, c := range t.cases {
		byState := make([][]reading, len(t.states))
		i := -1
		for _, row := range t.k.Circuit.Judged(c.faults...) {
			if row.State.Without {
				continue
			}
			if row.State.Rectifier == "" { // the first of each state, in the order of the states
				i++
				byState[i] = make([]reading, len(points))
				for k, p := range points {
					byState[i][k] = reading{Reading: row.Readings[p], state: row.State, blocking: row.Readings[p], cleared: row.Cleared}
				}
				continue
			}
			for k, p := range points {
				byState[i][k].add(row.Readings[p], row.State)
			}
		}
		t.readings = append(t.readings, byState)
		t.look(n)
	}
}

// add takes a state with a rectifier conducting into account.
func (r *reading) add(with analysis.Reading, state analysis.State) {
	if worse(with, r.blocking, toldBy) && (r.rectifier == "" || worse(with, r.conducting, toldBy)) {
		r.conducting, r.rectifier = with, state.Rectifier
	}
	if r.rectifier == state.Rectifier && worse(with, r.blocking, worseBy) {
		r.Reading, r.state = with, state
	}
}

// most is the worst current of the state, against ES2, whichever rectifier conducts.
func (r *reading) most() float64 { return max(r.Severity(), r.conducting.Severity()) }

// worse tells whether a reading is of a worse class than another, or in the same class worse by a
// factor.
func worse(x, than analysis.Reading, by float64) bool {
	if x.Class() != than.Class() {
		return x.Class() > than.Class()
	}
	return x.Severity() >= leastTold && x.Severity() > by*than.Severity()
}

// look works out what every scene shows in the states of a case, and which ways bring current to a
// hand.
func (t *table) look(fault int) {
	type solved struct {
		solution *analysis.Solution
		channels map[edgeKey][]analysis.Channel
	}
	for i, readings := range t.readings[fault] {
		known := map[string]*solved{}
		for k := range readings {
			r := &readings[k]
			at := known[r.state.Rectifier]
			if at == nil {
				at = &solved{t.k.Circuit.Solve(r.state), map[edgeKey][]analysis.Channel{}}
				for _, ch := range t.k.Circuit.Wiring(r.state).Channels {
					key := keyOf(t.k.Set, ch)
					at.channels[key] = append(at.channels[key], ch)
				}
				known[r.state.Rectifier] = at
			}
			l := &look{s: t.scenes[k], state: r.state, solution: at.solution, channels: at.channels, cleared: r.cleared}
			l.hand = at.solution.Touch(l.s.target)
			l.show(r)
			t.note(k, fault, i, r)
		}
	}
}

// note gives the ways the number of a state in which they bring current: one with nothing wrong, one
// that a fault makes worse, or one in which it takes another way, through a rectifier.
func (t *table) note(scene, fault, state int, r *reading) {
	sound := &t.readings[0][state][scene]
	other := r.Class() == analysis.Live && r.state.Rectifier != sound.state.Rectifier
	if r.cleared || r.Severity() < leastExplained || fault > 0 && r.Class() <= sound.Class() && !other {
		return
	}
	s := t.scenes[scene]
	number := fault*len(t.states) + state
	s.felt = append(s.felt, number)
	s.weight[number] = weightOf(r, t.cases[fault])
	for n, route := range s.routes {
		if r.routes[n] == routeBrings {
			route.brings = append(route.brings, number)
			route.normal = route.normal || fault == 0
		}
	}
}

// weightOf is how much it matters that a state has its way drawn: the worse and the likelier, the
// more.
func weightOf(r *reading, c faultCase) float64 {
	weight := 1 + r.Severity()
	if r.Class() == analysis.Live {
		weight *= 10
	}
	for range c.cost() + 1 {
		weight /= 10
	}
	return weight
}

// keep drops from the readings of a scene what it does not draw. routes and edges are, for each
// that is drawn, its number before.
func (t *table) keep(scene int, routes, edges []int) {
	for _, byState := range t.readings {
		for _, readings := range byState {
			r := &readings[scene]
			r.routes, r.edges = picked(r.routes, routes), picked(r.edges, edges)
			r.cool = picked(r.cool, edges)
			r.unseen = !slices.Contains(r.routes, routeBrings) && !r.cleared && r.Class() > analysis.UnderLimit
			for n, route := range t.scenes[scene].routes {
				if r.routes[n] == routeBrings {
					r.mark(route)
				}
			}
		}
	}
}

// mark shows a way as bringing current.
func (r *reading) mark(route *route) {
	for _, i := range route.edges {
		r.cold = r.cold || r.cool[i]
		switch r.edges[i] {
		case broken, brokenBring:
			r.edges[i] = brokenBring
		default:
			r.edges[i] = bringing
		}
	}
}

func picked[T any](list []T, numbers []int) []T {
	out := make([]T, len(numbers))
	for i, n := range numbers {
		out[i] = list[n]
	}
	return out
}

// faultsWords tells a set of faults: "C1 shorted and neutral lost". One that nobody vouches for, or
// that was never meant to protect, is marked.
func faultsWords(set *netlist.Set, faults []*analysis.Fault) string {
	words := make([]string, len(faults))
	for i, f := range faults {
		words[i] = rules.FaultWords(f)
		if f.Cost > 0 {
			continue
		}
		if p := set.Part(f.Part); p != nil && p.Condition == netlist.Good {
			words[i] += " (no safeguard)"
		} else {
			words[i] += " (suspect)"
		}
	}
	if n := len(words); n > 1 {
		return fmt.Sprintf("%s and %s", strings.Join(words[:n-1], ", "), words[n-1])
	}
	return strings.Join(words, "")
}
