package survey

import (
	"math"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// What a path must bring to count as bringing it.
const (
	leastShare   = 0.1   // of what the path brings that brings the most
	leastBrought = 0.002 // against ES2: 0.01 mA AC
	ownAmps      = 1e-3  // A, the set's own current in a part, AC and DC added, from which it is marked
	earthAmps    = 1e-5  // A in the earth contact, from which a path to it counts as carrying some away
	glowShare    = 0.5   // of its rated current, from which a heater or a lamp counts as hot
)

// BranchState is what a branch does in a state.
type BranchState byte

// The states of a branch.
const (
	AtRest BranchState = iota
	Open
	OwnCurrent   // it carries the set's own current
	Broken       // shorted, or its insulation failed
	BranchBrings // it brings current to the hand
	BrokenBrings // it brings current to the hand for being broken
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

// flow is what one target's branches carry in one state, with a hand on the target.
type flow struct {
	t        *Target
	state    analysis.State
	solution *analysis.Solution
	hand     *analysis.Touch
	cleared  bool

	channels [][]analysis.Channel // by branch, none where it is open
	loads    [2][]float64         // by direction, then branch: what it brings, NaN where it was not asked for
}

func newFlow(t *Target, e *Evaluation, solution *analysis.Solution, channels map[branchKey][]analysis.Channel) *flow {
	n := len(t.Branches)
	f := &flow{t: t, state: e.State, solution: solution, hand: solution.Touch(t.Node), cleared: e.Cleared, channels: make([][]analysis.Channel, n)}
	for i, b := range t.Branches {
		f.channels[i] = channels[b.key]
	}
	for k := range f.loads {
		f.loads[k] = slices.Repeat([]float64{math.NaN()}, n)
	}
	return f
}

// fill fills in what branches and paths do in the state.
func (f *flow) fill(e *Evaluation) {
	startles := !f.cleared && f.hand.Severity() >= leastBrought
	each, most := f.brought()
	for n, p := range f.t.Paths {
		e.Paths = append(e.Paths, f.pathState(p, startles && counts(each[n], most)))
	}
	for i := range f.t.Branches {
		e.Branches = append(e.Branches, f.branchState(i))
		e.Cool = append(e.Cool, f.cool(i))
	}
	for _, p := range f.t.Earths {
		e.Earths = append(e.Earths, f.leadsAway(p))
	}
}

func conducts(channels []analysis.Channel) bool {
	return slices.ContainsFunc(channels, func(ch analysis.Channel) bool { return ch.Sort == analysis.Conductor })
}

// brought gives, for every path, what it brings to the hand, against ES2, and the most of any. A
// path that is open, or that begins at a blade that drives nothing, brings nothing; one of
// conductors alone brings without bound.
func (f *flow) brought() (each []float64, most float64) {
	each = make([]float64, len(f.t.Paths))
	hot, _ := f.t.circuit.Blades(f.state.Plug)
	for i, p := range f.t.Paths {
		if p.From == hot || f.t.circuit.Bench.Isolated {
			each[i] = f.broughtBy(p)
			most = max(most, each[i])
		}
	}
	return each, most
}

// broughtBy is what the branch of the path brings that brings the least.
func (f *flow) broughtBy(p *Path) float64 {
	least := math.Inf(1)
	for n, i := range p.Branches {
		switch {
		case len(f.channels[i]) == 0:
			return 0
		case !conducts(f.channels[i]):
			least = min(least, f.load(i, p.Nodes[n]))
		}
	}
	return least
}

// load is what a branch brings from one of its nodes. Many paths lead over one branch.
func (f *flow) load(i int, from string) float64 {
	direction := 0
	if from != f.t.Branches[i].A {
		direction = 1
	}
	known := &f.loads[direction][i]
	if math.IsNaN(*known) {
		*known = 0
		for _, ch := range f.channels[i] {
			x, _ := f.hand.Brought(ch, from)
			*known += x
		}
	}
	return *known
}

// counts reports whether what a path brings counts beside the most that any does.
func counts(path, most float64) bool {
	return path > 0 && (path >= leastShare*most || math.IsInf(path, 1))
}

func (f *flow) branchState(i int) BranchState {
	channels := f.channels[i]
	switch {
	case len(channels) == 0:
		return Open
	case conducts(channels) && f.t.Branches[i].Class != Passes:
		return Broken
	}
	own := 0.0
	for _, ch := range channels {
		if amps, direct, ok := f.solution.Through(ch); ok {
			own += amps + direct
		}
	}
	if own >= ownAmps && !f.cleared {
		return OwnCurrent
	}
	return AtRest
}

func (f *flow) pathState(p *Path, comes bool) PathState {
	holds := false
	for _, i := range p.Branches {
		if len(f.channels[i]) == 0 {
			return PathOpen
		}
		holds = holds || f.t.Branches[i].Safeguard() && !conducts(f.channels[i])
	}
	switch {
	case f.cleared:
		return LineShorted
	case comes:
		return Brings
	case holds:
		return HeldBack
	}
	return Idle
}

// cool reports whether a branch is a heater or a lamp that does not glow in the state.
func (f *flow) cool(i int) bool {
	b := f.t.Branches[i]
	if b.Class != Passes {
		return false
	}
	rated := 0.0
	switch d := f.t.circuit.Set.Part(b.Parts[0]).Detail.(type) {
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
	for _, ch := range f.channels[i] {
		if amps, direct, ok := f.solution.Through(ch); ok && amps+direct < glowShare*rated {
			return true
		}
	}
	return false
}

// leadsAway reports whether a path to an earth carries current in the state.
func (f *flow) leadsAway(p *Path) bool {
	for _, i := range p.Branches {
		if len(f.channels[i]) == 0 {
			return false
		}
	}
	_, plug := f.t.circuit.Set.Plug()
	return p.To() == plug.Earth && f.solution.ContactAmps() >= earthAmps
}
