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
	hand     *analysis.Hand
	channels map[edgeKey][]analysis.Channel
	cleared  bool
}

// of gives the channels of an edge in the state, none where it is open.
func (l *look) of(e *edge) []analysis.Channel { return l.channels[e.key()] }

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
		channels := l.of(l.s.edges[i])
		if len(channels) == 0 {
			return 0
		}
		if conducts(channels) {
			continue
		}
		sum := 0.0
		for _, ch := range channels {
			x, _ := l.hand.Brought(ch, r.nodes[n])
			sum += x
		}
		least = min(least, sum)
	}
	return least
}

// brings tells whether what a way brings counts beside the most that any does.
func brings(way, most float64) bool { return way > 0 && (way >= shareDrawn*most || math.IsInf(way, 1)) }

// show fills in what the drawing may show of a state.
func (l *look) show(r *reading) {
	felt := !l.cleared && l.hand.Severity() >= leastDrawn
	each, most := l.bringing()
	for n, route := range l.s.routes {
		r.routes = append(r.routes, l.routeState(route, felt && brings(each[n], most)))
	}
	for _, e := range l.s.edges {
		r.edges = append(r.edges, l.edgeState(e))
		r.cool = append(r.cool, l.cool(e))
	}
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

func (l *look) routeState(r *route, comes bool) routeState {
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
	switch {
	case comes:
		return routeBrings
	case holds:
		return routeHolds
	}
	return routeIdle
}

// cool tells a heater or a lamp that does not glow in the state.
func (l *look) cool(e *edge) bool {
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
	for _, ch := range l.of(e) {
		if amps, direct, ok := l.solution.Through(ch); ok && amps+direct < glowShare*rated {
			return true
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
