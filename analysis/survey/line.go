package survey

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// HandNode is where all hands meet in the drawing of a whole set: the earth.
const HandNode = "\x00earth"

// Line is the line side of a set as one target: what the set draws from the line, and the paths to every
// accessible part, each with a hand to earth.
type Line struct {
	*Target
	hands []int // by target of the survey, the branch of its hand
	of    [][]linePath
}

// linePath is a path of a target, and the branches of the line that it is.
type linePath struct {
	path     int
	branches []int
}

// linesDrawn is how many ways that the set draws current from one side of the line to the other are drawn.
const linesDrawn = 3

// Line puts the targets together.
func (s *Survey) Line() *Line {
	l := &Line{Target: &Target{Node: HandNode, circuit: s.Circuit, index: map[branchKey]int{}, byKey: map[string]*Path{}, sound: soundChannels(s.Circuit)}}
	l.draw(s)
	for i, t := range s.Targets {
		l.of = append(l.of, nil)
		l.hands = append(l.hands, len(l.Branches))
		l.Branches = append(l.Branches, &Branch{Parts: []string{t.Node}, A: t.Node, B: HandNode, Class: Hand, key: branchKey{a: t.Node, b: HandNode, class: Hand}})
		for k, p := range t.Paths {
			if p.Seldom {
				continue
			}
			path := &Path{From: p.From, Nodes: append(slices.Clone(p.Nodes), HandNode)}
			for _, b := range p.Branches {
				path.Branches = append(path.Branches, l.take(t.Branches[b]))
			}
			l.of[i] = append(l.of[i], linePath{k, slices.Clone(path.Branches)})
			path.Branches = append(path.Branches, l.hands[i])
			l.known(path)
		}
	}
	l.nodes()
	return l
}

// draw adds the ways by which the set draws current from the line.
func (l *Line) draw(s *Survey) {
	state := s.States[0]
	hot, other := s.Circuit.Blades(state.Plug)
	pass := func(ch analysis.Channel) bool { return !ch.Barrier() }
	for _, found := range s.Circuit.Wiring(state).Paths(hot, other, linesDrawn, analysis.Query{Pass: pass}) {
		l.known(l.pathOf(found))
	}
}

// take is a branch of a target among those of the line.
func (l *Line) take(b *Branch) int {
	i, known := l.index[b.key]
	if !known {
		i = len(l.Branches)
		l.index[b.key] = i
		l.Branches = append(l.Branches, b)
	}
	return i
}

// At is what the line side does in a state, with a hand on the accessible part at which it is worst.
func (l *Line) At(s *Survey, p Place) *Evaluation {
	worst := worstOf(s.evaluations[p.Faults][p.State])
	of := s.At(p, worst)
	e := &Evaluation{Reading: of.Reading, State: of.State, Drawn: of.Drawn, Blocking: of.Blocking, Cleared: of.Cleared, Blades: of.Blades}
	carried := make([]float64, len(l.Branches))
	for _, path := range l.of[worst] {
		for _, b := range path.branches {
			carried[b] += of.Shares[path.path]
		}
		carried[l.hands[worst]] += of.Shares[path.path]
	}
	at := s.states[p.Faults][p.State]
	for i, b := range l.Branches {
		state := Whole
		if b.Class != Hand {
			state = at.stateOf(of.Drawn, b)
		}
		e.Branches, e.Levels = append(e.Branches, state), append(e.Levels, levelOf(carried[i]))
	}
	for _, name := range l.Nodes {
		potential := Low
		if i := slices.IndexFunc(s.Circuit.Set.Nodes, func(n *netlist.Node) bool { return n.Name == name }); i >= 0 {
			potential = at.potentials[i]
		} else if name == HandNode {
			potential = Earthed
		}
		e.Potentials = append(e.Potentials, potential)
	}
	return e
}

// Hands are the branches of the hands, by target of the survey.
func (l *Line) Hands() []int { return l.hands }
