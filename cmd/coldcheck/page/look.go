package page

import (
	"math"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// look is one scene in one state: the channels of its edges, and the hand.
type look struct {
	s        *scene
	state    analysis.State
	solution *analysis.Solution
	hand     *analysis.Touch
	channels map[edgeKey][]analysis.Channel
	cleared  bool

	at    [][]analysis.Channel // by edge: its channels, found once
	loads [2][]float64         // by direction, then edge: what it brings, NaN where it was not asked for
}

// find looks up the channels of every edge.
func (l *look) find() {
	n := len(l.s.edges)
	l.at = make([][]analysis.Channel, n)
	for i, e := range l.s.edges {
		l.at[i] = l.channels[e.key()]
	}
	for k := range l.loads {
		l.loads[k] = make([]float64, n)
		for i := range l.loads[k] {
			l.loads[k][i] = math.NaN()
		}
	}
}

// of gives the channels of an edge in the state, none where it is open.
func (l *look) of(i int) []analysis.Channel { return l.at[i] }

func conducts(channels []analysis.Channel) bool {
	return slices.ContainsFunc(channels, func(ch analysis.Channel) bool { return ch.Sort == analysis.Conductor })
}

// bringing gives, for every way, what it brings to the hand, against ES2, and the most of any. A way
// that is open, or that begins at a blade that drives nothing, brings nothing; one of conductors
// alone brings without bound.
func (l *look) bringing() (each []float64, most float64) {
	each = make([]float64, len(l.s.routes))
	hot, _ := l.s.k.Circuit.Blades(l.state.Plug)
	for i, r := range l.s.routes {
		if r.blade == hot || l.s.k.Circuit.Bench.Isolated {
			each[i] = l.brought(r)
			most = max(most, each[i])
		}
	}
	return each, most
}

func (l *look) brought(r *route) float64 {
	least := math.Inf(1)
	for n, i := range r.edges {
		channels := l.of(i)
		if len(channels) == 0 {
			return 0
		}
		if conducts(channels) {
			continue
		}
		least = min(least, l.load(i, r.nodes[n]))
	}
	return least
}

// load is what an edge brings from one of its nodes. Many ways lead over one edge.
func (l *look) load(i int, from string) float64 {
	direction := 0
	if from != l.s.edges[i].a {
		direction = 1
	}
	known := &l.loads[direction][i]
	if math.IsNaN(*known) {
		*known = 0
		for _, ch := range l.of(i) {
			x, _ := l.hand.Brought(ch, from)
			*known += x
		}
	}
	return *known
}

// brings tells whether what a way brings counts beside the most that any does.
func brings(way, most float64) bool { return way > 0 && (way >= shareDrawn*most || math.IsInf(way, 1)) }

// show fills in what the drawing may show of a state.
func (l *look) show(r *reading) {
	l.find()
	felt := !l.cleared && l.hand.Severity() >= leastDrawn
	each, most := l.bringing()
	for n, route := range l.s.routes {
		r.routes = append(r.routes, l.routeState(route, felt && brings(each[n], most)))
	}
	for i := range l.s.edges {
		r.edges = append(r.edges, l.edgeState(i))
		r.cool = append(r.cool, l.cool(i))
	}
	for _, earth := range l.s.earths {
		r.earths = append(r.earths, l.leadsAway(earth))
	}
}

func (l *look) edgeState(i int) edgeState {
	e, channels := l.s.edges[i], l.of(i)
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

func (l *look) routeState(r *route, comes bool) routeState {
	holds := false
	for _, i := range r.edges {
		channels := l.of(i)
		if len(channels) == 0 {
			return routeOpen
		}
		holds = holds || l.s.edges[i].barrier() && !conducts(channels)
	}
	if l.cleared {
		return routeCleared
	}
	switch {
	case comes:
		return routeBrings
	case holds:
		return routeHolds
	}
	return routeIdle
}

// cool tells a heater or a lamp that does not glow in the state.
func (l *look) cool(i int) bool {
	e := l.s.edges[i]
	if e.class != passes {
		return false
	}
	rated := 0.0
	switch d := e.part().Detail.(type) {
	case *netlist.Lamp:
		rated = d.Amps
	case *netlist.Tube:
		if d.Type.Heater != nil {
			rated = d.Type.Heater.Amps
		}
	}
	if rated == 0 {
		return false // it does not glow, and looking costs time
	}
	for _, ch := range l.of(i) {
		if amps, direct, ok := l.solution.Through(ch); ok && amps+direct < glowShare*rated {
			return true
		}
	}
	return false
}

// leadsAway tells whether a way to an earth carries current in the state.
func (l *look) leadsAway(r route) bool {
	for _, i := range r.edges {
		if len(l.of(i)) == 0 {
			return false
		}
	}
	_, plug := l.s.k.Set.Plug()
	if len(r.nodes) > 0 && r.nodes[len(r.nodes)-1] == plug.Earth {
		return l.solution.ContactAmps() >= ownAmps/100
	}
	return false
}
