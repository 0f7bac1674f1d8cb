package survey

import (
	"fmt"
	"slices"

	"coldcheck/analysis"
)

// What a state must be to count.
const (
	// leastExplained is from where a state must have a path that explains it: 0.05 mA AC.
	leastExplained = 0.01
	// worseBy is how much worse a conducting rectifier must make a state to be shown instead, in the
	// same class; from besideBy it is told beside.
	worseBy  = 2.0
	besideBy = 1.01
	// leastBeside is how much a state must be for that: 0.1 mA AC.
	leastBeside = 0.02
)

// Evaluation is one accessible part in one state.
type Evaluation struct {
	analysis.Reading
	State    analysis.State
	Blocking analysis.Reading // with no rectifier conducting
	// Conducting is the worst with one conducting, where that is worse; Rectifier is which, else "".
	Conducting  analysis.Reading
	Rectifier   string
	Cleared     bool
	Branches    []BranchState
	Cool        []bool // by branch: a heater or a lamp that does not glow
	Paths       []PathState
	Earths      []bool // by path to an earth: it carries current away
	ThroughCool bool   // brought through heaters or lamps that do not glow: it may be more
	Unexplained bool   // startles, and by no path that is kept
}

// Most is the worst current of the state, against ES2, whichever rectifier conducts.
func (e *Evaluation) Most() float64 { return max(e.Severity(), e.Conducting.Severity()) }

// evaluate reads the engine's table: of each state the row with all rectifiers blocking, and the
// worst of those with one conducting where that is worse.
func (s *Survey) evaluate() {
	points := s.points()
	for n, faults := range s.FaultSets {
		byState := make([][]Evaluation, len(s.States))
		i := -1
		for _, row := range s.Circuit.JudgedAtRest(faults...) {
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
					byState[i][k] = Evaluation{Reading: row.Readings[p], State: row.State, Blocking: row.Readings[p], Cleared: row.Cleared}
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
	if worse(with, e.Blocking, besideBy) && (e.Rectifier == "" || worse(with, e.Conducting, besideBy)) {
		e.Conducting, e.Rectifier = with, state.Rectifier
	}
	if e.Rectifier == state.Rectifier && worse(with, e.Blocking, worseBy) {
		e.Reading, e.State = with, state
	}
}

// blow takes a state into account that a short of the line leaves once its fuses have opened: where
// something is to be felt then, that is what the state comes to.
func (e *Evaluation) blow(left analysis.Reading, row analysis.Row) {
	if row.Cleared || left.Class() == analysis.UnderLimit || !e.Cleared && left.Severity() <= e.Severity() {
		return
	}
	*e = Evaluation{Reading: left, State: row.State, Blocking: left}
}

// worse reports whether a reading is of a worse class than another, or in the same class worse by a
// factor.
func worse(x, than analysis.Reading, by float64) bool {
	if x.Class() != than.Class() {
		return x.Class() > than.Class()
	}
	return x.Severity() >= leastBeside && x.Severity() > by*than.Severity()
}

// carry works out which paths bring current to a hand in the states of a fault set, and what else
// every branch does.
func (s *Survey) carry(faults int) {
	type solved struct {
		solution *analysis.Solution
		channels map[branchKey][]analysis.Channel
	}
	for i, evaluations := range s.evaluations[faults] {
		known := map[string]*solved{}
		for k := range evaluations {
			e := &evaluations[k]
			how := fmt.Sprintf("%s %q", e.State.Rectifier, e.State.Blown)
			at := known[how]
			if at == nil {
				at = &solved{s.Circuit.Solve(e.State), map[branchKey][]analysis.Channel{}}
				for _, ch := range s.Circuit.Wiring(e.State).Channels {
					key := keyOf(s.Circuit.Set, ch)
					at.channels[key] = append(at.channels[key], ch)
				}
				known[how] = at
			}
			newFlow(s.Targets[k], e, at.solution, at.channels).fill(e)
			s.note(k, Place{faults, i}, e)
		}
	}
}

// note gives the paths the number of a state in which they bring current: one with nothing wrong,
// one that a failure makes worse, or one in which it takes another path, through a rectifier.
func (s *Survey) note(target int, p Place, e *Evaluation) {
	sound := s.At(Place{0, p.State}, target)
	other := e.Class() == analysis.Live && e.State.Rectifier != sound.State.Rectifier
	if e.Cleared || e.Severity() < leastExplained || p.Faults > 0 && e.Class() <= sound.Class() && !other {
		return
	}
	t := s.Targets[target]
	number := p.Faults*len(s.States) + p.State
	t.startling = append(t.startling, number)
	t.weight[number] = weightOf(e, s.FaultSets[p.Faults])
	for n, path := range t.Paths {
		if e.Paths[n] == Brings {
			path.brings = append(path.brings, number)
			path.normal = path.normal || p.Faults == 0
		}
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

// keep drops from the evaluations of a target what is not kept of it. paths and branches are, for
// each that is, its number before.
func (s *Survey) keep(target int, paths, branches []int) {
	for _, byState := range s.evaluations {
		for _, evaluations := range byState {
			e := &evaluations[target]
			e.Paths, e.Branches, e.Cool = picked(e.Paths, paths), picked(e.Branches, branches), picked(e.Cool, branches)
			e.Unexplained = !slices.Contains(e.Paths, Brings) && !e.Cleared && e.Class() > analysis.UnderLimit
			for n, path := range s.Targets[target].Paths {
				if e.Paths[n] == Brings {
					e.mark(path)
				}
			}
		}
	}
}

// mark marks the branches of a path that brings current.
func (e *Evaluation) mark(p *Path) {
	for _, i := range p.Branches {
		e.ThroughCool = e.ThroughCool || e.Cool[i]
		switch e.Branches[i] {
		case Broken, BrokenBrings:
			e.Branches[i] = BrokenBrings
		default:
			e.Branches[i] = BranchBrings
		}
	}
}

func picked[T any](list []T, numbers []int) []T {
	out := make([]T, len(numbers))
	for i, n := range numbers {
		out[i] = list[n]
	}
	return out
}
