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
	shareDrawn = 0.1   // of the hand's current
	leastDrawn = 0.002 // against ES2: 0.01 mA AC
	// leastExplained is from where a state must have a way drawn: 0.05 mA AC.
	leastExplained = 0.01
	ownAmps        = 1e-3 // A, the set's own current in a part, AC and DC added, from which it is marked
	glowShare      = 0.5  // of its rated current, from which a heater or a lamp counts as hot
	// worseBy is how much worse a conducting rectifier must make a state to be shown instead, in the
	// same class; from toldBy it is told beside.
	worseBy = 1.25
	toldBy  = 1.01
	// entriesMost is how many states, times pieces of metal, a page holds.
	entriesMost = 60000
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
	brings      edgeState = 'c'
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
	for _, m := range k.Metals {
		t.scenes = append(t.scenes, newScene(k, m))
	}
	t.cases = append(t.cases, faultCase{})
	for _, f := range k.Circuit.Faults {
		t.cases = append(t.cases, faultCase{[]*analysis.Fault{f}})
	}
	t.addFaultSets()
	t.fit()
	t.fill()
	for i, s := range t.scenes {
		s.choose()
		t.draw(i)
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
	most := max(4, entriesMost/max(1, len(t.states)*len(t.scenes)))
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
		for _, row := range t.k.Circuit.Judged(c.faults...) {
			if row.State.Without {
				continue
			}
			i := slices.IndexFunc(t.states, func(s analysis.State) bool {
				return s.Plug == row.State.Plug && slices.Equal(s.Settings, row.State.Settings)
			})
			if row.State.Rectifier == "" {
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
		t.measureRoutes(n)
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

// worse tells whether a reading is of a worse class than another, or in the same class worse by a
// factor.
func worse(x, than analysis.Reading, by float64) bool {
	if x.Band() != than.Band() {
		return x.Band() > than.Band()
	}
	return x.Severity() > by*than.Severity()
}

// measureRoutes notes, for every way, in which of these states it brings current to a hand.
func (t *table) measureRoutes(fault int) {
	for i, readings := range t.readings[fault] {
		for k := range readings {
			s, r := t.scenes[k], &readings[k]
			if r.cleared || r.Severity() < leastExplained {
				continue
			}
			s.felt = append(s.felt, fault*len(t.states)+i)
			l := t.look(s, r)
			for _, route := range s.routes {
				if brought, ok := l.brought(route); ok && brought >= shareDrawn*l.hand.Severity() {
					route.brings = append(route.brings, fault*len(t.states)+i)
					route.normal = route.normal || fault == 0
				}
			}
		}
	}
}

// draw works out, for every state, what the drawing of a scene shows.
func (t *table) draw(i int) {
	for _, byState := range t.readings {
		for _, readings := range byState {
			r := &readings[i]
			l := t.look(t.scenes[i], r)
			l.show(r)
		}
	}
}

// look is one scene in one state: the channels of its edges, and the hand.
type look struct {
	s        *scene
	state    analysis.State
	solution *analysis.Solution
	hand     *analysis.Hand
	channels map[edgeKey][]analysis.Channel
	cleared  bool
}

func (t *table) look(s *scene, r *reading) *look {
	c := t.k.Circuit
	l := &look{s: s, state: r.state, channels: map[edgeKey][]analysis.Channel{}, cleared: r.cleared}
	l.solution = c.Solve(r.state)
	l.hand = l.solution.Hand(s.target)
	for _, ch := range c.Wiring(r.state).Channels {
		key := keyOf(t.k.Set, ch)
		if _, drawn := s.index[key]; drawn {
			l.channels[key] = append(l.channels[key], ch)
		}
	}
	return l
}

// of gives the channels of an edge in the state, none where it is open.
func (l *look) of(e *edge) []analysis.Channel {
	k := edgeKey{e.parts[0], e.a, e.b, e.class}
	if isWire(e.set, k.part) {
		k.part = ""
	}
	if k.a > k.b {
		k.a, k.b = k.b, k.a
	}
	return l.channels[k]
}

func conducts(channels []analysis.Channel) bool {
	return slices.ContainsFunc(channels, func(ch analysis.Channel) bool { return ch.Sort == analysis.Conductor })
}

// brought is how much of the hand's current comes by a way, against ES2. ok is false for a way
// that is open, or that begins at a blade that drives nothing.
func (l *look) brought(r *route) (severity float64, ok bool) {
	hot, _ := l.s.k.Circuit.Blades(l.state.Plug)
	if r.blade != hot && !l.s.k.Circuit.Bench.Isolated {
		return 0, false
	}
	least := l.hand.Severity()
	for _, i := range r.edges {
		channels := l.of(l.s.edges[i])
		if len(channels) == 0 {
			return 0, false
		}
		if conducts(channels) {
			continue
		}
		sum := 0.0
		for _, ch := range channels {
			if x, known := l.hand.Brought(ch); known {
				sum += x
			}
		}
		least = min(least, sum)
	}
	return least, true
}

// show fills in what the drawing shows of a state.
func (l *look) show(r *reading) {
	edges := make([]edgeState, len(l.s.edges))
	for i, e := range l.s.edges {
		edges[i] = l.edgeState(e)
	}
	severity := l.hand.Severity()
	felt := !l.cleared && severity >= leastDrawn
	came := false
	for _, route := range l.s.routes {
		state := l.routeState(route, felt, severity)
		r.routes = append(r.routes, state)
		if state != routeBrings {
			continue
		}
		came = true
		r.cold = r.cold || l.cold(route)
		for _, i := range route.edges {
			switch edges[i] {
			case broken, brokenBring:
				edges[i] = brokenBring
			default:
				edges[i] = brings
			}
		}
	}
	r.edges = edges
	r.unseen = felt && !came && r.Band() > analysis.Faint
	for _, earth := range l.s.earths {
		r.earths = append(r.earths, l.leadsAway(earth))
	}
}

func (l *look) edgeState(e *edge) edgeState {
	channels := l.of(e)
	switch {
	case len(channels) == 0:
		return isOpen
	case conducts(channels) && e.class != passes:
		return broken
	}
	own := 0.0
	for _, ch := range channels {
		if amps, direct, ok := l.solution.Through(ch); ok {
			own += amps + direct
		}
	}
	if own >= ownAmps && !l.cleared {
		return ownCurrent
	}
	return atRest
}

func (l *look) routeState(r *route, felt bool, severity float64) routeState {
	holds := false
	for _, i := range r.edges {
		channels := l.of(l.s.edges[i])
		if len(channels) == 0 {
			return routeOpen
		}
		holds = holds || l.s.edges[i].barrier() && !conducts(channels)
	}
	if l.cleared {
		return routeCleared
	}
	if felt {
		if brought, ok := l.brought(r); ok && brought >= shareDrawn*severity {
			return routeBrings
		}
	}
	if holds {
		return routeHolds
	}
	return routeIdle
}

// cold tells whether a way goes through heaters or lamps that do not glow in the state.
func (l *look) cold(r *route) bool {
	for _, i := range r.edges {
		e := l.s.edges[i]
		rated := 0.0
		switch d := e.part().Detail.(type) {
		case *netlist.Lamp:
			rated = d.Amps
		case *netlist.Tube:
			if e.heater() && d.Type.Heater != nil {
				rated = d.Type.Heater.Amps
			}
		}
		for _, ch := range l.of(e) {
			if amps, _, ok := l.solution.Through(ch); ok && rated > 0 && e.class == passes && amps < glowShare*rated {
				return true
			}
		}
	}
	return false
}

// leadsAway tells whether a way to an earth carries current in the state.
func (l *look) leadsAway(r route) bool {
	for _, i := range r.edges {
		if len(l.of(l.s.edges[i])) == 0 {
			return false
		}
	}
	_, plug := l.s.k.Set.Plug()
	if len(r.nodes) > 0 && r.nodes[len(r.nodes)-1] == plug.Earth {
		return l.solution.ContactAmps() >= ownAmps/100
	}
	return false
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
