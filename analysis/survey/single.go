package survey

import (
	"fmt"
	"slices"

	"coldcheck/analysis"
)

// A single state is asked for by a person who looks at it: every path that brings current in it is kept, up to
// pathsListed, and as many more are looked at until one of them does.
const mostCandidates = 400

// Single is the survey of one state with some failures, whatever they are and wherever the controls stand. nodes
// are its accessible parts, each by the node that is read; rows are what is read there: those of
// analysis.Circuit.JudgedIn with the state's position.
func Single(c *analysis.Circuit, state analysis.State, rows []analysis.Row, nodes []string) *Survey {
	faults := Faults(state.Faults)
	s := &Survey{Circuit: c, States: []analysis.State{state.WithFaults()}, FaultSets: []Faults{faults}, Targets: make([]*Target, len(nodes)),
		evaluations: [][][]Evaluation{{make([]Evaluation, len(nodes))}}}
	analysis.SideBySide(len(nodes), func(i int) { s.evaluations[0][0][i] = s.single(i, nodes[i], state, rows) })
	return s
}

// single evaluates one target, with ever more paths to it looked at until they tell where its current comes from.
func (s *Survey) single(i int, node string, state analysis.State, rows []analysis.Row) Evaluation {
	for most := candidatesPerState; ; most *= 4 {
		t := &Target{Node: node, circuit: s.Circuit, index: map[branchKey]int{}, weight: map[int]float64{}}
		t.findPaths(state, most)
		t.findEarths()
		e := readOf(s.Circuit, node, state, rows)
		channels := map[branchKey][]analysis.Channel{}
		for _, ch := range s.Circuit.Wiring(e.State).Channels {
			key := keyOf(s.Circuit.Set, ch)
			channels[key] = append(channels[key], ch)
		}
		newFlow(t, &e, s.Circuit.Solve(e.State), channels).fill(&e)
		paths, branches := t.chooseSingle(&e)
		e.Paths, e.Branches, e.Cool = picked(e.Paths, paths), picked(e.Branches, branches), picked(e.Cool, branches)
		for n, path := range t.Paths {
			if e.Paths[n] == Brings {
				e.mark(path)
			}
		}
		e.Unexplained = !slices.Contains(e.Paths, Brings) && !e.Cleared && e.Class() > analysis.UnderLimit
		t.Complete = !e.Unexplained
		s.Targets[i] = t
		if t.Complete || most >= mostCandidates {
			return e
		}
	}
}

// findPaths finds the paths from either blade, in the state and in the same with nothing failed: what holds them
// back there is drawn too.
func (t *Target) findPaths(state analysis.State, most int) {
	c, known := t.circuit, map[string]bool{}
	for _, plug := range [2]analysis.Polarity{state.Plug, state.Plug.Other()} {
		at := state
		at.Plug = plug
		lost := neutralLost(c)
		wirings := []*analysis.Wiring{c.Wiring(at.WithFaults(lost))}
		if len(state.Faults) > 0 {
			wirings = append(wirings, c.Wiring(at))
			if lost != nil && !slices.Contains(state.Faults, lost) {
				wirings = append(wirings, c.Wiring(at.WithFaults(append(slices.Clone(state.Faults), lost)...)))
			}
		}
		hot, _ := c.Blades(plug)
		for _, w := range wirings {
			for _, found := range w.Paths(hot, t.Node, most, analysis.Query{Avoid: w.Ends()}) {
				p := t.pathOf(found)
				if id := fmt.Sprint(p.From, p.Branches); !known[id] {
					known[id] = true
					t.Paths = append(t.Paths, p)
				}
			}
		}
	}
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
