package analysis

import (
	"math"
	"slices"
)

// Checklist is what to measure of a set, and what to expect.
type Checklist struct {
	Circuit *Circuit
	// Metals are the touch points, those that conductors join in every state told as one.
	Metals [][]string
	// Cold are ohms with the plug out, in the order in which a person goes round: one lead stays, the
	// other goes from metal to metal.
	Cold []Check
	// Joined are ohms between the points of one piece of metal.
	Joined   []Check
	Hot      []HotCheck
	Heaters  []HeaterCheck
	Stresses []Stress
	// Account is what the file's readings say; nil where it has none.
	Account *Account
	// NotPaired tells that ohms from metal to metal are left out, for there are too many pairs.
	NotPaired bool
	// Unguessed tells that of some checks it is left out what would make them read otherwise, and
	// that their bands reckon with 10 % for the parts' tolerances, for the set is too large.
	Unguessed bool
}

// Hold tells that no hot check may be made yet: the file's readings say that the set is not as
// described, and what is live is not known.
func (l *Checklist) Hold() bool { return l.Account != nil && !l.Account.Agree() }

// Do tells whether a hot check may be made on a set that is as described.
func (h *HotCheck) Do() bool { return !h.Live && !h.LiveTurned && !h.Cleared }

// Check is one measurement with the band in which it is right, in its own unit. From OhmsRange up
// an ohmmeter shows open.
type Check struct {
	Measurement
	When              [][]Setting // every combination of switch positions in which it is so
	Expect, Low, High float64
	// Lower and Higher are the single faults and missing connections that would make it read outside
	// the band, the suspect ones first.
	Lower, Higher []Explanation
}

// HotCheck is a touch point to earth in one plug way.
type HotCheck struct {
	Point       string
	Plug        Way
	When        [][]Setting
	Volts       Check    // on a meter of MeterOhms
	Load        Check    // across the hot check's 1.5 kΩ and 0.15 µF
	Live        bool     // the metal is live then, in some rectifier's state: not to be measured
	LiveTurned  bool     // live with the plug the other way, and a plain plug does not tell which it is
	Cleared     bool     // the line is shorted then: not to be plugged in
	May         []*Fault // each alone makes it live then, and is of a part that nobody vouches for
	AlikeTurned bool     // as many volts with the plug the other way round, within the band
}

// HeaterCheck is the volts across a tube's heater, against its rating.
type HeaterCheck struct {
	Tube  string
	Rated float64 // V
	Check
}

// Stress is the most volts that a capacitor stands with nothing drawing current: √2 times the AC,
// and the DC.
type Stress struct {
	Part   string
	Volts  float64
	Rating float64 // V DC, an AC rating times √2; 0 where none is given
	State  State
}

// Checks lays out the checklist of a set.
func (c *Circuit) Checks() *Checklist {
	l := &Checklist{Circuit: c, Account: c.Explain()}
	l.findMetals()
	l.NotPaired = len(l.Metals) > pairedMetals
	l.Cold = l.fold(c.coldList(l.Metals))
	l.Joined = l.checksOf(c.joinedList(l.Metals))
	for k := range l.Joined {
		l.Joined[k].When = c.combos // conductors join them in every position
	}
	l.hot()
	l.heaters()
	l.stresses()
	return l
}

func (l *Checklist) findMetals() {
	var wirings []*Wiring
	for _, s := range l.Circuit.Normal() {
		if s.Plug == AsMarked {
			s.Without = true // a failed part may be open as well
			wirings = append(wirings, l.Circuit.Wiring(s))
		}
	}
	for _, p := range l.Circuit.Points {
		home := slices.IndexFunc(l.Metals, func(metal []string) bool {
			return !slices.ContainsFunc(wirings, func(w *Wiring) bool { return !w.Joined(metal[0], p.Name) })
		})
		if home < 0 {
			l.Metals = append(l.Metals, []string{p.Name})
			continue
		}
		l.Metals[home] = append(l.Metals[home], p.Name)
	}
}

// pairedMetals is of how many pieces of metal each is measured against each other.
const pairedMetals = 20

// coldList is the cold round: from each blade, from both tied, then from metal to metal.
func (c *Circuit) coldList(metals [][]string) []Measurement {
	var ms []Measurement
	ohms := func(a, b string, tied bool) {
		if a == b {
			return
		}
		for combo := range c.combos {
			ms = append(ms, c.withCombo(Measurement{A: a, B: b, Quantity: OhmsRead, MeterOhms: MeterOhms, Tied: tied}, combo))
		}
	}
	for _, blade := range []string{c.plug.Hot, c.plug.Neutral} {
		for _, metal := range metals {
			ohms(blade, metal[0], false)
		}
	}
	for _, metal := range metals {
		ohms(c.plug.Hot, metal[0], true)
	}
	if c.plug.Earth != "" {
		for _, metal := range metals {
			ohms(c.plug.Earth, metal[0], false)
		}
	}
	ohms(c.plug.Hot, c.plug.Neutral, false)
	if len(metals) > pairedMetals {
		return ms
	}
	for i, metal := range metals {
		for _, other := range metals[i+1:] {
			ohms(metal[0], other[0], false)
		}
	}
	return ms
}

func (c *Circuit) joinedList(metals [][]string) []Measurement {
	var ms []Measurement
	for _, metal := range metals {
		for _, other := range metal[1:] {
			ms = append(ms, c.withCombo(Measurement{A: metal[0], B: other, Quantity: OhmsRead, MeterOhms: MeterOhms}, 0))
		}
	}
	return ms
}

// checksOf works out the bands of measurements, and what would make them read otherwise.
func (l *Checklist) checksOf(ms []Measurement) []Check {
	x := newExplainer(l.Circuit.Set, l.Circuit.Bench, ms)
	l.Unguessed = l.Unguessed || x.large
	checks := make([]Check, len(ms))
	for k, m := range ms {
		expect := x.described[k]
		band := x.floors[k] + (MeterShare+x.shares[k])*math.Abs(expect)
		if expect <= x.floors[k] {
			band = x.floors[k]
		}
		checks[k] = Check{Measurement: m, When: [][]Setting{m.Settings}, Expect: expect, Low: max(expect-band, 0), High: expect + band}
		if m.Quantity == OhmsRead && expect >= OhmsRange {
			checks[k].Low, checks[k].High = OhmsRange/5, OhmsRange
		}
	}
	for _, free := range []bool{true, false} {
		for _, g := range x.guesses() {
			if g.Kind != FaultsInSet && g.Kind != ConnectionOff || free != (g.Kind == FaultsInSet && g.Faults[0].Cost == 0) {
				continue
			}
			for k := range checks {
				switch band := checks[k].High - checks[k].Expect; {
				case g.shows[k] < checks[k].Low:
					checks[k].Lower = append(checks[k].Lower, g.Explanation)
				case g.shows[k] > checks[k].High+band:
					checks[k].Higher = append(checks[k].Higher, g.Explanation)
				}
			}
		}
	}
	return checks
}

// fold puts measurements together that differ in the switches alone and read alike.
func (l *Checklist) fold(ms []Measurement) []Check {
	var folded []Check
	type pointsAndPlug struct {
		a, b string
		plug Way
		tied bool
	}
	alike := map[pointsAndPlug][]int{} // places in folded
	for _, check := range l.checksOf(ms) {
		key := pointsAndPlug{check.A, check.B, check.Plug, check.Tied}
		at := slices.IndexFunc(alike[key], func(k int) bool { return sameFigure(folded[k], check) })
		if at < 0 {
			alike[key] = append(alike[key], len(folded))
			folded = append(folded, check)
			continue
		}
		home := &folded[alike[key][at]]
		home.When = append(home.When, check.Settings)
	}
	return folded
}

// foldShare: figures within 2 % are told as one.
const foldShare = 0.02

func sameFigure(a, b Check) bool {
	return math.Abs(a.Expect-b.Expect) <= foldShare*max(a.Expect, b.Expect)
}
