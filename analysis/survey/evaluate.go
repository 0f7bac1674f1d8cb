package survey

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// leastExplained is from where a state should have a path that explains it, under the first limit too:
// 0.05 mA AC.
const leastExplained = 0.01

// besideBy is how much worse a conducting rectifier must make a state to be told beside it.
const besideBy = 1.01

// drawnBy is how much worse it must make it, in the same class, for its paths to be drawn instead.
const drawnBy = 2.0

// Evaluation is one accessible part in one state: the worst of what the state can be, whichever rectifier
// conducts.
type Evaluation struct {
	analysis.Reading
	State       analysis.State
	Drawn       analysis.State   // whose paths are told: with no rectifier conducting where that is nearly as bad
	Blocking    analysis.Reading // with no rectifier conducting
	Cleared     bool
	Branches    []BranchState
	Levels      []Level  // by branch: how much of the hand's current it carries
	Blades      [2]Level // by blade: how much of it comes from there
	Paths       []PathState
	Shares      []float64   // by path: how much of the hand's current comes by it
	Earths      []bool      // by path to an earth: it carries current away
	Potentials  []Potential // by node of Target.Nodes
	ThroughCool bool        // brought through heaters or lamps that do not glow: it may be more
	Unexplained bool        // startles, and by no path that is kept

	ways   []way
	solved *solved
}

// Most is the worst current of the state, against ES2, whichever rectifier conducts.
func (e *Evaluation) Most() float64 { return e.Severity() }

// Beside reports whether the state is worse for the rectifier that conducts.
func (e *Evaluation) Beside() bool {
	const leastBeside = 0.02 // 0.1 mA AC
	return e.State.Rectifier != "" && e.Severity() >= leastBeside && worse(e.Reading, e.Blocking, besideBy)
}

// evaluate reads the engine's table: of each state the row with all rectifiers blocking, and the
// worst of those with one conducting where that is worse.
func (s *Survey) evaluate() {
	for n, faults := range s.FaultSets {
		positions := s.turned(n)
		if positions == nil {
			positions = s.Circuit.Rest()
		}
		s.evaluateRows(s.Circuit.JudgedAt(positions, faults...))
	}
}

// evaluateRows reads what is read in the states with one fault set, in the order of the states.
func (s *Survey) evaluateRows(rows []analysis.Row) {
	points, n := s.points(), len(s.evaluations)
	byState := make([][]Evaluation, len(s.States))
	i := -1
	for _, row := range rows {
		if row.State.Without { // solved once more, its failed parts left out: no state of the table
			continue
		}
		if len(row.State.Blown) > 0 { // likewise, but a fuse that opens may leave metal live
			for k, p := range points {
				byState[i][k].blow(row.Readings[p], row)
			}
			continue
		}
		if row.State.Rectifier == "" { // the first of each state, in the order of the states
			i++
			byState[i] = make([]Evaluation, len(points))
			for k, p := range points {
				byState[i][k] = Evaluation{Reading: row.Readings[p], State: row.State, Drawn: row.State, Blocking: row.Readings[p], Cleared: row.Cleared}
			}
			continue
		}
		for k, p := range points {
			byState[i][k].add(row.Readings[p], row.State)
		}
	}
	s.evaluations = append(s.evaluations, byState)
	s.carry(n)
}

// points are the indexes of the targets among the circuit's touch points.
func (s *Survey) points() []int {
	var points []int
	for _, t := range s.Targets {
		points = append(points, slices.IndexFunc(s.Circuit.Points, func(p analysis.TouchPoint) bool { return p.Name == t.Node }))
	}
	return points
}

// add takes a state with a rectifier conducting into account.
func (e *Evaluation) add(with analysis.Reading, state analysis.State) {
	if worse(with, e.Reading, 1) {
		e.Reading, e.State = with, state
		if worse(with, e.Blocking, drawnBy) {
			e.Drawn = state
		}
	}
}

// blow takes a state into account that a short of the line leaves once its fuses have opened: where
// something is to be felt then, that is what the state comes to.
func (e *Evaluation) blow(left analysis.Reading, row analysis.Row) {
	if row.Cleared || left.Class() == analysis.UnderLimit || !e.Cleared && left.Severity() <= e.Severity() {
		return
	}
	*e = Evaluation{Reading: left, State: row.State, Drawn: row.State, Blocking: left}
}

// worse reports whether a reading is of a worse class than another, or in the same class worse by a
// factor.
func worse(x, than analysis.Reading, by float64) bool {
	if x.Class() != than.Class() {
		return x.Class() > than.Class()
	}
	return x.Severity() > by*than.Severity()
}

// note gives the paths the number of a state in which they bring current: one over the first limit, one with
// nothing wrong, or one that a failure makes worse.
func (s *Survey) note(target int, p Place, e *Evaluation) {
	if e.Cleared || e.Severity() < leastExplained || e.Class() == analysis.UnderLimit && !s.Sound(p.Faults) {
		return
	}
	t := s.Targets[target]
	number := p.Faults*len(s.States) + p.State
	t.startling = append(t.startling, number)
	t.weight[number] = weightOf(e, s.FaultSets[p.Faults])
	for n, w := range e.ways {
		w.path.brings = append(w.path.brings, number)
		w.path.normal = w.path.normal || s.Sound(p.Faults)
		w.path.needed = w.path.needed || (n == 0 || w.share >= leastNeeded) && e.Class() > analysis.UnderLimit
	}
}

// weightOf is how much it matters that a state is explained: the worse and the likelier, the more.
func weightOf(e *Evaluation, faults Faults) float64 {
	weight := 1 + e.Severity()
	if e.Class() == analysis.Live {
		weight *= 10
	}
	for range faults.cost() + 1 {
		weight /= 10
	}
	return weight
}

// keep gives the evaluations of a target what they show of the paths and the branches that are kept.
func (s *Survey) keep(target int) {
	t := s.Targets[target]
	t.nodes()
	at := make([]int, len(t.Nodes))
	for i, name := range t.Nodes {
		at[i] = slices.IndexFunc(s.Circuit.Set.Nodes, func(n *netlist.Node) bool { return n.Name == name })
	}
	for _, byState := range s.evaluations {
		for _, evaluations := range byState {
			e := &evaluations[target]
			e.show(t)
			for _, i := range at {
				p := Low
				if i >= 0 {
					p = e.solved.potentials[i]
				}
				e.Potentials = append(e.Potentials, p)
			}
			e.ways, e.solved = nil, nil
		}
	}
}

// show fills in what paths and branches do.
func (e *Evaluation) show(t *Target) {
	carried, from := make([]float64, len(t.Branches)), [2]float64{}
	for _, p := range t.Paths {
		share := 0.0
		for _, w := range e.ways {
			if w.path == p {
				share = w.share
			}
		}
		for _, i := range p.Branches {
			carried[i] += share
		}
		e.Paths, e.Shares = append(e.Paths, t.pathState(p, e)), append(e.Shares, share)
		for k, blade := range t.Blades() {
			if p.From == blade {
				from[k] += share
			}
		}
	}
	for k, share := range from {
		e.Blades[k] = levelOf(share)
	}
	for i, b := range t.Branches {
		e.Branches, e.Levels = append(e.Branches, e.solved.stateOf(e.Drawn, b)), append(e.Levels, levelOf(carried[i]))
	}
	hot, _ := t.circuit.Blades(e.Drawn.Plug)
	e.Unexplained = !slices.Contains(e.Paths, Brings) && !e.Cleared && e.Class() > analysis.UnderLimit && t.Node != hot
}
