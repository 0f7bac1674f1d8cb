package diagnose

import (
	"math"
	"math/cmplx"
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
	"coldcheck/analysis/internal/working"
	"coldcheck/netlist"
)

// prediction is what the meter shows at each measurement, and between what it may stand without telling of
// anything: of a set that plays, from the lower edge of the working band to the peak with nothing drawn, for
// a bench has sets with tubes out, weak or cold.
type prediction struct{ shows, low, high []float64 }

// looseShare: where what a set does under load is not worked out, DC may stand this much lower than with
// nothing drawn.
const looseShare = 0.5

// A control grid that stands gridVolts higher than it should has its tube draw up to pulledUp times as much.
const (
	gridVolts = 1.0
	pulledUp  = 2.0
)

// explainedWork bounds what each explanation takes in time, in multiplications: there are some hundreds.
const explainedWork = 3e7

// mostPlayed bounds the capacitors and coils of a set whose explanations are worked out in time.
const mostPlayed = 40

// whilePlaying reports whether a measurement is of volts inside a set that plays.
func (m Measurement) whilePlaying() bool {
	return m.Plug != "" && (m.Quantity == VoltsDCRead || m.Quantity == VoltsRead && m.A != netlist.BuildingEarth && m.B != netlist.BuildingEarth)
}

// point is a prediction of figures that stand for themselves.
func point(shows []float64) *prediction {
	return &prediction{shows: shows, low: slices.Clone(shows), high: slices.Clone(shows)}
}

// loosely is a prediction of figures of which those under load are only bounded, for some measurements by their
// indices.
func (x *explainer) loosely(which []int, idle []float64) *prediction {
	p := point(idle)
	for i, k := range which {
		if m := x.gauge.ms[k]; x.gauge.plays && m.Quantity == VoltsDCRead && m.whilePlaying() {
			p.loosen(i)
			p.reach(i, x.described.low[k])
			p.reach(i, pulledUp*x.described.shows[k])
		}
	}
	return p
}

// loosen bounds a figure that is not worked out under load.
func (p *prediction) loosen(i int) { p.reach(i, looseShare*p.shows[i]) }

// reach widens the span of a measurement to a figure.
func (p *prediction) reach(i int, to float64) {
	p.low[i], p.high[i] = min(p.low[i], to), max(p.high[i], to)
}

// at is the prediction for some measurements, by their indices.
func (p *prediction) at(which []int) *prediction {
	some := &prediction{}
	for _, k := range which {
		some.shows, some.low, some.high = append(some.shows, p.shows[k]), append(some.low, p.low[k]), append(some.high, p.high[k])
	}
	return some
}

// nearest is the figure of a span that is nearest to what was shown.
func (p *prediction) nearest(i int, shown float64) float64 {
	return min(max(shown, p.low[i]), p.high[i])
}

// play puts into a prediction what a group's measurements show while the set plays.
func (g *gauge) play(p *prediction, x *measured, faults []*analysis.Fault, reversed bool) {
	if x.cold || !g.anyPlaying(x) {
		return
	}
	o := working.Options{Position: x.position, Plug: x.plug, Body: working.None, Faults: x.with(faults), Work: explainedWork, From: x.played}
	if reversed {
		o.Plug = x.plug.Other()
	}
	w, err := working.Solve(x.c, o)
	if err != nil || w.LineAmps() > circuit.ClearedAmps {
		return
	}
	if x.played == nil && len(faults) == 0 && !reversed {
		x.played = w
		x.behind = g.behind(x, o)
	}
	g.show(p, x, w, true)
	if more := g.pulledUp(x, w); len(more) > 0 {
		o.Drawn, o.From = more, w
		if w, err = working.Solve(x.c, o); err == nil {
			g.show(p, x, w, false)
		}
	}
}

// loadsNothing: where a meter takes less than this share of what it is put across with nothing drawn, it takes
// less yet of what tubes load besides.
const loadsNothing = 0.01

// behind are the ohms behind the points of a group's measurements while the set as described plays, for those that
// a meter loads: each from a solution with the meter in it. An explanation is taken to leave them as they are.
func (g *gauge) behind(x *measured, o working.Options) map[int]float64 {
	open, ohms := x.played, map[int]float64{}
	o.From = open
	for _, k := range g.loaded(x) {
		m := g.ms[k]
		o.Meter = working.Meter{A: g.node(m.A), B: g.node(m.B), Ohms: m.MeterOhms}
		without, told := g.volts(m, open)
		if !told || math.Abs(without) <= voltsFloor {
			continue
		}
		w, err := working.Solve(x.c, o)
		if err != nil {
			continue
		}
		if with, _ := g.volts(m, w); with/without > 0 {
			ohms[k] = max(m.MeterOhms*(without/with-1), 0)
		}
	}
	return ohms
}

// loaded are the measurements inside the playing set that the meter loads with nothing drawn.
func (g *gauge) loaded(x *measured) []int {
	var loaded []int
	ask := nodal.Ask{Plugs: nodal.Only(x.plug), BlockingAlone: true}
	g.evaluatorOf(x).Evaluate(x.pulled, ask, func(state *nodal.Evaluation) bool {
		for i, k := range x.members {
			s := state.Source(i, -1)
			behind := cmplx.Abs(s.Ohms)
			if g.ms[k].Quantity == VoltsDCRead {
				behind = s.OhmsDC
			}
			if g.ms[k].whilePlaying() && behind > loadsNothing*g.ms[k].MeterOhms {
				loaded = append(loaded, k)
			}
		}
		return false
	})
	return loaded
}

// volts is what a measurement inside a playing set reads of a solution, and whether anything leads there that could
// tell it.
func (g *gauge) volts(m Measurement, w *working.Result) (volts float64, told bool) {
	a, b := g.node(m.A), g.node(m.B)
	if a < 0 || b < 0 {
		return 0, false
	}
	v := w.Across(a, b)
	if m.Quantity == VoltsDCRead {
		return v.DC, v.HasDC
	}
	return v.AC, v.HasAC
}

// pulledUp are the tubes of which a control grid stands higher than in the set as described, and how many times
// their usual current they draw then: a constant resistance knows nothing of grids.
func (g *gauge) pulledUp(x *measured, w *working.Result) map[int]float64 {
	if x.played == nil || len(x.played.Nodes) > len(w.Nodes) {
		return nil
	}
	more := map[int]float64{}
	for i, p := range g.c.Set.Parts {
		d, ok := p.Detail.(*netlist.Tube)
		if !ok {
			continue
		}
		for _, s := range d.Type.Grids {
			grid, cathode := g.node(d.Node(s.Anode)), g.node(d.Node(s.Cathode))
			if grid < 0 || cathode < 0 || max(grid, cathode) >= len(x.played.Nodes) {
				continue
			}
			if w.Across(grid, cathode).DC > x.played.Across(grid, cathode).DC+gridVolts {
				more[i] = pulledUp
			}
		}
	}
	return more
}

// show puts what a group's measurements show into a prediction; more of it widens the spans alone.
func (g *gauge) show(p *prediction, x *measured, w *working.Result, first bool) {
	for _, k := range x.members {
		m := g.ms[k]
		if !m.whilePlaying() {
			continue
		}
		volts, told := g.volts(m, w)
		if !told {
			if m.Quantity == VoltsDCRead {
				p.loosen(k)
			}
			continue
		}
		volts *= m.MeterOhms / (m.MeterOhms + x.behind[k])
		if first {
			p.shows[k] = volts
			if m.Quantity == VoltsRead || g.rectifierOut(w) { // what it is with nothing drawn does not matter
				p.low[k], p.high[k] = volts, volts
			}
		}
		p.reach(k, (1-tubeBand)*volts)
		p.reach(k, volts)
		if m.Quantity == VoltsRead {
			p.reach(k, (1+tubeBand)*volts)
		}
	}
}

// rectifierOut reports whether a tube that should rectify has a cold heater, or passes nothing: there is no B-plus
// then, whatever is drawn.
func (g *gauge) rectifierOut(w *working.Result) bool {
	for i, p := range g.c.Set.Parts {
		d, ok := p.Detail.(*netlist.Tube)
		if ok && len(d.Type.Rectifiers) > 0 && (d.Type.Drop.Volts > deadVolts || slices.Contains(w.Cold, i)) {
			return true
		}
	}
	return false
}

func (g *gauge) anyPlaying(x *measured) bool {
	for _, k := range x.members {
		if g.ms[k].whilePlaying() {
			return true
		}
	}
	return false
}

// playing reports whether measurements of a set are held against the set while it plays: one is of volts inside it,
// and the set is not too large.
func playing(c *circuit.Circuit, ms []Measurement) bool {
	if !slices.ContainsFunc(ms, Measurement.whilePlaying) {
		return false
	}
	stores := 0
	for i := range c.Elements {
		if e := &c.Elements[i]; e.Sort == circuit.Capacitor || e.Henrys > 0 {
			stores++
		}
	}
	return stores+len(c.Transformers) <= mostPlayed
}
