package survey

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/trace"
	"coldcheck/netlist"
)

// What counts as carrying current.
const (
	leastBrought = 0.002 // against ES2, of a hand's current that is drawn: 0.01 mA AC
	earthAmps    = 1e-5  // A in the earth contact, from which a path to it counts as carrying some away
	glowShare    = 0.5   // of its rated current, from which a heater or a lamp counts as hot
)

// BranchState is what a branch is in a state, whatever it carries.
type BranchState byte

// The states of a branch.
const (
	Whole BranchState = iota
	Open
	Broken // shorted, or its insulation failed
)

// PathState is what a path does in a state.
type PathState byte

// The states of a path.
const (
	PathOpen    PathState = iota
	HeldBack              // by a safeguard
	Idle                  // closed, and it brings nothing to the hand
	Brings                // it brings current to the hand
	LineShorted           // a breaker opens
)

// Level is how much of a hand's current a branch carries. The same current has the same level all along it.
type Level byte

// The levels.
const (
	NoCurrent Level = iota
	Little          // less than a tenth of the hand's current
	Some            // less than half of it
	Most
)

// levelOf is the level of a share of the hand's current.
func levelOf(share float64) Level {
	const some, most = 0.1, 0.5
	switch {
	case share <= 0:
		return NoCurrent
	case share < some:
		return Little
	case share < most:
		return Some
	}
	return Most
}

// Potential is what a node is against earth in a state, with no hand anywhere.
type Potential byte

// The potentials.
const (
	Low     Potential = iota // under 30 V AC and 60 V DC, or floating
	Hot                      // the line's whole voltage
	Neutral                  // joined to the line conductor that is not hot
	Earthed                  // joined to an earth
	Between                  // live, and not on the hot conductor
)

// What tells potentials apart: the limits of ES1 (IEC 62368-1, table 4), and what counts as the line's whole
// voltage.
const (
	lowVoltsAC = 30.0
	lowVoltsDC = 60.0
	hotShare   = 0.97
)

// solved is a state with all that the targets share of it.
type solved struct {
	solution   *analysis.Solution
	channels   []analysis.Channel        // what the tubes draw among them
	branches   map[branchKey]BranchState // of those that are not open
	potentials []Potential               // by node of the set
	joined     map[string]int            // by node of the set, the number of its group: those that conductors join
}

func (s *Survey) solve(state analysis.State) *solved {
	at := &solved{solution: s.Circuit.Solve(state), branches: map[branchKey]BranchState{}}
	at.channels = slices.Concat(s.Circuit.Wiring(state).Channels, s.Circuit.Draws(state))
	for _, ch := range at.channels {
		key := keyOf(s.Circuit.Set, ch)
		class := classOf(s.Circuit.Set, ch)
		if ch.Sort == analysis.Conductor && class != Passes || class == Passes && s.sound[key].Barrier() {
			at.branches[key] = Broken
		} else if _, known := at.branches[key]; !known {
			at.branches[key] = Whole
		}
	}
	at.judge(s.Circuit)
	return at
}

// judge tells every node's potential.
func (at *solved) judge(c *analysis.Circuit) {
	state := at.solution.State
	hot, other := c.Blades(state.Plug)
	_, plug := c.Set.Plug()
	at.joined = joinedBy(c.Set, at.channels)
	group := func(name string) int {
		if n, ok := at.joined[name]; ok {
			return n
		}
		return -1
	}
	whole := cmplx.Abs(at.solution.Volts(hot))
	earths := append([]string{plug.Earth, netlist.BuildingEarth}, c.Bench.Earthed...)
	for _, node := range c.Set.Nodes {
		g := group(node.Name)
		volts, direct := cmplx.Abs(at.solution.Volts(node.Name)), math.Abs(at.solution.VoltsDC(node.Name))
		p := Low
		switch {
		case g >= 0 && g == group(hot) && !lostSide(state, hot, other):
			p = Hot
		case g >= 0 && g == group(other) && !lostSide(state, other, other) && volts < lowVoltsAC:
			p = Neutral
		case slices.ContainsFunc(earths, func(e string) bool { return e != "" && g >= 0 && g == group(e) }) && volts < lowVoltsAC:
			p = Earthed
		case volts >= hotShare*whole && volts > lowVoltsAC:
			p = Hot
		case volts > lowVoltsAC || direct > lowVoltsDC:
			p = Between
		}
		at.potentials = append(at.potentials, p)
	}
}

// lostSide reports whether a blade's side of the supply is lost in a state; other is the blade that is not hot.
func lostSide(state analysis.State, blade, other string) bool {
	return slices.ContainsFunc(state.Faults, func(f *analysis.Fault) bool {
		return f.Kind == analysis.NeutralLost && (len(f.Between) == 0 && blade == other || slices.Contains(f.Between, blade))
	})
}

// joinedBy numbers the groups of nodes that conductors join.
func joinedBy(set *netlist.Set, channels []analysis.Channel) map[string]int {
	at := make(map[string]int, len(set.Nodes))
	parent := make([]int, len(set.Nodes))
	for i, n := range set.Nodes {
		at[n.Name], parent[i] = i, i
	}
	find := func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for _, ch := range channels {
		a, ok := at[ch.A]
		b, also := at[ch.B]
		if ch.Sort == analysis.Conductor && ok && also {
			parent[find(a)] = find(b)
		}
	}
	for name, i := range at {
		at[name] = find(i)
	}
	return at
}

// how tells apart the solutions that the targets of one state draw.
func (e *Evaluation) how() string { return fmt.Sprintf("%s %q", e.Drawn.Rectifier, e.Drawn.Blown) }

// worstOf is the target that reads worst in a state.
func worstOf(evaluations []Evaluation) int {
	worst := 0
	for i := range evaluations {
		if worse(evaluations[i].Reading, evaluations[worst].Reading, besideBy) {
			worst = i
		}
	}
	return worst
}

// carry works out by which paths a hand's current comes in the states of a fault set.
func (s *Survey) carry(faults int) {
	s.states = append(s.states, nil)
	for i, evaluations := range s.evaluations[faults] {
		known := map[string]*solved{}
		for k := range evaluations {
			e, t := &evaluations[k], s.Targets[k]
			how := e.how()
			if known[how] == nil {
				known[how] = s.solve(e.Drawn)
			}
			e.solved = known[how]
			hand := e.solved.solution.Touch(t.Node)
			if !e.Cleared && hand.Severity() >= leastBrought {
				e.ways = t.ways(e.Drawn, e.solved, hand)
			}
			for _, w := range e.ways {
				e.ThroughCool = e.ThroughCool || slices.ContainsFunc(w.path.Branches, func(b int) bool { return e.solved.cool(s.Circuit.Set, t.Branches[b]) })
			}
			for _, p := range t.Earths {
				e.Earths = append(e.Earths, t.leadsAway(p, e.solved))
			}
			s.note(k, Place{faults, i}, e)
		}
		if len(evaluations) > 0 {
			s.states[faults] = append(s.states[faults], known[evaluations[worstOf(evaluations)].how()])
		}
		for _, at := range known {
			at.solution, at.channels, at.joined = nil, nil, nil
		}
	}
}

// cool reports whether a branch is a heater or a lamp that does not glow in the state.
func (at *solved) cool(set *netlist.Set, b *Branch) bool {
	rated := 0.0
	switch d := set.Part(b.Parts[0]).Detail.(type) {
	case *netlist.Lamp:
		rated = d.Amps
	case *netlist.Tube:
		if d.Type.Heater != nil {
			rated = d.Type.Heater.Amps
		}
	}
	if rated == 0 || b.Class != Passes {
		return false // it does not glow, and looking costs time
	}
	for _, ch := range at.channels {
		if ch.Part != b.Parts[0] || keyOf(set, ch) != b.key {
			continue
		}
		if amps, direct, ok := at.solution.Through(ch); ok && amps+direct < glowShare*rated {
			return true
		}
	}
	return false
}

// leadsAway reports whether a path to an earth carries current in a state.
func (t *Target) leadsAway(p *Path, at *solved) bool {
	for _, i := range p.Branches {
		if _, closed := at.branches[t.Branches[i].key]; !closed {
			return false
		}
	}
	_, plug := t.circuit.Set.Plug()
	return p.To() == plug.Earth && at.solution.ContactAmps() >= earthAmps
}

// stateOf tells what a branch is in the state. What rectifies and does not conduct is not open for that.
func (at *solved) stateOf(drawn analysis.State, b *Branch) BranchState {
	state, closed := at.branches[b.key]
	gone := slices.ContainsFunc(drawn.Faults, func(f *analysis.Fault) bool {
		return f.Part == b.Parts[0] && (f.Kind == analysis.Pulled || f.Kind == analysis.Open)
	})
	if !closed && (b.Class != Rectifies || gone) {
		return Open
	}
	return state
}

// pathState tells what a path does in a state.
func (t *Target) pathState(p *Path, e *Evaluation) PathState {
	holds := false
	for _, i := range p.Branches {
		b := t.Branches[i]
		state := e.solved.stateOf(e.Drawn, b)
		if state == Open {
			return PathOpen
		}
		holds = holds || b.Safeguard() && state != Broken && !(b.Reservoir && trace.Conducts(e.Drawn))
	}
	switch {
	case e.Cleared:
		return LineShorted
	case slices.ContainsFunc(e.ways, func(w way) bool { return w.path == p }):
		return Brings
	case holds:
		return HeldBack
	}
	return Idle
}
