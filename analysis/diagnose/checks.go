package diagnose

import (
	"fmt"
	"math"
	"slices"

	"coldcheck/analysis"
)

// Checklist is what to measure of a set, and what to expect.
type Checklist struct {
	Circuit *analysis.Circuit
	// Metals are the touch points, those that conductors join in every state told as one.
	Metals [][]string
	// Cold are ohms with the plug out, in the order in which a person goes round: one lead stays, the
	// other goes from metal to metal.
	Cold []Check
	// Joined are ohms between the points of one piece of metal.
	Joined  []Check
	Hot     []HotCheck
	Heaters []HeaterCheck
	// Playing is what to measure while the set plays, by position of the switches; Unsolved is why a
	// position is not among them, nil where all are.
	Playing  []*Playing
	Unsolved error
	// BringingUp is how the set is brought up; nil for one that does not play from the line.
	BringingUp *BringingUp

	reference string // the node against which working volts are told, "" for the common negative
	Stresses  []analysis.Stress
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

// Do reports whether a hot check may be made on a set that is as described.
func (h *HotCheck) Do() bool { return !h.Live && !h.LiveReversed && !h.Cleared }

// Check is one measurement with the band in which it is right, in its own unit. From OhmsRange up
// an ohmmeter shows open.
type Check struct {
	Measurement
	When              [][]analysis.Setting // every combination of switch positions in which it is so
	Expect, Low, High float64
	// Lower and Higher are the single faults and missing connections that would make it read outside
	// the band, the suspect ones first.
	Lower, Higher []Explanation
}

// HotCheck is a touch point to earth in one polarity of the plug.
type HotCheck struct {
	Point         string
	Plug          analysis.Polarity
	When          [][]analysis.Setting
	Volts         Check             // on a meter of MeterOhms
	Load          Check             // across the hot check's 1.5 kΩ and 0.15 µF
	Live          bool              // the metal is live then, in some rectifier's state: not to be measured
	LiveReversed  bool              // live with the plug reversed, and a plain plug does not tell which it is
	Cleared       bool              // the line is shorted then: not to be plugged in
	May           []*analysis.Fault // each alone makes it live then, and is of a part that nobody vouches for
	AlikeReversed bool              // as many volts with the plug reversed, within the band
}

// HeaterCheck is the volts across a tube's heater, against its rating.
type HeaterCheck struct {
	Tube  string
	Rated float64 // V
	Check
}

// Checks lays out the checklist of a set.
func Checks(c *analysis.Circuit) *Checklist { return ChecksAgainst(c, "") }

// ChecksAgainst is Checks with the working volts against a node of the set, "" for the common negative.
func ChecksAgainst(c *analysis.Circuit, reference string) *Checklist {
	l := &Checklist{Circuit: c, Account: Explain(c), reference: reference}
	for _, points := range c.Metals() {
		var names []string
		for _, p := range points {
			names = append(names, p.Name)
		}
		l.Metals = append(l.Metals, names)
	}
	l.NotPaired = len(l.Metals) > pairedMetals
	l.Cold = l.fold(coldList(c, l.Metals))
	l.Joined = l.checksOf(joinedList(c, l.Metals))
	for k := range l.Joined {
		l.Joined[k].When = c.AllSettings() // conductors join them in every position
	}
	l.hot()
	l.playing()
	l.bringUp()
	l.heaters()
	l.Stresses = c.Stresses(nil)
	return l
}

// pairedMetals is of how many pieces of metal each is measured against each other.
const pairedMetals = 20

// coldList is the cold round: from both blades tied, from each blade, then from metal to metal.
func coldList(c *analysis.Circuit, metals [][]string) []Measurement {
	var ms []Measurement
	ohms := func(a, b string, tied bool) {
		if a == b {
			return
		}
		for _, position := range c.Rest() {
			ms = append(ms, atPosition(c, Measurement{A: a, B: b, Quantity: OhmsRead, MeterOhms: analysis.MeterOhms, Tied: tied}, position))
		}
	}
	for _, metal := range metals {
		ohms(c.Plug.Hot, metal[0], true)
	}
	for _, blade := range []string{c.Plug.Hot, c.Plug.Neutral} {
		for _, metal := range metals {
			ohms(blade, metal[0], false)
		}
	}
	if c.Plug.Earth != "" {
		for _, metal := range metals {
			ohms(c.Plug.Earth, metal[0], false)
		}
	}
	ohms(c.Plug.Hot, c.Plug.Neutral, false)
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

func joinedList(c *analysis.Circuit, metals [][]string) []Measurement {
	var ms []Measurement
	for _, metal := range metals {
		for _, other := range metal[1:] {
			ms = append(ms, atPosition(c, Measurement{A: metal[0], B: other, Quantity: OhmsRead, MeterOhms: analysis.MeterOhms}, 0))
		}
	}
	return ms
}

// checksOf works out the bands of measurements, and what would make them read otherwise.
func (l *Checklist) checksOf(ms []Measurement) []Check {
	x := newExplainer(l.Circuit.Set, l.Circuit.Bench, ms, false)
	l.Unguessed = l.Unguessed || x.large
	checks := make([]Check, len(ms))
	for k, m := range ms {
		expect := x.idle[k]
		band := x.floors[k] + (MeterShare+x.movedBy(k).share)*math.Abs(expect)
		if expect <= x.floors[k] {
			band = x.floors[k]
		}
		checks[k] = Check{Measurement: m, When: [][]analysis.Setting{m.Settings}, Expect: expect, Low: max(expect-band, 0), High: expect + band}
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

// fold puts measurements together that differ in the switches alone and read alike, after those at the
// ends of controls that read otherwise there.
func (l *Checklist) fold(ms []Measurement) []Check {
	var folded []Check
	type pointsAndPlug struct {
		a, b string
		plug analysis.Polarity
		tied bool
		away string // where controls stand
	}
	alike := map[pointsAndPlug][]int{} // places in folded
	for _, check := range l.needed(l.withEnds(l.checksOf(append(ms, l.turned(ms)...)))) {
		key := pointsAndPlug{check.A, check.B, check.Plug, check.Tied, fmt.Sprint(check.Controls)}
		at := slices.IndexFunc(alike[key], func(k int) bool { return sameFigure(folded[k], check) })
		if at < 0 {
			alike[key] = append(alike[key], len(folded))
			folded = append(folded, check)
			continue
		}
		home := &folded[alike[key][at]]
		home.When = append(home.When, check.Settings)
	}
	inPlace(folded, func(c *Check) string { return fmt.Sprintf("%q %q %s %t", c.A, c.B, c.Plug, c.Tied) })
	return folded
}

// needed leaves out what says nothing more: from either blade to metal that is open from both tied.
func (l *Checklist) needed(checks []Check) []Check {
	type metalAt struct {
		node     string
		position int
	}
	open := map[metalAt]bool{}
	for _, check := range checks {
		if check.Tied && check.Expect >= OhmsRange {
			open[metalAt{check.B, check.position}] = true
		}
	}
	plug := l.Circuit.Plug
	return slices.DeleteFunc(checks, func(check Check) bool {
		return !check.Tied && (check.A == plug.Hot || check.A == plug.Neutral) && open[metalAt{check.B, check.position}]
	})
}

// foldShare: figures within 2 % are told as one.
const foldShare = 0.02

func sameFigure(a, b Check) bool {
	return math.Abs(a.Expect-b.Expect) <= foldShare*max(a.Expect, b.Expect)
}
