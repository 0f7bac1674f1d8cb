package survey

import (
	"cmp"
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/trace"
	"coldcheck/netlist"
)

// Path is a path by which current can come, whatever the state in which it does: from a blade of the
// plug to an accessible part, or from that to an earth.
type Path struct {
	From     string
	Nodes    []string // From first
	Branches []int    // in Target.Branches
	Cost     int      // safeguards in it
	ohms     float64
	brings   []int // states of the survey, by number, in which it brings current to a hand
	normal   bool  // one of them with nothing wrong
	needed   bool  // it brings much of what is felt in a state over the first limit
	// Seldom is of a path that is kept for a few states alone: it is shown in those.
	Seldom bool
}

// To is where the path ends.
func (p *Path) To() string { return p.Nodes[len(p.Nodes)-1] }

// Target is one accessible part with the paths to it.
type Target struct {
	Node     string // its foremost
	Branches []*Branch
	Paths    []*Path
	Earths   []*Path  // from the part to an earth, through nothing that holds current back
	Nodes    []string // of the paths, those to an earth too
	Further  int      // paths that were found and do not matter
	// Complete reports whether the paths explain every state in which something startles.
	Complete bool

	circuit   *analysis.Circuit
	index     map[branchKey]int // in Branches, while paths are looked for
	byKey     map[string]*Path
	sound     map[branchKey]analysis.Channel // the channels with nothing wrong
	startling []int                          // states of the survey, by number, that need a path
	weight    map[int]float64                // of each of them: how bad it is there
}

// newTarget finds the paths to an accessible part in some states, with most positions of the controls
// looked at.
func newTarget(c *analysis.Circuit, node string, states []analysis.State, most int, sound map[branchKey]analysis.Channel) *Target {
	t := &Target{Node: node, circuit: c, sound: sound, index: map[branchKey]int{}, byKey: map[string]*Path{}, weight: map[int]float64{}}
	searched := map[analysis.Polarity]int{}
	for _, state := range states {
		if searched[state.Plug]++; searched[state.Plug] > most {
			continue
		}
		w := c.Wiring(state.WithFaults(neutralLost(c)))
		hot, _ := c.Blades(state.Plug)
		for _, found := range w.Paths(hot, node, candidatesPerState, analysis.Query{Avoid: w.Ends()}) {
			t.known(t.pathOf(found))
		}
	}
	t.findEarths()
	return t
}

func neutralLost(c *analysis.Circuit) *analysis.Fault {
	for _, f := range c.Faults {
		if f.Kind == analysis.NeutralLost {
			return f
		}
	}
	return nil
}

func (t *Target) pathOf(found analysis.Path) *Path {
	p := &Path{From: found.From, Nodes: []string{found.From}}
	for _, step := range found.Steps {
		p.Branches = append(p.Branches, t.branchOf(step))
		p.Nodes = append(p.Nodes, step.To)
	}
	return p
}

// known is a path among those of the target, to which it is added where it is new.
func (t *Target) known(p *Path) *Path {
	id := fmt.Sprint(p.From, p.Branches)
	if was := t.byKey[id]; was != nil {
		return was
	}
	for _, i := range p.Branches {
		p.Cost += t.Branches[i].Cost
		p.ohms += t.Branches[i].Ohms
	}
	t.byKey[id] = p
	t.Paths = append(t.Paths, p)
	return p
}

// nodes lists the nodes of the paths.
func (t *Target) nodes() {
	for _, p := range slices.Concat(t.Paths, t.Earths) {
		for _, n := range p.Nodes {
			if !slices.Contains(t.Nodes, n) {
				t.Nodes = append(t.Nodes, n)
			}
		}
	}
}

func (t *Target) branchOf(step analysis.Step) int {
	key := keyOf(t.circuit.Set, step.Channel)
	i, known := t.index[key]
	if !known {
		i = len(t.Branches)
		t.index[key] = i
		b := &Branch{Parts: []string{step.Part}, A: step.From, B: step.To, Class: classOf(t.circuit.Set, step.Channel), Piece: step.Piece, Cost: step.Cost, Ohms: step.Ohms, key: key}
		if ch, ok := t.sound[key]; ok { // a failed part still counts as what it was
			b.Class, b.Piece, b.Cost, b.Ohms, b.First = classOf(t.circuit.Set, ch), ch.Piece, ch.Cost, ch.Ohms, ch.A
		}
		b.Reservoir = b.Class == Capacitance && len(t.circuit.Sections) > 0 && trace.Reservoir(t.circuit.Set, step.Part)
		t.Branches = append(t.Branches, b)
	}
	if b := t.Branches[i]; !slices.Contains(b.Parts, step.Part) {
		b.Parts = append(b.Parts, step.Part)
	}
	return i
}

// findEarths finds how the part is tied to an earth.
func (t *Target) findEarths() {
	c := t.circuit
	_, plug := c.Set.Plug()
	earths := append([]string{plug.Earth, netlist.BuildingEarth}, c.Bench.Earthed...)
	known := map[string]bool{}
	for _, state := range c.NormalAtRest() {
		w := c.Wiring(state)
		hot, neutral := c.Blades(state.Plug)
		for _, earth := range earths {
			if earth == "" || known[earth] {
				continue
			}
			q := analysis.Query{Avoid: []string{hot, neutral}, Pass: func(ch analysis.Channel) bool { return !ch.Barrier() }}
			if p, ok := w.Shortest(t.Node, earth, q); ok {
				known[earth] = true
				t.Earths = append(t.Earths, t.pathOf(p))
			}
		}
	}
}

// Blades are the plug's two blades, as marked hot first.
func (t *Target) Blades() []string {
	hot, neutral := t.circuit.Blades(analysis.AsMarked)
	return []string{hot, neutral}
}

// compare puts the paths with fewest safeguards first, then those that let most through, then the
// shortest.
func compare(p, q *Path) int {
	return cmp.Or(cmp.Compare(p.Cost, q.Cost), cmp.Compare(p.ohms, q.ohms), cmp.Compare(len(p.Branches), len(q.Branches)))
}
