package diagnose

import (
	"math"
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/budget"
	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/parallel"
	"coldcheck/netlist"
)

// explainer knows, for one set and a list of measurements, what every explanation by one thing
// predicts.
type explainer struct {
	gauge     *gauge
	described *prediction
	idle      []float64 // of the described set with nothing drawn by the tubes
	parts     []toleranced
	moved     []*movedBy // by measurement: how the parts' tolerances move it, worked out when it is asked for
	floors    []float64
	figures   []figure
	guessed   []guess
	large     bool // over explainParts or budget.Predictions: nothing is guessed
}

// guess is an explanation without a figure, with what it predicts.
type guess struct {
	Explanation
	*prediction
}

// newExplainer makes the gauge, and the ports of all that may have another value or leak. Plays says that
// readings of a set that plays are held against the set while it plays.
func newExplainer(set *netlist.Set, bench analysis.Bench, ms []Measurement, plays bool) *explainer {
	g, err := newGauge(set, bench, ms, plays)
	if err != nil {
		return nil // the bench was good for the circuit that asks
	}
	x := &explainer{gauge: g, large: len(set.Parts) > explainParts || g.predictions() > budget.Predictions}
	if !x.large {
		x.figures = x.allFigures()
		x.parts = x.tolerances()
	}
	x.idle = g.predictIdle(nil, false)
	x.described = g.predict(nil, false)
	x.moved, x.floors = make([]*movedBy, len(ms)), make([]float64, len(ms))
	for k := range ms {
		x.floors[k] = ms[k].floor(g.sourceOhms(k), g.c)
	}
	return x
}

// predictions is how many figures the guesses of a gauge predict. Where a state is solved afresh, it
// counts as one for every four unknowns.
func (g *gauge) predictions() budget.Count {
	perState := 10 + g.n.Unknowns()/4
	return budget.Count((len(g.ms) + perState*len(g.groups)) * (len(g.c.Faults) + len(g.c.Set.Parts)))
}

// unknownShare is the share of a figure that tolerances may make where the described set reads
// nothing, so that there is nothing to take it from, and in a large set.
const unknownShare = 0.10

// mostShare bounds it.
const mostShare = 0.5

// movedBy is how far each of the parts' tolerances, taken as independent, and the mains move what is read at a
// measurement, as a part of it.
func (x *explainer) movedBy(k int) *movedBy {
	if x.moved[k] == nil {
		x.moved[k] = x.move(k)
	}
	return x.moved[k]
}

func (x *explainer) move(k int) *movedBy {
	size := math.Abs(x.idle[k])
	if x.large || size <= x.floors[k] || size >= OhmsRange {
		return newMovedBy(nil, unknownShare)
	}
	together, which, into := make([]float64, len(x.parts)+1), []int{k}, make([]float64, 1)
	for i, t := range x.parts {
		x.gauge.predictShunted(which, t.part, t.add, into)
		together[i] = (into[0] - x.idle[k]) / size
	}
	if x.gauge.ms[k].Quantity != OhmsRead {
		together[len(x.parts)] = MainsShare
	}
	return newMovedBy(together, 0)
}

// band is how far a figure may be from what is predicted and still be as predicted, in the unit of
// the measurement: the meter, the parts' tolerances, the mains.
func (x *explainer) band(k int, predicted, shown float64) float64 {
	return x.floors[k] + (MeterShare+x.movedBy(k).share)*math.Max(math.Abs(predicted), math.Abs(shown))
}

// guesses gives, but for a large set, every explanation without a figure by one thing: faults in the order of the file,
// the plug, then the wiring.
func (x *explainer) guesses() []guess {
	if x.guessed != nil || x.large {
		return x.guessed
	}
	g := x.gauge
	var all []asked
	for _, f := range g.c.Faults {
		faults := []*analysis.Fault{f}
		all = append(all, asked{Explanation{Kind: FaultsInSet, Part: f.Part, Faults: faults}, g, faults, false, g.predictIdle(faults, false)})
	}
	all = append(all, asked{Explanation{Kind: PlugReversed}, g, nil, true, g.predictIdle(nil, true)})
	for _, v := range slices.Concat(variants(g.c.Set), g.worn()) {
		other, err := g.variant(v.set)
		if err != nil {
			continue
		}
		all = append(all, asked{v.Explanation, other, nil, false, other.predictIdle(nil, false)})
		other.rest() // the gauges of all variants are kept until they have played
	}
	x.guessed = make([]guess, len(all))
	parallel.Each(len(all), func(i int) {
		q := all[i]
		x.guessed[i] = guess{q.Explanation, q.by.inTime(q.idle, q.faults, q.reversed)}
	})
	return x.guessed
}

// all are the measurements by their indices.
func (x *explainer) all() []int {
	which := make([]int, len(x.gauge.ms))
	for k := range which {
		which[k] = k
	}
	return which
}

// asked is a guess with what its set shows with nothing drawn.
type asked struct {
	Explanation
	by       *gauge
	faults   []*analysis.Fault
	reversed bool
	idle     []float64
}

// pairs are explanations by two faults, or by one and the plug turned. Where there are too many,
// only faults that alone change what is read are paired, and left counts the rest.
func (x *explainer) pairs(which []int, shown []float64) (all []Explanation, left int) {
	g := x.gauge
	faults := g.c.Faults
	full := len(faults) * (len(faults) - 1) / 2
	if full > pairsMost {
		faults = x.telling(which)
		left = full - len(faults)*(len(faults)-1)/2
	}
	add := func(e Explanation, turned bool) {
		e = x.judged(e, x.loosely(x.all(), g.predictIdle(e.Faults, turned)), which, shown)
		all = append(all, e)
	}
	for i, f := range faults {
		add(Explanation{Kind: PlugReversed, Part: f.Part, Faults: []*analysis.Fault{f}}, true)
		for _, h := range faults[i+1:] {
			if !circuit.Contradictory(f, h) {
				add(Explanation{Kind: FaultsInSet, Part: f.Part, Faults: []*analysis.Fault{f, h}}, false)
			}
		}
		if len(all) > 4*keptExplanations {
			ranked(all)
			all = all[:2*keptExplanations]
		}
	}
	return all, left
}

// telling are the faults that alone change some of the readings by more than a band.
func (x *explainer) telling(which []int) []*analysis.Fault {
	var telling []*analysis.Fault
	for _, g := range x.guesses() {
		if g.Kind != FaultsInSet {
			continue
		}
		for _, k := range which {
			if math.Abs(g.shows[k]-x.described.shows[k]) > x.band(k, g.shows[k], x.described.shows[k]) {
				telling = append(telling, g.Faults[0])
				break
			}
		}
	}
	most := int(math.Sqrt(2 * pairsMost))
	return telling[:min(len(telling), most)]
}
