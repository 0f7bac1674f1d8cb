package diagnose

import (
	"math"
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/working"
	"coldcheck/netlist"
)

// apartBands: two predictions further from each other than this many bands tell their
// explanations apart whatever the meter and the parts do.
const apartBands = 2.0

// mostOff bounds the measurements that are looked at with a tube pulled or a lead off; in a set with more, only
// the parts of the leading explanations come off.
const mostOff = 3000

// further finds the measurement at which the leading explanations differ most: the most pairs of
// them told apart, of those one on the cold set before one on a live one, then the widest apart. A tube is pulled
// or a lead lifted where that tells more of them apart than anything without.
func further(c *analysis.Circuit, a *Account) *Further {
	n := a.Leading
	if n < 2 {
		return nil
	}
	taken := map[string]bool{}
	for _, m := range a.Measurements {
		taken[m.key()] = true
	}
	left := func(ms []Measurement) []Measurement {
		return slices.DeleteFunc(ms, func(m Measurement) bool { return taken[m.key()] })
	}
	best, pairs := furtherOf(c, a, left(Measurable(c)))
	if pairs == n*(n-1)/2 {
		return best
	}
	if other, more := furtherOf(c, a, left(withPartsOff(c, a))); more > pairs {
		return other
	}
	return best
}

// withPartsOff lists ohms with each tube pulled in turn and each lead lifted, the plug out; cut is set on the
// account where not all of them are.
func withPartsOff(c *analysis.Circuit, a *Account) []Measurement {
	var ohms []Measurement
	for _, m := range Measurable(c) {
		if m.Quantity == OhmsRead && m.position == 0 {
			ohms = append(ohms, m)
		}
	}
	var off []*netlist.Part
	for _, p := range c.Set.Parts {
		if p.Kind == netlist.KindTube || p.HasTwoLeads() && p.Kind != netlist.KindInsulation {
			off = append(off, p)
		}
	}
	if a.Cut = len(off)*len(ohms) > mostOff; a.Cut {
		off = slices.DeleteFunc(off, func(p *netlist.Part) bool {
			return !slices.ContainsFunc(a.Explanations[:a.Leading], func(e Explanation) bool { return e.Part == p.Name })
		})
	}
	var all []Measurement
	for _, p := range off {
		for _, m := range ohms {
			if p.Kind == netlist.KindTube {
				m.Pulled = []string{p.Name}
			} else {
				m.Lifted = []string{p.Name}
			}
			all = append(all, m)
		}
	}
	return all
}

// furtherOf is the best of some measurements, nil where none tells any two apart, and how many pairs it does.
func furtherOf(c *analysis.Circuit, a *Account, ms []Measurement) (*Further, int) {
	n := a.Leading
	x := newExplainer(c.Set, c.Bench, ms, playing(c.Circuit, a.Measurements))
	predicted := make([][]float64, n)
	for i := range n {
		predicted[i] = x.predictedBy(c, &a.Explanations[i])
		if predicted[i] == nil {
			return nil, 0
		}
	}
	best, mostPairs, mostFar := -1, 0, 0.0
	for k := range ms {
		pairs, far := 0, 0.0
		for i := range n {
			for j := range i {
				d := math.Abs(predicted[i][k] - predicted[j][k])
				if d <= apartBands*MeterShare*math.Abs(predicted[i][k]) { // whatever the parts' tolerances
					continue
				}
				if d /= x.band(k, predicted[i][k], predicted[j][k]); d > apartBands {
					pairs++
				}
				far += d
			}
		}
		if ms[k].Quantity == OhmsRead {
			far += 1e3
		}
		if pairs > mostPairs || pairs == mostPairs && pairs > 0 && far > mostFar*1.01 {
			best, mostPairs, mostFar = k, pairs, far
		}
	}
	if best < 0 {
		return nil, 0
	}
	f := &Further{Measurement: ms[best]}
	for i := range n {
		f.Predicted = append(f.Predicted, predicted[i][best])
	}
	return f, mostPairs
}

// predictedBy is what an explanation that another explainer of the same set found predicts here.
func (x *explainer) predictedBy(c *analysis.Circuit, e *Explanation) []float64 {
	g := x.gauge
	switch e.Kind {
	case AsDescribed:
		return x.described.shows
	case FaultsInSet, PlugReversed:
		var faults []*analysis.Fault
		for _, f := range e.Faults {
			faults = append(faults, g.c.Faults[f.Index])
		}
		return g.predict(faults, e.Kind == PlugReversed).shows
	}
	if v := variantOf(g.c.Set, e); v != nil {
		other, err := g.variant(v.set)
		if err != nil {
			return nil
		}
		return other.predict(nil, false).shows
	}
	if g.plays {
		if p := x.built(c, e); p != nil {
			return p.shows
		}
		return nil
	}
	for _, f := range x.figures {
		if f.Kind == e.Kind && f.Part == e.Part && f.Unit == e.Unit && f.Nodes == e.Nodes {
			into := make([]float64, len(g.ms))
			g.predictShunted(x.all(), f.Part, f.shunts(e.Value), into)
			return into
		}
	}
	return nil
}

// variantOf is the variant of a set that an explanation is, nil where it is none.
func variantOf(s *netlist.Set, e *Explanation) *variant {
	for _, v := range slices.Concat(variants(s), worn(s)) {
		if v.sameAs(e) {
			return &v
		}
	}
	return nil
}

func (v *variant) sameAs(e *Explanation) bool {
	if v.Kind != e.Kind || v.Part != e.Part || v.Nodes != e.Nodes || v.Type != e.Type || v.Value != e.Value || len(v.Terminals) != len(e.Terminals) {
		return false
	}
	for i := range v.Terminals {
		if v.Terminals[i] != e.Terminals[i] {
			return false
		}
	}
	return true
}

// Measurable lists what one can sensibly measure of the set: cold between the blades, the touch
// points and across every part of ohms; hot at the touch points, and the volts of every heater and
// the DC volts of every point against the switched side of the line.
func Measurable(c *analysis.Circuit) []Measurement {
	l := &measurable{c: c, seen: map[string]bool{}}
	for _, position := range c.Rest() {
		for _, p := range c.Points {
			l.ohms(c.Plug.Hot, p.Name, position)
			l.ohms(c.Plug.Neutral, p.Name, position)
		}
		l.ohms(c.Plug.Hot, c.Plug.Neutral, position)
		for i, p := range c.Points {
			for _, q := range c.Points[i+1:] {
				l.ohms(p.Name, q.Name, position)
			}
		}
	}
	for i := range c.Elements {
		if e := &c.Elements[i]; e.Sort == circuit.Load || e.Sort == circuit.Capacitor || e.Sort == circuit.Link || e.Sort == circuit.Rectifier {
			l.ohms(c.NodeName(e.A), c.NodeName(e.B), 0)
		}
	}
	for _, position := range c.Rest() {
		for _, polarity := range circuit.Polarities {
			for _, p := range c.Points {
				for _, ohms := range []float64{analysis.MeterOhms, analysis.HotCheckOhms} {
					l.add(Measurement{A: p.Name, B: netlist.BuildingEarth, Quantity: VoltsRead, Plug: polarity, MeterOhms: ohms}, position)
				}
				l.add(Measurement{A: p.Name, B: netlist.BuildingEarth, Quantity: MilliampsRead, Plug: polarity, MeterOhms: analysis.MeterOhms}, position)
			}
		}
	}
	for i := range c.Elements {
		if e := &c.Elements[i]; e.Sort == circuit.Load && (e.Heater || c.PartOf(e).Kind != netlist.KindResistor) {
			l.add(Measurement{A: c.NodeName(e.A), B: c.NodeName(e.B), Quantity: VoltsRead, Plug: analysis.AsMarked, MeterOhms: analysis.MeterOhms}, 0)
		}
	}
	if base := commonMinus(c); base != "" {
		for _, n := range c.Set.Nodes {
			l.add(Measurement{A: n.Name, B: base, Quantity: VoltsDCRead, Plug: analysis.AsMarked, MeterOhms: analysis.MeterOhms}, 0)
		}
	}
	return l.all
}

type measurable struct {
	c    *analysis.Circuit
	all  []Measurement
	seen map[string]bool
}

func (l *measurable) add(m Measurement, position int) {
	m = atPosition(l.c, m, position)
	if m.A == m.B || l.seen[m.key()] {
		return
	}
	l.seen[m.key()] = true
	l.all = append(l.all, m)
}

func (l *measurable) ohms(a, b string, position int) {
	l.add(Measurement{A: a, B: b, Quantity: OhmsRead, MeterOhms: analysis.MeterOhms}, position)
}

// commonMinus is where the black lead of a DC meter goes, "" for a set without a DC side.
func commonMinus(c *analysis.Circuit) string {
	if !c.HasSources {
		return ""
	}
	return c.NodeName(working.CommonNegative(c.Circuit, c.StateOf(analysis.AsMarked, nil).Position))
}
