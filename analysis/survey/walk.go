package survey

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// leastDifference is by how much a figure must change to count as a difference.
const leastDifference = 1.05

// StepKind is what a step of a walk does.
type StepKind int

// The steps, in the order of a walk.
const (
	PlugAsMarked StepKind = iota
	PlugReversed
	ControlMoved
	ControlTurned // a volume control or the like, away from rest
	NeutralLost
	EarthLost
	TubePulled
	PartOpen
	CapacitorShorted
	ResistorShorted
	InsulationFailed
	SeveralFailed
)

// Step is a state that a walk shows, and the one beside which it is put.
type Step struct {
	Kind       StepKind
	At, Before Place
	Control    int   // in Circuit.Switches, of a control that is moved
	OffIsLive  bool  // the control is off, and the part live for it
	Worse      bool  // of a failure: it makes a state worse
	Shorting   []int // of a sort of failure: the fault sets that short the line in a state in which it was not
}

// Walk shows what each thing that a person can do, and each sort of failure, does to a target, each
// in the state in which it does the most.
func (s *Survey) Walk(target int) []Step {
	w := &walk{Survey: s, target: target}
	reversed := Place{0, s.Positions()}
	w.steps = []Step{{Kind: PlugAsMarked}, {Kind: PlugReversed, At: reversed}}
	for i := range s.Circuit.Switches {
		w.moveControl(i)
	}
	w.turnControl()
	w.loseSupply(NeutralLost, analysis.NeutralLost)
	w.loseSupply(EarthLost, analysis.EarthLost)
	for _, kind := range failureKinds {
		w.fail(kind)
	}
	w.failSeveral()
	return w.steps
}

type walk struct {
	*Survey
	target int
	steps  []Step
}

func (w *walk) at(p Place) *Evaluation { return w.At(p, w.target) }

// Change is what one state is beside another.
type Change int

// The changes.
const (
	ShortsLine Change = iota
	NoDifference
	WorseClass
	BetterClass
	Higher // in the same class
	Lower
)

// Compare tells what a state is beside another.
func Compare(from, to *Evaluation) Change {
	switch {
	case to.Cleared:
		return ShortsLine
	case !differs(from, to):
		return NoDifference
	case to.Class() > from.Class():
		return WorseClass
	case to.Class() < from.Class():
		return BetterClass
	case to.Most() > from.Most():
		return Higher
	}
	return Lower
}

// differs reports whether two evaluations differ by enough to speak of: not where both are under
// the first limit.
func differs(a, b *Evaluation) bool {
	if a.Cleared != b.Cleared || a.Class() != b.Class() {
		return true
	}
	x, y := a.Most(), b.Most()
	return a.Class() > analysis.UnderLimit && max(x, y) > leastDifference*min(x, y)
}

// moveControl moves a control from where all stand first, in the plug polarity in which that does
// most.
func (w *walk) moveControl(control int) {
	n := w.Positions()
	best, from, found := Place{}, Place{}, false
	for position := range n {
		if !w.alone(position, control) {
			continue
		}
		for polarity := range 2 {
			p, q := Place{0, polarity*n + position}, Place{0, polarity * n}
			if !found || w.contrast(q, p) > w.contrast(from, best) {
				best, from, found = p, q, true
			}
		}
	}
	if !found {
		return
	}
	controls := w.Circuit.Switches
	off := w.States[best.State].At(controls[control].Name) == "off"
	w.steps = append(w.steps, Step{Kind: ControlMoved, At: best, Before: from, Control: control,
		OffIsLive: off && w.at(best).Class() == analysis.Live && (w.at(from).Class() < analysis.Live || len(controls) == 1)})
}

// turnControl turns the control that does most, where one does harm.
func (w *walk) turnControl() {
	var turned []int
	for n := w.FirstTurned(); n < len(w.FaultSets); n++ {
		turned = append(turned, n)
	}
	if len(turned) == 0 {
		return
	}
	if best, rise := w.worst(turned); rise > 0 {
		w.addFailure(Step{Kind: ControlTurned, At: best}, rise)
	}
}

// alone reports whether in a position of the controls only one has left its first.
func (w *walk) alone(position, control int) bool {
	for i, x := range w.States[position].Settings {
		first := w.Circuit.Switches[i].Positions[0]
		if (x.At != first) != (i == control) {
			return false
		}
	}
	return true
}

// classApart sets a difference of class above any of the current within one.
const classApart = 1e6

// contrast is how far two states are apart, worse counting before better.
func (w *walk) contrast(from, to Place) float64 {
	a, b := w.at(from), w.at(to)
	switch {
	case a.Cleared || b.Cleared:
		return 0
	case b.Most() >= a.Most():
		return classApart*float64(b.Class()-a.Class()) + b.Most() - a.Most()
	}
	return (a.Most() - b.Most()) * 1e-3
}

// rise is how much worse a fault set makes a state.
func (w *walk) rise(p Place) float64 {
	a, b := w.at(Place{0, p.State}), w.at(p)
	if a.Cleared || b.Cleared || !differs(a, b) || b.Most() < a.Most() {
		return 0
	}
	return classApart*float64(b.Class()-a.Class()) + b.Most() - a.Most()
}

// worst is the state in which one of some fault sets does the most harm. Where none does any, it is
// the first that does not short the line.
func (w *walk) worst(sets []int) (best Place, rise float64) {
	best = Place{sets[0], 0}
	for _, n := range sets {
		for i := range w.States {
			p := Place{n, i}
			if w.at(best).Cleared && !w.at(p).Cleared {
				best = p
			}
			if x := w.rise(p); x > leastDifference*rise {
				best, rise = p, x
			}
		}
	}
	return best, rise
}

// cheapest is worst among the failures of cost one or none, and among the others where those do no
// harm.
func (w *walk) cheapest(sets []int) (best Place, rise float64) {
	light := slices.DeleteFunc(slices.Clone(sets), func(n int) bool { return w.FaultSets[n][0].Cost > 1 })
	if len(light) > 0 {
		if best, rise = w.worst(light); rise > 0 {
			return best, rise
		}
	}
	return w.worst(sets)
}

// shorting are those of some fault sets that short the line in a state in which it was not.
func (w *walk) shorting(sets []int) []int {
	var shorting []int
	for _, n := range sets {
		for i := range w.States {
			if w.at(Place{n, i}).Cleared && !w.at(Place{0, i}).Cleared {
				shorting = append(shorting, n)
				break
			}
		}
	}
	return shorting
}

// singles lists the fault sets of one failure that fit.
func (w *walk) singles(fits func(*analysis.Fault) bool) []int {
	var list []int
	for n, faults := range w.FaultSets {
		if len(faults) == 1 && fits(faults[0]) {
			list = append(list, n)
		}
	}
	return list
}

// loseSupply takes away the neutral, or the earth contact.
func (w *walk) loseSupply(kind StepKind, fault analysis.FaultKind) {
	sets := w.singles(func(f *analysis.Fault) bool { return f.Kind == fault && f.Part == analysis.SupplyName })
	if len(sets) > 0 {
		best, rise := w.worst(sets)
		w.addFailure(Step{Kind: kind, At: best}, rise)
	}
}

func (w *walk) addFailure(s Step, rise float64) {
	s.Before, s.Worse = Place{0, s.At.State}, rise > 0
	w.steps = append(w.steps, s)
}

// failureKinds are the sorts of failure that a walk tries, each of a sort in turn.
var failureKinds = []failureKind{
	{TubePulled, func(_ *netlist.Set, f *analysis.Fault) bool { return f.Kind == analysis.Pulled }},
	{PartOpen, func(_ *netlist.Set, f *analysis.Fault) bool { return f.Kind == analysis.Open }},
	{CapacitorShorted, func(set *netlist.Set, f *analysis.Fault) bool { return shorts(set, f, Capacitance) }},
	{ResistorShorted, func(set *netlist.Set, f *analysis.Fault) bool { return shorts(set, f, Resistance) }},
	{InsulationFailed, func(_ *netlist.Set, f *analysis.Fault) bool {
		return f.Kind == analysis.InsulationOut || f.Kind == analysis.HeaterCathode
	}},
}

type failureKind struct {
	kind StepKind
	fits func(*netlist.Set, *analysis.Fault) bool
}

func shorts(set *netlist.Set, f *analysis.Fault, class Class) bool {
	return f.Kind == analysis.Shorted && ClassOfFault(set, f.Part, f.Kind) == class
}

func (w *walk) fail(kind failureKind) {
	sets := w.singles(func(f *analysis.Fault) bool { return kind.fits(w.Circuit.Set, f) })
	if len(sets) > 0 {
		best, rise := w.cheapest(sets)
		w.addFailure(Step{Kind: kind.kind, At: best, Shorting: w.shorting(sets)}, rise)
	}
}

// failSeveral shows the first fault set of more than one failure that makes the part live, where it
// does harm.
func (w *walk) failSeveral() {
	for _, set := range w.Result.Point(w.Targets[w.target].Node).FaultSets {
		faults := bare(set.Faults)
		if len(faults) < 2 {
			continue
		}
		n := slices.IndexFunc(w.FaultSets, func(f Faults) bool { return slices.Equal(f, faults) })
		if n < 0 {
			continue
		}
		if best, rise := w.worst([]int{n}); rise > 0 {
			w.addFailure(Step{Kind: SeveralFailed, At: best}, rise)
		}
		return
	}
}
