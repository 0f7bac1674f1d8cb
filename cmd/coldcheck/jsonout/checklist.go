package jsonout

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/rules/phrase"
)

// Checklist is what to measure of a set, and what the file's readings say. Figures are V, Ω and mA,
// by the quantity.
type Checklist struct {
	Format    version        `json:"format" jsonschema_description:"the version of this JSON"`
	Set       Set            `json:"set" jsonschema_description:"the set that was looked at, and the bench"`
	Metals    [][]string     `json:"metals" jsonschema_description:"the pieces of metal, each with all its touch points"`
	Cold      []Check        `json:"cold" jsonschema_description:"checks with the plug out"`
	Hot       []HotCheck     `json:"hot" jsonschema_description:"checks with the plug in"`
	HotHeld   bool           `json:"hot_held" jsonschema_description:"the readings do not agree: no hot check may be made yet"`
	Heaters   []HeaterCheck  `json:"heaters" jsonschema_description:"the volts across each heater"`
	BringUp   *BringingUp    `json:"bringing_up" jsonschema:"nullable" jsonschema_description:"how the set is brought up; null for one that does not play from the line"`
	Working   []Working      `json:"working" jsonschema_description:"the set while it plays, by position of its switches"`
	Unsolved  string         `json:"unsolved,omitempty" jsonschema_description:"why a position is not among them"`
	Stresses  []Stress       `json:"stresses" jsonschema_description:"the worst volts of each capacitor"`
	Readings  []ReadingCheck `json:"readings" jsonschema_description:"the readings of the file beside what the wiring gives"`
	Agree     *bool          `json:"agree" jsonschema:"nullable" jsonschema_description:"all readings agree; null where the file has none"`
	Proved    []string       `json:"proved" jsonschema_description:"parts whose stated failure the readings bear out"`
	Explained []Explanation  `json:"explanations" jsonschema_description:"what would explain the readings, the most likely first"`
	Leading   int            `json:"leading" jsonschema_description:"so many at the front that the readings cannot tell apart"`
	Further   *Further       `json:"further" jsonschema:"nullable" jsonschema_description:"the measurement that would tell those apart"`
	PairsLeft int            `json:"pairs_left" jsonschema_description:"pairs of faults that were not tried"`
	Unranked  bool           `json:"unranked" jsonschema_description:"the set is too large for explanations"`
	NotPaired bool           `json:"not_paired" jsonschema_description:"ohms from metal to metal are left out: there are too many pairs"`
	Unguessed bool           `json:"unguessed" jsonschema_description:"the set is too large to work out what other readings would mean"`
}

// Check is one measurement. Expect and high are null where the meter shows open.
type Check struct {
	At       [2]string           `json:"at" jsonschema_description:"where the meter's two leads are"`
	Tied     bool                `json:"blades_tied" jsonschema_description:"the plug's blades are tied together"`
	Quantity quantity            `json:"quantity" jsonschema_description:"what is measured"`
	Plug     plugOrOut           `json:"plug" jsonschema_description:"how the plug stands in the outlet"`
	Switches []map[string]string `json:"switches" jsonschema_description:"in which positions of the switches the figure holds"`
	Controls map[string]string   `json:"controls,omitempty" jsonschema_description:"each potentiometer, and where it is turned to"`
	Pulled   []string            `json:"pulled" jsonschema_description:"tubes that were out of their sockets"`
	Lifted   []string            `json:"lifted" jsonschema_description:"parts with one lead off"`
	Meter    *float64            `json:"meter" jsonschema:"nullable" jsonschema_description:"the meter's own Ω; null where it does not matter"`
	Expect   *float64            `json:"expect" jsonschema:"nullable" jsonschema_description:"the figure to expect; null where the meter shows open"`
	Low      float64             `json:"low" jsonschema_description:"the least that is still right"`
	High     *float64            `json:"high" jsonschema:"nullable" jsonschema_description:"the most that is still right; null where open is"`
	Lower    []string            `json:"lower" jsonschema_description:"what a lower reading would mean"`
	Higher   []string            `json:"higher" jsonschema_description:"what a higher reading would mean"`
}

// HotCheck is a touch point to earth in one plug polarity. Do is false where the metal is live then, or
// with a plain plug the other way, or the line is shorted, or the readings do not agree.
type HotCheck struct {
	Node          string  `json:"node" jsonschema_description:"the node's name"`
	Do            bool    `json:"do" jsonschema_description:"the check may be made"`
	Live          bool    `json:"live" jsonschema_description:"the metal is live then"`
	Cleared       bool    `json:"cleared" jsonschema_description:"a breaker opens: the figures are those before"`
	MayBeLive     []Fault `json:"may_be_live" jsonschema_description:"faults that would make it live then"`
	AlikeReversed bool    `json:"alike_turned" jsonschema_description:"with the plug turned the figures are the same"`
	Meter         Check   `json:"meter_10_meg" jsonschema_description:"on a meter of 10 MΩ"`
	Load          Check   `json:"hot_check" jsonschema_description:"on 1.5 kΩ and 0.15 µF"`
}

// HeaterCheck is the volts across a heater.
type HeaterCheck struct {
	Tube  string  `json:"tube" jsonschema_description:"the tube"`
	Rated float64 `json:"rated" jsonschema_description:"the heater's rated volts"`
	Check
}

// Stress is the worst volts of a capacitor, peak; the rating is null where none is given.
type Stress struct {
	Part   string   `json:"part" jsonschema_description:"the part's name"`
	Volts  float64  `json:"volts" jsonschema_description:"V"`
	Rating *float64 `json:"rating" jsonschema:"nullable" jsonschema_description:"its rating, V; null where none is given"`
	State  *State   `json:"state" jsonschema:"nullable" jsonschema_description:"the state, null where none is told"`
}

// ReadingCheck is one reading of the file beside what the wiring as described gives. Off is in
// bands: within one it agrees. An open circuit is null.
type ReadingCheck struct {
	ReadingAt
	Read      *float64 `json:"read" jsonschema:"nullable" jsonschema_description:"what the meter showed; null where open"`
	Predicted *float64 `json:"predicted" jsonschema:"nullable" jsonschema_description:"what the wiring gives; null where open"`
	Off       float64  `json:"off" jsonschema_description:"how far off it is, in bands: within one it agrees"`
}

// Explanation is a way in which the set may be other than described.
type Explanation struct {
	Kind      explanationKind `json:"kind" jsonschema_description:"in what way the set is other than described"`
	Text      string          `json:"text" jsonschema_description:"in words"`
	Part      string          `json:"part" jsonschema_description:"the part's name"`
	Faults    []Fault         `json:"faults" jsonschema_description:"what had gone wrong"`
	Terminals []string        `json:"terminals" jsonschema_description:"the terminals that are connected otherwise"`
	Value     *float64        `json:"value" jsonschema:"nullable" jsonschema_description:"the value that fits; null where it is no matter of value"`
	Unit      valueUnit       `json:"unit" jsonschema_description:"the unit of the value"`
	Predicted figures         `json:"predicted" jsonschema_description:"what the wiring gives; null where open"`
	Score     float64         `json:"score" jsonschema_description:"how well it fits, less is better"`
	Fits      bool            `json:"fits" jsonschema_description:"every reading agrees with it"`
}

// Further is the measurement that would tell the leading explanations apart.
type Further struct {
	ReadingAt
	Predicted figures `json:"predicted" jsonschema_description:"what the wiring gives; null where open"`
}

// ReadingAt says where and how a reading is taken.
type ReadingAt struct {
	At       [2]string         `json:"at" jsonschema_description:"where the meter's two leads are"`
	Quantity quantity          `json:"quantity" jsonschema_description:"what is measured"`
	Plug     plugOrOut         `json:"plug" jsonschema_description:"how the plug stands in the outlet"`
	Switches map[string]string `json:"switches" jsonschema_description:"each switch and selector, and how it stands"`
	Controls map[string]string `json:"controls,omitempty" jsonschema_description:"each potentiometer, and where it is turned to"`
	Pulled   []string          `json:"pulled" jsonschema_description:"tubes that were out of their sockets"`
	Lifted   []string          `json:"lifted" jsonschema_description:"parts with one lead off"`
	Meter    *float64          `json:"meter" jsonschema:"nullable" jsonschema_description:"the meter's own Ω; null where it does not matter"`
}

// OfChecklist puts a checklist into the shape of its JSON.
func OfChecklist(l *diagnose.Checklist, supply string) *Checklist {
	out := &Checklist{
		Format: Format, Set: setOf(l.Circuit, supply), Metals: l.Metals, Cold: []Check{}, Hot: []HotCheck{}, HotHeld: l.Hold(), Heaters: []HeaterCheck{},
		Stresses: []Stress{}, Readings: []ReadingCheck{}, Proved: []string{}, Explained: []Explanation{},
		NotPaired: l.NotPaired, Unguessed: l.Unguessed, BringUp: bringingUpOf(l.BringingUp), Working: []Working{},
	}
	for _, p := range l.Playing {
		out.Working = append(out.Working, workingOf(l.Circuit, p))
	}
	if l.Unsolved != nil {
		out.Unsolved = l.Unsolved.Error()
	}
	for _, c := range slices.Concat(l.Cold, l.Joined) {
		out.Cold = append(out.Cold, checkOf(c))
	}
	for i := range l.Hot {
		h := &l.Hot[i]
		out.Hot = append(out.Hot, HotCheck{Node: h.Point, Do: h.Do() && !l.Hold(), Live: h.Live, Cleared: h.Cleared,
			MayBeLive: faultsOf(h.May), AlikeReversed: h.AlikeReversed, Meter: hotOf(h.Volts, h.When), Load: hotOf(h.Load, h.When)})
	}
	for _, h := range l.Heaters {
		out.Heaters = append(out.Heaters, HeaterCheck{h.Tube, round(h.Rated), checkOf(h.Check)})
	}
	for _, s := range l.Stresses {
		stress := Stress{Part: s.Part, Volts: round(s.Volts), State: stateOf(s.State)}
		if s.Rating > 0 {
			stress.Rating = rounded(s.Rating)
		}
		if s.State.Plug == "" {
			stress.State = nil
		}
		out.Stresses = append(out.Stresses, stress)
	}
	if l.Account != nil {
		out.account(l.Account)
	}
	return out
}

func (out *Checklist) account(a *diagnose.Account) {
	agree := a.Agree()
	out.Agree, out.Proved, out.Leading, out.PairsLeft, out.Unranked = &agree, some(a.Proved), a.Leading, a.PairsLeft, a.Unranked
	for i, m := range a.Measurements {
		out.Readings = append(out.Readings, ReadingCheck{ReadingAt: readingAt(m), Read: onMeter(m.Quantity, a.Shown[i]), Predicted: onMeter(m.Quantity, a.Described.Predicted[i]), Off: round(a.Described.Off[i])})
	}
	for i := range a.Explanations {
		e := &a.Explanations[i]
		x := Explanation{Kind: explanationKind(e.Kind), Text: phrase.Explanation(e), Part: e.Part, Faults: faultsOf(e.Faults),
			Terminals: some(e.Terminals), Unit: valueUnit(e.Unit), Score: round(e.Score), Fits: e.Fits, Predicted: figures{}}
		if e.Kind == diagnose.OtherValue || e.Kind == diagnose.Leaks {
			value := significantly(e.Value)
			x.Value = &value
		}
		for k, m := range a.Measurements {
			x.Predicted = append(x.Predicted, onMeter(m.Quantity, e.Predicted[k]))
		}
		out.Explained = append(out.Explained, x)
	}
	if a.Further != nil {
		out.Further = &Further{ReadingAt: readingAt(a.Further.Measurement), Predicted: figures{}}
		for _, x := range a.Further.Predicted {
			out.Further.Predicted = append(out.Further.Predicted, onMeter(a.Further.Quantity, x))
		}
	}
}

func checkOf(c diagnose.Check) Check {
	at := readingAt(c.Measurement)
	out := Check{At: at.At, Tied: c.Tied, Quantity: at.Quantity, Plug: at.Plug, Switches: []map[string]string{}, Controls: at.Controls, Pulled: at.Pulled, Lifted: at.Lifted, Meter: at.Meter,
		Expect: onMeter(c.Quantity, c.Expect), Low: round(c.Low), High: onMeter(c.Quantity, c.High), Lower: wordsOf(c.Lower), Higher: wordsOf(c.Higher)}
	for _, settings := range c.When {
		out.Switches = append(out.Switches, switchesOf(settings))
	}
	return out
}

// hotOf is a check of the hot round, in all the switch positions that were told together.
func hotOf(c diagnose.Check, when [][]analysis.Setting) Check {
	c.When = when
	return checkOf(c)
}

func readingAt(m diagnose.Measurement) ReadingAt {
	at := ReadingAt{At: [2]string{m.A, m.B}, Quantity: quantity(m.Quantity), Plug: plugOrOut(m.Plug), Switches: switchesOf(m.Settings), Pulled: some(m.Pulled), Lifted: some(m.Lifted)}
	if len(m.Controls) > 0 {
		at.Controls = switchesOf(m.Controls)
	}
	if m.Plug == "" {
		at.Plug = unplugged
	}
	if m.Quantity == diagnose.VoltsRead || m.Quantity == diagnose.VoltsDCRead {
		at.Meter = rounded(m.MeterOhms)
	}
	return at
}

func switchesOf(settings []analysis.Setting) map[string]string {
	out := map[string]string{}
	for _, x := range settings {
		out[x.Name] = x.At
	}
	return out
}

func wordsOf(all []diagnose.Explanation) []string {
	out := []string{}
	for i := range all {
		out = append(out, phrase.Explanation(&all[i]))
	}
	return out
}

// onMeter is a figure, null where an ohmmeter shows open.
func onMeter(q diagnose.Quantity, x float64) *float64 {
	if q == diagnose.OhmsRead && x >= diagnose.OhmsRange {
		return nil
	}
	return rounded(x)
}

// significantly is round for values that may be very small, in F.
func significantly(x float64) float64 {
	const pico = 1e-12
	if x < nothing {
		return round(x/pico) * pico
	}
	return round(x)
}
