package diagnose

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/settest"
)

// noisy is what a meter shows of a figure: off by up to 3 %, evenly, and rounded to three digits.
func noisy(x float64, m Measurement, r *rand.Rand) float64 {
	if m.Quantity == OhmsRead && x >= OhmsRange {
		return x
	}
	x *= 1 + MeterShare*(2*r.Float64()-1)
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'e', 2, 64), 64)
	return x
}

// alikeAt reports whether two explanations predict the same at some measurements, to 1 % and the
// least that a meter can tell.
func alikeAt(x *explainer, which []int, a, b []float64) bool {
	for i, k := range which {
		least := voltsFloor
		switch x.gauge.ms[k].Quantity {
		case MilliampsRead:
			least = milliampsFloor
		case OhmsRead:
			least = ohmsFloor
		}
		if math.Abs(a[i]-b[i]) > least+0.01*math.Max(math.Abs(a[i]), math.Abs(b[i])) {
			return false
		}
	}
	return true
}

// chosen picks measurements one by one: each time the one that tells most pairs of single faults
// apart, the set as described among them, that are still alike; each pair by how often both come.
func chosen(x *explainer, n int) []int {
	var all [][]float64
	var weight []float64
	all, weight = append(all, x.described.shows), append(weight, mostFrequent)
	for _, g := range x.guesses() {
		if g.Kind == FaultsInSet {
			all, weight = append(all, g.shows), append(weight, often(x.gauge.c.Set, &g.Explanation))
		}
	}
	type pair struct{ i, j int }
	var open []pair
	for i := range all {
		for j := range i {
			open = append(open, pair{i, j})
		}
	}
	var picked []int
	for len(picked) < n {
		best, most := -1, -1.0
		apartAt := func(k int, p pair) bool {
			a, b := all[p.i][k], all[p.j][k]
			return math.Abs(a-b) > 1.5*x.band(k, a, b)
		}
		for k := range x.gauge.ms {
			if slices.Contains(picked, k) {
				continue
			}
			count := 0.0
			for _, p := range open {
				if apartAt(k, p) {
					count += weight[p.i] * weight[p.j]
				}
			}
			if count > most {
				best, most = k, count
			}
		}
		picked = append(picked, best)
		open = slices.DeleteFunc(open, func(p pair) bool { return apartAt(best, p) })
	}
	return picked
}

// tally weighs planted faults by how often they come.
type tally struct {
	faults, silent int     // planted, and of those that move no reading out of its band
	seen           float64 // the weight of the others
	first          float64 // the fault, or one of the same readings, comes first
	three          float64 // or among the first three
	named          float64 // the planted part itself comes first
	nameable       float64 // it is the most frequent of those that read the same, ties shared
}

// shares are per cent of what was seen.
func (x *tally) shares() (first, three, named float64) {
	return 100 * x.first / x.seen, 100 * x.three / x.seen, 100 * x.named / x.seen
}

// What is reached with six readings, in per cent: chosen ones, and random ones. What is missed reads alike
// within what sound parts may be off, and another thing that is more frequent comes before it; of random readings
// most see little of a fault, so that its own name is often not the one to come first.
var (
	wantedChosen = [3]float64{97, 99, 85}
	wantedRandom = [3]float64{95, 97, 66}
)

// What reads the same can only be told apart by how often it comes, so a share of planted parts can be named by no
// ranking at all. Of what can be, this is named with six readings, in per cent.
const wantedOfNameable = 95.0

// TestPlantedFaults plants every single fault of every example in turn, takes the readings that the
// model would give, off by up to 3 % and rounded to three digits, and looks where the ranking puts
// the fault. A fault that changes none of the readings is not counted as found.
func TestPlantedFaults(t *testing.T) {
	if testing.Short() {
		t.Skip("ranks some thousands of faults")
	}
	r := rand.New(rand.NewPCG(20, 26))
	counts, hows := []int{3, 6, 12}, []string{"chosen", "random"}
	table := map[string]*tally{}
	for _, n := range counts {
		for _, how := range hows {
			table[fmt.Sprint(n, how)] = &tally{}
		}
	}
	for _, example := range examples.Sets() {
		set := settest.Load(t, example.Text)
		if len(set.Readings) > 0 {
			continue // a variant of the others, with readings of its own
		}
		x := newExplainer(set, analysis.Bench{}, Measurable(analysistest.New(t, set, analysis.Bench{})), false)
		for _, n := range counts {
			well := chosen(x, n)
			for i, g := range x.guesses() {
				// All of them with six readings, which are held to the share; of the others a sample is told.
				if g.Kind == FaultsInSet && (n == 6 || i%sampled == 0) {
					count(table[fmt.Sprint(n, "chosen")], x, well, g, r)
					count(table[fmt.Sprint(n, "random")], x, r.Perm(len(x.gauge.ms))[:n], g, r)
				}
			}
		}
	}
	t.Log("readings           faults  change none  first   first three  by name  can be named")
	for _, n := range counts {
		for _, how := range hows {
			x := table[fmt.Sprint(n, how)]
			first, three, named := x.shares()
			t.Logf("%8d, %s  %6d  %11d  %4.1f %%  %4.1f %%      %4.1f %%   %4.1f %%", n, how, x.faults, x.silent, first, three, named, 100*x.nameable/x.seen)
		}
	}
	for how, wanted := range map[string][3]float64{"chosen": wantedChosen, "random": wantedRandom} {
		six := table["6"+how]
		first, three, named := six.shares()
		if of := 100 * six.named / six.nameable; of < wantedOfNameable {
			t.Errorf("with six %s readings %.1f %% of what can be named is", how, of)
		}
		if first < wanted[0] || three < wanted[1] || named < wanted[2] || six.faults < 500 || six.silent > six.faults*3/4 {
			t.Errorf("with six %s readings %.1f, %.1f and %.1f %% of %d faults (%d change no reading), want %v", how, first, three, named, six.faults, six.silent, wanted)
		}
	}
}

// sampled: one fault in so many is planted where the shares are only told.
const sampled = 16

func count(to *tally, x *explainer, which []int, g guess, r *rand.Rand) {
	to.faults++
	truth := make([]float64, len(which))
	shown := make([]float64, len(which))
	asTold := make([]float64, len(which))
	for i, k := range which {
		truth[i], asTold[i] = g.shows[k], x.described.shows[k]
		shown[i] = noisy(truth[i], x.gauge.ms[k], r)
	}
	if within(x, which, truth, asTold) {
		to.silent++
		return
	}
	weight := often(x.gauge.c.Set, &g.Explanation)
	to.seen += weight
	to.nameable += weight * nameable(x, which, &g.Explanation, truth)
	a := x.account(which, shown)
	for place, e := range a.Explanations {
		if slices.Equal(e.Faults, g.Faults) && e.Kind == FaultsInSet || alikeAt(x, which, truth, e.Predicted) {
			if place == 0 {
				to.first += weight
			}
			if place < 3 {
				to.three += weight
			}
			break
		}
	}
	if len(a.Explanations) > 0 && a.Explanations[0].Part == g.Part {
		to.named += weight
	}
}

// nameable is the chance that a ranking by frequency names a planted part of those that read the same: 0 where a
// more frequent one is among them.
func nameable(x *explainer, which []int, planted *Explanation, truth []float64) float64 {
	alike := map[string]float64{planted.Part: often(x.gauge.c.Set, planted)}
	for _, g := range x.guesses() {
		shows := make([]float64, len(which))
		for i, k := range which {
			shows[i] = g.shows[k]
		}
		if alikeAt(x, which, truth, shows) {
			alike[g.Part] = max(alike[g.Part], often(x.gauge.c.Set, &g.Explanation))
		}
	}
	ties := 0.0
	for _, how := range alike {
		switch {
		case how > alike[planted.Part]:
			return 0
		case how == alike[planted.Part]:
			ties++
		}
	}
	return 1 / ties
}

// within reports whether no figure is out of the band of the set as described.
func within(x *explainer, which []int, truth, asTold []float64) bool {
	for i, k := range which {
		if math.Abs(truth[i]-asTold[i]) > x.band(k, asTold[i], truth[i]) {
			return false
		}
	}
	return true
}

// TestSoundPartsAreNoAlarm: a set of sound parts, each somewhere within its tolerance, on mains
// within theirs, read by a meter that is off by up to 3 %, hardly ever reads as other than described.
func TestSoundPartsAreNoAlarm(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	off := func(share float64) float64 { return 1 + share*(2*r.Float64()-1) }
	readings, differ := 0, 0
	for _, example := range examples.Sets() {
		set := settest.Load(t, example.Text)
		ms := Measurable(analysistest.New(t, set, analysis.Bench{}))
		x := newExplainer(set, analysis.Bench{}, ms, false)
		for range 5 {
			sound := withParts(set, func(p *netlist.Part) *netlist.Part {
				now := *p
				switch d := p.Detail.(type) {
				case *netlist.Resistor:
					y := *d
					y.Measured = d.InUse() * off(d.Tolerance/100)
					if d.Measured > 0 {
						y.Measured = d.Measured * off(MeterShare)
					}
					now.Detail = &y
				case *netlist.Potentiometer:
					y := *d
					y.Ohms *= off(defaultTolerance)
					now.Detail = &y
				case *netlist.Coil:
					y := *d
					y.Ohms *= off(coilShare)
					now.Detail = &y
				case *netlist.Capacitor:
					y := *d
					y.Farads *= off(capacitorShare)
					now.Detail = &y
				default:
					return p
				}
				return &now
			}, "")
			sound.Volts *= off(MainsShare)
			g, err := newGauge(sound, analysis.Bench{}, ms, false)
			if err != nil {
				t.Fatal(err)
			}
			for k, shown := range g.predictIdle(nil, false) {
				shown = noisy(shown, ms[k], r)
				readings++
				if math.Abs(shown-x.described.shows[k]) > x.band(k, x.described.shows[k], shown) {
					differ++
				}
			}
		}
	}
	if share := float64(differ) / float64(readings); share > 0.01 || readings < 5000 {
		t.Errorf("%d of %d readings of sound sets differ, %.2f %%", differ, readings, 100*share)
	}
}
