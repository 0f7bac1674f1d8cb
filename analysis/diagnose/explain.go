package diagnose

import (
	"cmp"
	"math"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// ExplanationKind is a way in which a set may be other than the file describes it.
type ExplanationKind string

// The kinds of explanation.
const (
	AsDescribed   ExplanationKind = "as-described"
	FaultsInSet   ExplanationKind = "faults"         // one fault, or two
	PlugReversed  ExplanationKind = "plug-turned"    // in the outlet the other way than noted, or the outlet wired so
	SwitchMoved   ExplanationKind = "switch-moved"   // in the other leg of the line
	EndsSwapped   ExplanationKind = "ends-swapped"   // two ends of a part exchanged
	ConnectionOff ExplanationKind = "connection-off" // an end of a part joined to nothing
	StatedAbsent  ExplanationKind = "stated-absent"  // a failure or a leakage that the file states is not there
	OtherValue    ExplanationKind = "other-value"    // a part of another value
	Leaks         ExplanationKind = "leaks"          // current passes insulation or a capacitor
	DriedOut      ExplanationKind = "dried-out"      // an electrolytic that has lost its capacitance
	WeakTube      ExplanationKind = "weak-tube"      // a tube that draws a third of its current
	WrongType     ExplanationKind = "wrong-type"     // a tube of another type on the same base
)

// weights say how much an explanation must fit better than a plainer one to come before it, in the unit of a
// distance. A figure that was fitted takes two such units off by itself (Akaike 1974), and one that was sought
// over six decades and fits to some per cent would be a coincidence besides; two things wrong at once are rarer
// than one.
var weights = map[ExplanationKind]float64{
	AsDescribed: 0, FaultsInSet: 1, PlugReversed: 1, StatedAbsent: 1,
	SwitchMoved: 2, ConnectionOff: 2, EndsSwapped: 2.5, OtherValue: 5, Leaks: 5, DriedOut: 1, WeakTube: 1, WrongType: 2,
}

// secondWeight is what each further thing wrong adds.
const secondWeight = 3

// Explanation is one way in which the set may be, with what the meter would show then.
type Explanation struct {
	Kind      ExplanationKind
	Part      string
	Faults    []*analysis.Fault // of FaultsInSet and, beside the plug, of PlugReversed
	Terminals []string          // of EndsSwapped two; of ConnectionOff one, or none where either end does the same
	Nodes     [2]string
	Value     float64 // of OtherValue in Unit, of Leaks in Ω: what fits best
	Unit      netlist.Unit
	Stated    float64 // the value that the file gives
	Type      string  // of WrongType, the type that is there, or one that reads alike

	// Predicted is what the meter would show at each measurement, Off how far it showed something
	// else, in bands: within one it is as predicted.
	Predicted, Off []float64
	// Score is the root mean square of Off: 1 is off by a whole band all through, 0 is exact.
	Score float64
	Fits  bool // no measurement is off by more than a band

	rank float64
}

// Dead reports whether it is a tube that passes nothing.
func (e *Explanation) Dead() bool { return e.Kind == WeakTube && e.Value == deadShare }

// weight is how much it must fit better than the set as described.
func (e *Explanation) weight() float64 {
	w := weights[e.Kind]
	if e.Kind == FaultsInSet {
		return w + secondWeight*float64(len(e.Faults)-1)
	}
	return w + secondWeight*float64(len(e.Faults))
}

// Account is what readings say of a set.
type Account struct {
	Circuit      *analysis.Circuit
	Measurements []Measurement
	Shown        []float64
	// Described is the set as the file has it.
	Described Explanation
	// Explanations are the other ways, best first, where the set as described does not fit: at most
	// keptExplanations.
	Explanations []Explanation
	// Leading counts the explanations at the front that fit as well as the first, so far as these
	// readings can tell.
	Leading int
	// Further is the measurement that would tell the leading ones apart best, nil for none.
	Further *Further
	// Cut tells that with tubes pulled and leads off not every further measurement was looked at.
	Cut bool
	// Proved are stated failures and leakages without which the readings would not fit.
	Proved []string
	// Unranked tells that the set is too large to try explanations on.
	Unranked bool
	// PairsLeft counts the pairs of faults that were left untried, for there were too many.
	PairsLeft int
}

// Further is one more measurement and what each of the leading explanations would show at it.
type Further struct {
	Measurement
	Predicted []float64
}

const (
	keptExplanations = 8
	// Of a set that plays more are worked out in time, and of the best the value is sought again, refitTimes apart:
	// a leakage as far as there are any, another value refitSpan up and down.
	refinedExplanations = 24
	refitSpan           = 30.0
	refitTimes          = 1.8
	leadingMost         = 5
	// explainParts bounds the sets that explanations are tried on, and parts' tolerances: the work
	// grows with the square of their number.
	explainParts = 600
	// pairsMost bounds the pairs of faults that are tried.
	pairsMost = 20000
	// betterShare: an explanation takes at least a fiftieth off the score of the set as described.
	betterShare = 0.98
	// apart: explanations whose distances differ by less cannot be told apart by the
	// readings (a likelihood ratio of e² is no evidence to lean on).
	apart = 4.0
)

// Agree reports whether every reading is as the set as described would have it.
func (a *Account) Agree() bool { return a.Described.Fits }

// Explain holds the readings of the set's file against the model. It is nil where there are none.
func Explain(c *analysis.Circuit) *Account {
	if len(c.Set.Readings) == 0 {
		return nil
	}
	var ms []Measurement
	var shown []float64
	for _, r := range c.Set.Readings {
		ms = append(ms, MeasurementOf(c, r))
		value := r.Value
		if r.Quantity == string(OhmsRead) {
			value = onScale(value)
		}
		shown = append(shown, value)
	}
	return ExplainTaken(c, ms, shown)
}

// ExplainTaken is Explain of what a meter showed at some measurements of the circuit, whether its file has them or not;
// ohms as an ohmmeter shows them, OhmsRange where it shows open.
func ExplainTaken(c *analysis.Circuit, ms []Measurement, shown []float64) *Account {
	x := newExplainer(c.Set, c.Bench, ms, playing(c.Circuit, ms))
	a := x.account(nil, shown)
	a.Circuit = c
	a.refine(x)
	if a.Agree() && !x.large {
		a.Proved = x.proved(shown)
	}
	if a.Agree() || a.Unranked {
		return a
	}
	a.Further = further(c, a)
	return a
}

// refine works out in time what fitted values and pairs of faults predict of a set that plays, and ranks again:
// while they were sought, what is drawn was only bounded.
func (a *Account) refine(x *explainer) {
	if !x.gauge.plays {
		return
	}
	which := x.all()
	for i := range a.Explanations {
		e := &a.Explanations[i]
		if p := a.inTime(x, e); p != nil {
			copy(e.Predicted, p.shows)
			x.score(e, p, which, a.Shown)
		}
	}
	ranked(a.Explanations)
	for i := range a.Explanations[:min(len(a.Explanations), keptExplanations)] {
		a.refit(x, &a.Explanations[i], which)
	}
	ranked(a.Explanations)
	a.Explanations = a.Explanations[:min(len(a.Explanations), keptExplanations)]
	a.Leading = leading(a.Explanations)
}

// kept is how many explanations are ranked to the end.
func (x *explainer) kept() int {
	if x.gauge.plays {
		return refinedExplanations
	}
	return keptExplanations
}

// refit finds the value of a fitted explanation that fits best in time, around the one that fitted what is only
// bounded.
func (a *Account) refit(x *explainer, e *Explanation, which []int) {
	if e.Kind != OtherValue && e.Kind != Leaks || e.Fits {
		return
	}
	best := *e
	try := *e
	least, most := e.Value/refitSpan, e.Value*refitSpan
	if e.Kind == Leaks {
		least, most = leakLeast, leakMost
	}
	for try.Value = least; try.Value <= most; try.Value *= refitTimes {
		p := a.inTime(x, &try)
		if p == nil {
			continue
		}
		try.Predicted, try.Off = p.shows, make([]float64, len(which))
		if x.score(&try, p, which, a.Shown); try.rank < best.rank {
			best = try
		}
	}
	*e = best
}

// inTime is what an explanation predicts of a set that plays, nil where that is known already.
func (a *Account) inTime(x *explainer, e *Explanation) *prediction {
	switch {
	case len(e.Faults) > 0:
		return x.gauge.predict(e.Faults, e.Kind == PlugReversed)
	case e.Kind != OtherValue && e.Kind != Leaks:
		return nil
	}
	return x.built(a.Circuit, e)
}

// built is what another value or a leakage predicts of a set that is built so, nil where there is none.
func (x *explainer) built(c *analysis.Circuit, e *Explanation) *prediction {
	were, _ := Were(c, e)
	if were == nil {
		return nil
	}
	g, err := x.gauge.variant(were.Set)
	if err != nil {
		return nil
	}
	p := g.predict(nil, false)
	for k, m := range g.ms {
		if m.without(e.Part) { // the variant's leakage is a part of its own
			p.shows[k], p.low[k], p.high[k] = x.described.shows[k], x.described.low[k], x.described.high[k]
		}
	}
	return p
}

// account ranks what would explain the figures shown at some of the measurements, nil for all.
func (x *explainer) account(which []int, shown []float64) *Account {
	if which == nil {
		which = x.all()
	}
	a := &Account{Shown: shown}
	for _, k := range which {
		a.Measurements = append(a.Measurements, x.gauge.ms[k])
	}
	a.Described = x.judged(Explanation{Kind: AsDescribed}, x.described, which, shown)
	if a.Described.Fits {
		return a
	}
	if a.Unranked = x.large; a.Unranked {
		return a
	}
	all := x.singles(which, shown)
	if !slices.ContainsFunc(all, func(e Explanation) bool { return e.Fits }) {
		var more []Explanation
		more, a.PairsLeft = x.pairs(which, shown)
		all = append(all, more...)
	}
	// What explains nothing is no explanation.
	all = slices.DeleteFunc(all, func(e Explanation) bool { return e.Score > betterShare*a.Described.Score })
	ranked(all)
	all = eachOnce(all)
	a.Leading = leading(all)
	a.Explanations = all[:min(len(all), x.kept())]
	return a
}

// singles are all explanations by one thing.
func (x *explainer) singles(which []int, shown []float64) []Explanation {
	var all []Explanation
	for _, g := range x.guesses() {
		all = append(all, x.judged(g.Explanation, g.prediction, which, shown))
	}
	for _, f := range x.figures {
		all = append(all, x.fitted(f, which, shown))
	}
	return all
}

func ranked(all []Explanation) {
	slices.SortStableFunc(all, func(a, b Explanation) int {
		if a.Fits != b.Fits { // a bad fit never comes before a good one, however frequent
			if a.Fits {
				return -1
			}
			return 1
		}
		return cmp.Compare(a.rank, b.rank)
	})
}

// eachOnce leaves out another value of a part of which a better one is told already.
func eachOnce(all []Explanation) []Explanation {
	type valued struct {
		part string
		unit netlist.Unit
	}
	told := map[valued]bool{}
	return slices.DeleteFunc(all, func(e Explanation) bool {
		if e.Kind != OtherValue {
			return false
		}
		key := valued{e.Part, e.Unit}
		again := told[key]
		told[key] = true
		return again
	})
}

// leading counts those at the front that the readings cannot tell from the first.
func leading(all []Explanation) int {
	n := 0
	for n < min(len(all), leadingMost) && all[n].rank-all[0].rank < apart && all[n].Fits == all[0].Fits {
		n++
	}
	return n
}

// proved lists the parts of which the file states a failure or a leakage that the readings bear
// out: with it they fit, and without it they do not.
func (x *explainer) proved(shown []float64) []string {
	which := x.all()
	var parts []string
	for _, p := range x.gauge.c.Set.Parts {
		for _, v := range sound(x.gauge.c.Set, p) {
			other, err := x.gauge.variant(v.set)
			if err == nil && !x.judged(v.Explanation, other.predict(nil, false), which, shown).Fits {
				parts = append(parts, v.Part)
			}
		}
	}
	return parts
}

// judged puts predictions beside what the meter showed.
func (x *explainer) judged(e Explanation, p *prediction, which []int, shown []float64) Explanation {
	e.Predicted, e.Off = make([]float64, len(which)), make([]float64, len(which))
	for i, k := range which {
		e.Predicted[i] = p.shows[k]
	}
	x.score(&e, p.at(which), which, shown)
	return e
}

// score holds an explanation against the figures shown; p has the measurements in their order.
func (x *explainer) score(e *Explanation, p *prediction, which []int, shown []float64) {
	sum := 0.0
	off, sizes := make([]float64, len(which)), make([]float64, len(which))
	e.Fits = true
	for i, k := range which {
		nearest := p.nearest(i, shown[i])
		off[i], sizes[i] = shown[i]-nearest, max(math.Abs(nearest), math.Abs(shown[i]))
		e.Off[i] = off[i] / x.band(k, nearest, shown[i])
		sum += e.Off[i] * e.Off[i]
		e.Fits = e.Fits && math.Abs(e.Off[i]) <= 1
	}
	if len(which) > 0 {
		e.Score = math.Sqrt(sum / float64(len(which)))
	}
	e.rank = x.distance(which, off, sizes) + e.weight() + rarity(x.gauge.c.Set, e)
}
