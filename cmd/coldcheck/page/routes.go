package page

import (
	"cmp"
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
)

// The ways that are looked at and drawn.
const (
	candidatesPerState = 24 // ways from one blade to one piece of metal, in one switch position
	statesSearched     = 32 // switch positions in which ways are looked for, of a large set fewer
	fewestSearched     = 4
	searchWork         = 20_000 // switch positions times parts times pieces of metal
	routesDrawn        = 8      // ways drawn to one piece of metal
	routesListed       = 14     // ways listed, those among them that need no further part drawn
)

// route is one way from a blade to a piece of metal.
type route struct {
	blade  string
	nodes  []string // the blade first, the metal last
	edges  []int    // in scene.edges
	cost   int
	ohms   float64
	brings []int // the states of the table, by number, in which it brings current to a hand
	normal bool  // one of them with nothing wrong
}

// scene is one piece of metal with all that is drawn of it.
type scene struct {
	k       *rules.Case
	metal   *rules.Metal
	target  string
	edges   []*edge
	index   map[edgeKey]int // in edges, while ways are looked for
	routes  []*route
	felt    []int           // states of the table, by number, that need a way drawn
	weight  map[int]float64 // of each of them: how bad it is there
	earths  []route         // ways from the metal to an earth, through nothing that holds current back
	further int             // ways that were found and are not drawn
	whole   bool            // those drawn explain every state in which something is to be felt
}

// newScene finds the ways to a piece of metal.
func newScene(k *rules.Case, m *rules.Metal) *scene {
	s := &scene{k: k, metal: m, target: m.Node(), index: map[edgeKey]int{}, weight: map[int]float64{}}
	known, searched := map[string]bool{}, map[analysis.Polarity]int{}
	most := max(fewestSearched, min(statesSearched, searchWork/(len(k.Set.Parts)*len(k.Metals))))
	for _, state := range k.Circuit.Normal() {
		if searched[state.Plug]++; searched[state.Plug] > most {
			continue
		}
		w := k.Circuit.Wiring(state.WithFaults(s.neutralLost()))
		blade, _ := k.Circuit.Blades(state.Plug)
		for _, p := range w.Paths(blade, s.target, candidatesPerState, analysis.Query{Avoid: w.Ends()}) {
			r := s.routeOf(p)
			if id := fmt.Sprint(r.blade, r.edges); !known[id] {
				known[id] = true
				s.routes = append(s.routes, r)
			}
		}
	}
	s.findEarths()
	return s
}

func (s *scene) neutralLost() *analysis.Fault {
	for _, f := range s.k.Circuit.Faults {
		if f.Kind == analysis.NeutralLost {
			return f
		}
	}
	return nil
}

func (s *scene) routeOf(p analysis.Path) *route {
	r := &route{blade: p.From, nodes: []string{p.From}}
	for _, step := range p.Steps {
		r.edges = append(r.edges, s.edgeOf(step))
		r.nodes = append(r.nodes, step.To)
	}
	for _, i := range r.edges {
		r.cost += s.edges[i].cost
		r.ohms += s.edges[i].ohms
	}
	return r
}

func (s *scene) edgeOf(step analysis.Step) int {
	key := keyOf(s.k.Set, step.Channel)
	i, ok := s.index[key]
	if !ok {
		i = len(s.edges)
		s.index[key] = i
		s.edges = append(s.edges, &edge{parts: []string{step.Part}, a: step.From, b: step.To, class: key.class, piece: step.Piece,
			cost: step.Cost, ohms: step.Ohms, set: s.k.Set})
	}
	if e := s.edges[i]; !slices.Contains(e.parts, step.Part) {
		e.parts = append(e.parts, step.Part)
	}
	return i
}

// findEarths finds how the metal is tied to an earth.
func (s *scene) findEarths() {
	_, plug := s.k.Set.Plug()
	earths := []string{plug.Earth, netlist.BuildingEarth}
	earths = append(earths, s.k.Circuit.Bench.Earthed...)
	known := map[string]bool{}
	for _, state := range s.k.Circuit.Normal() {
		w := s.k.Circuit.Wiring(state)
		hot, neutral := s.k.Circuit.Blades(state.Plug)
		for _, earth := range earths {
			if earth == "" || known[earth] {
				continue
			}
			q := analysis.Query{Avoid: []string{hot, neutral}, Pass: func(ch analysis.Channel) bool { return !ch.Barrier() }}
			if p, ok := w.Shortest(s.target, earth, q); ok {
				known[earth] = true
				s.earths = append(s.earths, *s.routeOf(p))
			}
		}
	}
}

// rank puts the ways with fewest safeguards first, then those that let most through, then the
// shortest.
func rank(r, q *route) int {
	return cmp.Or(cmp.Compare(r.cost, q.cost), cmp.Compare(r.ohms, q.ohms), cmp.Compare(len(r.edges), len(q.edges)))
}

// choose keeps the ways that matter: from each blade the first in rank, then each that brings
// current in a state that those before it leave unexplained, then those without any safeguard that
// bring current with nothing wrong. It gives the numbers that the kept ways and their edges had.
func (s *scene) choose() (routes, edges []int) {
	was := slices.Clone(s.routes)
	slices.SortStableFunc(s.routes, rank)
	kept := map[*route]bool{}
	explained := map[int]bool{}
	keep := func(r *route) {
		kept[r] = true
		for _, state := range r.brings {
			explained[state] = true
		}
	}
	for _, blade := range s.blades() {
		if i := slices.IndexFunc(s.routes, func(r *route) bool { return r.blade == blade }); i >= 0 {
			keep(s.routes[i])
		}
	}
	unexplained := func(r *route) float64 {
		sum := 0.0
		for _, state := range r.brings {
			if !explained[state] {
				sum += s.weight[state]
			}
		}
		return sum
	}
	for rows := len(kept); rows < routesDrawn; rows++ {
		var next *route
		for _, r := range s.routes {
			if !kept[r] && unexplained(r) > 0 && (next == nil || unexplained(r) > unexplained(next)) {
				next = r
			}
		}
		if next == nil {
			break
		}
		keep(next)
	}
	for _, r := range s.routes {
		if len(kept) < routesDrawn && r.cost == 0 && r.normal {
			keep(r)
		}
	}
	// A way made of parts that are drawn anyway takes no room.
	drawnEdges := map[int]bool{}
	for r := range kept {
		for _, i := range r.edges {
			drawnEdges[i] = true
		}
	}
	for _, r := range s.routes {
		bare := !slices.ContainsFunc(r.edges, func(i int) bool { return !drawnEdges[i] })
		if len(kept) < routesListed && bare && unexplained(r) > 0 {
			keep(r)
		}
	}
	s.whole = !slices.ContainsFunc(s.felt, func(state int) bool { return !explained[state] })
	blades := s.blades()
	var drawn []*route
	for _, r := range s.routes {
		if kept[r] {
			drawn = append(drawn, r)
		}
	}
	slices.SortStableFunc(drawn, func(r, q *route) int {
		return cmp.Or(cmp.Compare(slices.Index(blades, r.blade), slices.Index(blades, q.blade)), rank(r, q))
	})
	s.routes = drawn
	s.further = len(was) - len(drawn)
	for _, r := range drawn {
		routes = append(routes, slices.Index(was, r))
	}
	return routes, s.dropUnused()
}

// blades are the plug's two blades, as marked hot first.
func (s *scene) blades() []string {
	hot, neutral := s.k.Circuit.Blades(analysis.AsMarked)
	return []string{hot, neutral}
}

// dropUnused forgets the edges of ways that are not drawn, and gives the numbers that the others
// had.
func (s *scene) dropUnused() (numbers []int) {
	var edges []*edge
	at := map[int]int{}
	renumber := func(list []int) {
		for k, i := range list {
			if _, ok := at[i]; !ok {
				at[i] = len(edges)
				edges = append(edges, s.edges[i])
				numbers = append(numbers, i)
			}
			list[k] = at[i]
		}
	}
	for _, r := range s.routes {
		renumber(r.edges)
	}
	for k := range s.earths {
		renumber(s.earths[k].edges)
	}
	s.edges = edges
	s.index = nil
	return numbers
}
