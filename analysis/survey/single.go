package survey

import (
	"fmt"
	"slices"
	"sync"

	"coldcheck/analysis"
)

// A single state is asked for by a person who looks at it: every path that brings current in it is kept, up to
// pathsListed, and as many more are looked at until one of them does.
const mostCandidates = 400

// Asker surveys single states of a circuit, and keeps what is alike in many of them. Many goroutines may use it.
type Asker struct {
	circuit *analysis.Circuit
	lock    sync.Mutex
	sound   map[soundKey][]analysis.Path
}

// soundKey is a search for paths with nothing failed.
type soundKey struct {
	node     string
	plug     analysis.Polarity
	position int
	most     int
}

// NewAsker keeps nothing yet.
func NewAsker(c *analysis.Circuit) *Asker {
	return &Asker{circuit: c, sound: map[soundKey][]analysis.Path{}}
}

// Single is the survey of one state with some failures, whatever they are and wherever the controls stand. nodes
// are its accessible parts, each by the node that is read; rows are what is read there: those of
// analysis.Circuit.JudgedIn with the state's position.
func (a *Asker) Single(state analysis.State, rows []analysis.Row, nodes []string) *Survey {
	s := &Survey{Circuit: a.circuit, States: []analysis.State{state.WithFaults()}, FaultSets: []Faults{state.Faults}, Targets: make([]*Target, len(nodes)),
		evaluations: [][][]Evaluation{{make([]Evaluation, len(nodes))}}}
	analysis.SideBySide(len(nodes), func(i int) { s.Targets[i], s.evaluations[0][0][i] = a.target(nodes[i], state, rows) })
	return s
}

// target evaluates one target, with ever more paths to it looked at until they tell where its current comes from.
func (a *Asker) target(node string, state analysis.State, rows []analysis.Row) (*Target, Evaluation) {
	for most := candidatesPerState; ; most *= 4 {
		t := &Target{Node: node, circuit: a.circuit, index: map[branchKey]int{}, weight: map[int]float64{}}
		a.findPaths(t, state, most)
		t.findEarths()
		e := readOf(a.circuit, node, state, rows)
		channels := map[branchKey][]analysis.Channel{}
		for _, ch := range a.circuit.Wiring(e.State).Channels {
			key := keyOf(a.circuit.Set, ch)
			channels[key] = append(channels[key], ch)
		}
		newFlow(t, &e, a.circuit.Solve(e.State), channels).fill(&e)
		paths, branches := t.chooseSingle(&e)
		e.Paths, e.Branches, e.Cool = picked(e.Paths, paths), picked(e.Branches, branches), picked(e.Cool, branches)
		for n, path := range t.Paths {
			if e.Paths[n] == Brings {
				e.mark(path)
			}
		}
		e.Unexplained = !slices.Contains(e.Paths, Brings) && !e.Cleared && e.Class() > analysis.UnderLimit
		t.Complete = !e.Unexplained
		if t.Complete || most >= mostCandidates {
			return t, e
		}
	}
}

// findPaths finds the paths that the state has, and from either blade those of the same with nothing failed: what
// holds current back there is drawn too.
func (a *Asker) findPaths(t *Target, state analysis.State, most int) {
	known := map[string]bool{}
	add := func(all []analysis.Path) {
		for _, found := range all {
			p := t.pathOf(found)
			if id := fmt.Sprint(p.From, p.Branches); !known[id] {
				known[id] = true
				t.Paths = append(t.Paths, p)
			}
		}
	}
	for _, plug := range [2]analysis.Polarity{state.Plug, state.Plug.Other()} {
		at := state
		at.Plug = plug
		// From the other blade current comes where neither is the neutral, or nothing ties either to earth.
		if len(state.Faults) > 0 && (plug == state.Plug || a.circuit.BothHot() || a.circuit.Floating()) {
			add(a.paths(at, state.Faults, t.Node, most))
		}
		add(a.soundPaths(at, t.Node, most))
	}
}

// soundPaths are the paths with nothing failed.
func (a *Asker) soundPaths(at analysis.State, node string, most int) []analysis.Path {
	key := soundKey{node, at.Plug, at.Position, most}
	a.lock.Lock()
	found, known := a.sound[key]
	a.lock.Unlock()
	if !known {
		found = a.paths(at, nil, node, most)
		a.lock.Lock()
		a.sound[key] = found
		a.lock.Unlock()
	}
	return found
}

// paths are those from the hot blade in a state. With the neutral lost none ends there: what is past it is found too.
func (a *Asker) paths(at analysis.State, faults []*analysis.Fault, node string, most int) []analysis.Path {
	if lost := neutralLost(a.circuit); lost != nil && !slices.ContainsFunc(faults, func(f *analysis.Fault) bool { return f.Kind == analysis.NeutralLost }) {
		faults = append(slices.Clone(faults), lost)
	}
	w := a.circuit.Wiring(at.WithFaults(faults...))
	hot, _ := a.circuit.Blades(at.Plug)
	return w.Paths(hot, node, most, analysis.Query{Avoid: w.Ends()})
}

// readOf is the worst that a state reads at a node, whichever rectifier conducts, and what a short of the line leaves.
func readOf(c *analysis.Circuit, node string, state analysis.State, rows []analysis.Row) (e Evaluation) {
	point := slices.IndexFunc(c.Points, func(p analysis.TouchPoint) bool { return p.Name == node })
	for _, row := range rows {
		with := row.Readings[point]
		switch {
		case row.State.Plug != state.Plug || row.State.Without:
		case len(row.State.Blown) > 0:
			e.blow(with, row)
		case row.State.Rectifier == "":
			e = Evaluation{Reading: with, State: row.State, Blocking: with, Cleared: row.Cleared}
		case row.Cleared && !e.Cleared: // it reads nothing once the breaker is open
		case with.Class() > e.Class() || with.Class() == e.Class() && with.Severity() > roundingShare*e.Severity():
			e.Reading, e.State, e.Conducting, e.Rectifier = with, row.State, with, row.State.Rectifier
		}
	}
	return e
}

// roundingShare is what equal figures may differ by for the rounding of the arithmetic.
const roundingShare = 1 + 1e-6

// chooseSingle keeps the paths that bring current, then from each blade those in which the least stands between.
func (t *Target) chooseSingle(e *Evaluation) (paths, branches []int) {
	was, does := slices.Clone(t.Paths), map[*Path]PathState{}
	for n, p := range t.Paths {
		does[p] = e.Paths[n]
	}
	slices.SortStableFunc(t.Paths, compare)
	c := &choice{t, map[*Path]bool{}, map[int]bool{}}
	for _, p := range t.Paths {
		if len(c.kept) < pathsListed && does[p] == Brings {
			c.kept[p] = true
		}
	}
	for _, blade := range t.Blades() {
		n := 0
		for _, p := range t.Paths {
			if p.From == blade && n < heldBackShown && len(c.kept) < pathsListed {
				c.kept[p] = true
				n++
			}
		}
	}
	t.Paths = c.ordered()
	t.Further = len(was) - len(t.Paths)
	for _, p := range t.Paths {
		paths = append(paths, slices.Index(was, p))
	}
	return paths, t.dropUnused()
}

// heldBackShown is how many paths from a blade are shown whatever they do.
const heldBackShown = 2
