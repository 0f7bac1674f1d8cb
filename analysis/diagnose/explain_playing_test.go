package diagnose

import (
	"math/rand/v2"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/settest"
)

// asPlayed puts into a set's readings what a meter shows of some working lines of another one, off by up to
// 3 % and rounded to three digits.
func asPlayed(t *testing.T, set, other *netlist.Set, lines []WorkingLine, r *rand.Rand) {
	t.Helper()
	g, err := newGauge(other, analysis.Bench{}, measurementsOf(lines), true)
	if err != nil {
		t.Fatal(err)
	}
	p := g.predict(nil, false)
	set.Readings = nil
	for k, l := range lines {
		reading := netlist.Reading{At: [2]string{l.A, l.B}, Quantity: string(l.Quantity), Plug: string(l.Plug), Meter: l.MeterOhms,
			Value: noisy(p.shows[k], l.Measurement, r), Switches: map[string]string{}}
		for _, x := range l.Settings {
			reading.Switches[x.Name] = x.At
		}
		set.Readings = append(set.Readings, reading)
	}
}

func measurementsOf(lines []WorkingLine) []Measurement {
	var ms []Measurement
	for _, l := range lines {
		ms = append(ms, l.Measurement)
	}
	return ms
}

// drawing is a set whose tubes each draw so many times as much as usual.
func drawing(set *netlist.Set, times func() float64) *netlist.Set {
	return withParts(set, func(p *netlist.Part) *netlist.Part {
		d, ok := p.Detail.(*netlist.Tube)
		if !ok {
			return p
		}
		now, x, kind, by := *p, *d, *d.Type, times()
		kind.Working = nil
		for _, w := range d.Type.Working {
			w.PlateAmps, w.ScreenAmps = w.PlateAmps*by, w.ScreenAmps*by
			kind.Working = append(kind.Working, w)
		}
		x.Type = &kind
		now.Detail = &x
		return &now
	}, "")
}

// playingExamples calls a test with each example that plays and has no readings of its own, and the lines of
// its first position.
func playingExamples(t *testing.T, visit func(set *netlist.Set, lines []WorkingLine)) {
	t.Helper()
	for _, example := range examples.Sets() {
		set := settest.Load(t, example.Text)
		if len(set.Readings) > 0 {
			continue
		}
		l := &Checklist{Circuit: analysistest.New(t, set, analysis.Bench{})}
		l.playing()
		if len(l.Playing) > 0 && len(l.Playing[0].Lines) > 3 {
			visit(set, l.Playing[0].Lines)
		}
	}
}

// Ordinary working volts of a sound set name no part: with the tubes anywhere within 30 % of usual ones, and
// with one pulled that takes nothing along, the readings agree.
func TestWorkingVoltsOfSoundSetsNameNoPart(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	sets, differ := 0, 0
	playingExamples(t, func(set *netlist.Set, lines []WorkingLine) {
		for range 8 {
			sets++
			asPlayed(t, set, drawing(set, func() float64 { return 0.7 + 0.6*r.Float64() }), lines, r)
			if a := Explain(analysistest.New(t, set, analysis.Bench{})); !a.Agree() {
				differ++
				t.Logf("%s: %+v", set.Name, a.Described.Off)
			}
		}
	})
	if sets < 100 || differ > sets/100 {
		t.Errorf("of %d sound sets %d read as other than described", sets, differ)
	}
}

// A dried reservoir and a weak output tube that move a reading out of its span are found among the first
// three.
func TestWornPartsAreFound(t *testing.T) {
	if testing.Short() {
		t.Skip("solves some thousands of sets in time")
	}
	r := rand.New(rand.NewPCG(3, 5))
	seen, found := map[ExplanationKind]int{}, map[ExplanationKind]int{}
	playingExamples(t, func(set *netlist.Set, lines []WorkingLine) {
		for i, v := range worn(set) {
			if v.Kind == OtherValue || i%2 == 1 { // every other one, for time
				continue
			}
			asPlayed(t, set, v.set, lines, r)
			a := Explain(analysistest.New(t, set, analysis.Bench{}))
			if a.Agree() {
				continue // it moves no reading out of its span
			}
			seen[v.Kind]++
			for place := range a.Explanations[:min(len(a.Explanations), 3)] {
				if e := &a.Explanations[place]; e.Part == v.Part && (e.Kind == v.Kind || fitsAll(e)) {
					found[v.Kind]++
					break
				}
			}
		}
	})
	t.Logf("seen %v, found %v", seen, found)
	for _, kind := range []ExplanationKind{DriedOut, WeakTube} {
		if seen[kind] < 5 || found[kind] < seen[kind]*9/10 {
			t.Errorf("%s: %d of %d are among the first three", kind, found[kind], seen[kind])
		}
	}
}

// fitsAll reports whether an explanation fits every reading.
func fitsAll(e *Explanation) bool {
	for _, off := range e.Off {
		if off > 1 || off < -1 {
			return false
		}
	}
	return true
}
