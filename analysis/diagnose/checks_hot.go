package diagnose

import (
	"fmt"
	"math"
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/unionfind"
	"coldcheck/netlist"
)

// hot lays out the hot round: each metal, both plug polarities, every switch position, those told
// together that read alike.
func (l *Checklist) hot() {
	all := l.hotChecks()
	for i := range all {
		all[i].compareReversed(l.Circuit, all)
	}
	all = l.hotEnds(all)
	inPlace(all, func(h *HotCheck) string { return fmt.Sprintf("%q %s", h.Point, h.Plug) })
	for _, h := range all {
		home := slices.IndexFunc(l.Hot, func(f HotCheck) bool { return f.alike(&h) })
		if home < 0 {
			l.Hot = append(l.Hot, h)
			continue
		}
		l.Hot[home].When = append(l.Hot[home].When, h.When...)
	}
}

// hotChecks are the hot checks of every state, judged.
func (l *Checklist) hotChecks() []HotCheck {
	c := l.Circuit
	var ms []Measurement
	for _, metal := range l.Metals {
		for _, plug := range circuit.Polarities {
			for _, position := range c.Rest() {
				m := atPosition(c, Measurement{A: metal[0], B: netlist.BuildingEarth, Quantity: VoltsRead, Plug: plug, MeterOhms: analysis.MeterOhms}, position)
				ms = append(ms, m)
				m.MeterOhms = analysis.HotCheckOhms
				ms = append(ms, m)
			}
		}
	}
	ms = append(ms, l.hotTurned(ms)...)
	checks := l.checksOf(ms)
	rows := c.Judged()
	may := liveWithSuspects(c)
	var all []HotCheck
	for k := 0; k < len(checks); k += 2 {
		m := checks[k].Measurement
		h := HotCheck{Point: m.A, Plug: m.Plug, When: checks[k].When, Volts: checks[k], Load: checks[k+1]}
		h.loaded(c)
		point := slices.IndexFunc(c.Points, func(p analysis.TouchPoint) bool { return p.Name == m.A })
		for _, row := range rows {
			if row.State.Plug == m.Plug && row.State.Position == m.position {
				h.Cleared = h.Cleared || row.Cleared
				h.Live = h.Live || !row.Cleared && row.Readings[point].Class() == analysis.Live
			}
		}
		h.May = may[hotState{point, m.Plug, m.position}]
		all = append(all, h)
	}
	return all
}

// compareReversed holds a check against the same one with the plug reversed.
func (h *HotCheck) compareReversed(c *analysis.Circuit, all []HotCheck) {
	for i := range all {
		other := &all[i]
		if other.Point == h.Point && other.Plug != h.Plug && other.Volts.position == h.Volts.position {
			h.AlikeReversed = other.Volts.Expect >= h.Volts.Low && other.Volts.Expect <= h.Volts.High
			h.LiveReversed = c.Plug.Style == plainPlug && other.Live && !h.Live
		}
	}
}

// alike reports whether two checks are told as one.
func (h *HotCheck) alike(other *HotCheck) bool {
	type judged struct {
		point, controls                            string
		plug                                       analysis.Polarity
		live, liveReversed, cleared, alikeReversed bool
	}
	of := func(x *HotCheck) judged {
		return judged{x.Point, fmt.Sprint(x.Volts.Controls), x.Plug, x.Live, x.LiveReversed, x.Cleared, x.AlikeReversed}
	}
	return of(h) == of(other) && sameVolts(h.Volts, other.Volts) && sameVolts(h.Load, other.Load) && slices.Equal(h.May, other.May)
}

// loaded puts the 0.15 µF beside the 1.5 kΩ that the check was worked out with.
func (h *HotCheck) loaded(c *analysis.Circuit) {
	state := c.StateAt(h.Plug, h.Volts.position)
	before := h.Load.Expect
	s := c.Solve(state)
	if s.Cleared {
		return
	}
	h.Load.Expect = s.HotCheck(h.Point)
	shift := h.Load.Expect - before
	h.Load.Low, h.Load.High = max(h.Load.Low+shift, 0), h.Load.High+shift
}

func sameVolts(a, b Check) bool {
	return math.Abs(a.Expect-b.Expect) <= voltsFloor+foldShare*max(a.Expect, b.Expect)
}

// plainPlug is the style of plug that goes in with either polarity.
const plainPlug = "plain"

type hotState struct {
	point    int
	plug     analysis.Polarity
	position int
}

// liveWithSuspects are, by point and state, the faults of parts that nobody vouches for, each of
// which alone would make the point live.
func liveWithSuspects(c *analysis.Circuit) map[hotState][]*analysis.Fault {
	may := map[hotState][]*analysis.Fault{}
	for _, f := range c.Faults {
		if f.Cost > 0 {
			continue
		}
		for _, row := range c.Judged(f) {
			for point, r := range row.Readings {
				key := hotState{point, row.State.Plug, row.State.Position}
				if !row.Cleared && r.Class() == analysis.Live && !slices.Contains(may[key], f) {
					may[key] = append(may[key], f)
				}
			}
		}
	}
	return may
}

// heater is the heater of a tube, and how its volts are read: from a to b.
type heater struct {
	tube  string
	rated float64 // V
	a, b  string
	how   Quantity
}

func heatersOf(set *netlist.Set) []heater {
	var all []heater
	for _, p := range set.Parts {
		t, ok := p.Detail.(*netlist.Tube)
		if !ok || t.Type.Heater == nil {
			continue
		}
		a, b := t.Node(t.Type.Heater.Pins[0]), t.Node(t.Type.Heater.Pins[1])
		if a != "" && b != "" && a != b {
			all = append(all, heater{p.Name, t.Type.Heater.Volts, a, b, VoltsRead})
		}
	}
	return all
}

// heaters lists the volts across each heater, plug as marked, in the switch position in which the
// most of them glow.
func (l *Checklist) heaters() {
	c := l.Circuit
	tubes := heatersOf(c.Set)
	if len(tubes) == 0 {
		return
	}
	best, most := 0, -1.0
	for _, position := range c.Rest() {
		s := c.Solve(c.StateAt(analysis.AsMarked, position))
		sum := 0.0
		for _, t := range tubes {
			ac, dcVolts := s.Across(t.a, t.b)
			sum += min(math.Hypot(ac, dcVolts)/t.rated, 1)
		}
		if !s.Cleared && sum > most*1.01 {
			best, most = position, sum
		}
	}
	if most <= 0 {
		return
	}
	glowing := c.Solve(c.StateAt(analysis.AsMarked, best))
	var ms []Measurement
	for i := range tubes {
		t := &tubes[i]
		if ac, dcVolts := glowing.Across(t.a, t.b); math.Abs(dcVolts) > ac {
			if t.how = VoltsDCRead; dcVolts < 0 {
				t.a, t.b = t.b, t.a
			}
		}
		ms = append(ms, atPosition(c, Measurement{A: t.a, B: t.b, Quantity: t.how, Plug: analysis.AsMarked, MeterOhms: analysis.MeterOhms}, best))
	}
	joined := c.Joined(best, true)
	plays := l.playsAt(best)
	for k, check := range l.checksOf(ms) {
		if plays != nil {
			lower, higher := check.Lower, check.Higher
			check = plays.across(c, check.Measurement)
			check.Lower, check.Higher = lower, higher
		}
		if volts := windingVolts(c, joined, tubes[k].a, tubes[k].b); volts > 0 {
			check.Expect, check.Low, check.High = volts, volts*(1-windingBand), volts*(1+windingBand)
		}
		l.Heaters = append(l.Heaters, HeaterCheck{tubes[k].tube, tubes[k].rated, check})
	}
}

// windingBand is how far a heater winding may be off its volts: tube manuals allow 10 % at the
// heater. The model's own ohms of a winding are a convention, and no measure of it.
const windingBand = 0.10

// windingVolts is the rated volts of the winding across two nodes, 0 where there is none.
func windingVolts(c *analysis.Circuit, joined *unionfind.Sets, a, b string) float64 {
	x, _ := c.Node(a)
	y, _ := c.Node(b)
	for _, t := range c.Transformers {
		for _, w := range t.Windings {
			if joined.Same(w.A, x) && joined.Same(w.B, y) || joined.Same(w.A, y) && joined.Same(w.B, x) {
				return w.Volts
			}
		}
	}
	return 0
}
