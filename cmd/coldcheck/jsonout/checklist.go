package jsonout

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/rules"
)

// Checklist is what to measure of a set, and what the file's readings say. Figures are V, Ω and mA,
// by the quantity.
type Checklist struct {
	Format    int            `json:"format"`
	Set       Set            `json:"set"`
	Metals    [][]string     `json:"metals"`
	Cold      []Check        `json:"cold"`
	Hot       []HotCheck     `json:"hot"`
	HotHeld   bool           `json:"hot_held"` // the readings do not agree: no hot check may be made yet
	Heaters   []HeaterCheck  `json:"heaters"`
	Stresses  []Stress       `json:"stresses"`
	Readings  []ReadingCheck `json:"readings"`
	Agree     *bool          `json:"agree"`  // null where the file has no readings
	Proved    []string       `json:"proved"` // parts whose stated failure the readings bear out
	Explained []Explanation  `json:"explanations"`
	Leading   int            `json:"leading"` // so many at the front that the readings cannot tell apart
	Further   *Further       `json:"further"`
	PairsLeft int            `json:"pairs_left"`
	Unranked  bool           `json:"unranked"` // the set is too large for explanations
	NotPaired bool           `json:"not_paired"`
	Unguessed bool           `json:"unguessed"`
}

// Check is one measurement. Expect and high are null where the meter shows open.
type Check struct {
	At       [2]string           `json:"at"`
	Tied     bool                `json:"blades_tied"`
	Quantity string              `json:"quantity"`
	Plug     string              `json:"plug"` // "out" with the plug out
	Switches []map[string]string `json:"switches"`
	Meter    *float64            `json:"meter"` // Ω, of volts
	Expect   *float64            `json:"expect"`
	Low      float64             `json:"low"`
	High     *float64            `json:"high"`
	Lower    []string            `json:"lower"`
	Higher   []string            `json:"higher"`
}

// HotCheck is a touch point to earth in one plug way. Do is false where the metal is live then, or
// with a plain plug the other way, or the line is shorted, or the readings do not agree.
type HotCheck struct {
	Node        string  `json:"node"`
	Do          bool    `json:"do"`
	Live        bool    `json:"live"`
	Cleared     bool    `json:"cleared"`
	MayBeLive   []Fault `json:"may_be_live"`
	AlikeTurned bool    `json:"alike_turned"`
	Meter       Check   `json:"meter_10_meg"`
	Load        Check   `json:"hot_check"`
}

// HeaterCheck is the volts across a heater.
type HeaterCheck struct {
	Tube  string  `json:"tube"`
	Rated float64 `json:"rated"`
	Check
}

// Stress is the worst volts of a capacitor, peak; the rating is null where none is given.
type Stress struct {
	Part   string   `json:"part"`
	Volts  float64  `json:"volts"`
	Rating *float64 `json:"rating"`
	State  *State   `json:"state"`
}

// ReadingCheck is one reading of the file beside what the wiring as described gives. Off is in
// bands: within one it agrees. An open circuit is null.
type ReadingCheck struct {
	At        [2]string         `json:"at"`
	Quantity  string            `json:"quantity"`
	Plug      string            `json:"plug"`
	Switches  map[string]string `json:"switches"`
	Pulled    []string          `json:"pulled"`
	Meter     *float64          `json:"meter"`
	Read      *float64          `json:"read"`
	Predicted *float64          `json:"predicted"`
	Off       float64           `json:"off"`
}

// Explanation is a way in which the set may be other than described.
type Explanation struct {
	Kind      string     `json:"kind"`
	Text      string     `json:"text"`
	Part      string     `json:"part"`
	Faults    []Fault    `json:"faults"`
	Terminals []string   `json:"terminals"`
	Value     *float64   `json:"value"` // Ω or F, by unit
	Unit      string     `json:"unit"`
	Predicted []*float64 `json:"predicted"`
	Score     float64    `json:"score"`
	Fits      bool       `json:"fits"`
}

// Further is the measurement that would tell the leading explanations apart.
type Further struct {
	ReadingAt
	Predicted []*float64 `json:"predicted"`
}

// ReadingAt says where and how a reading is taken.
type ReadingAt struct {
	At       [2]string         `json:"at"`
	Quantity string            `json:"quantity"`
	Plug     string            `json:"plug"`
	Switches map[string]string `json:"switches"`
	Meter    *float64          `json:"meter"`
}

// OfChecklist puts a checklist into the shape of its JSON.
func OfChecklist(l *diagnose.Checklist, supply string) *Checklist {
	out := &Checklist{
		Format: Format, Set: setOf(l.Circuit, supply), Metals: l.Metals, Cold: []Check{}, Hot: []HotCheck{}, HotHeld: l.Hold(), Heaters: []HeaterCheck{},
		Stresses: []Stress{}, Readings: []ReadingCheck{}, Proved: []string{}, Explained: []Explanation{},
		NotPaired: l.NotPaired, Unguessed: l.Unguessed,
	}
	for _, c := range slices.Concat(l.Cold, l.Joined) {
		out.Cold = append(out.Cold, checkOf(c))
	}
	for i := range l.Hot {
		h := &l.Hot[i]
		out.Hot = append(out.Hot, HotCheck{Node: h.Point, Do: h.Do() && !l.Hold(), Live: h.Live, Cleared: h.Cleared,
			MayBeLive: faultsOf(h.May), AlikeTurned: h.AlikeTurned, Meter: hotOf(h.Volts, h.When), Load: hotOf(h.Load, h.When)})
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
		at := readingAt(m)
		out.Readings = append(out.Readings, ReadingCheck{At: at.At, Quantity: at.Quantity, Plug: at.Plug, Switches: at.Switches, Meter: at.Meter,
			Pulled: some(m.Pulled), Read: onMeter(m.Quantity, a.Shown[i]), Predicted: onMeter(m.Quantity, a.Described.Predicted[i]), Off: round(a.Described.Off[i])})
	}
	for i := range a.Explanations {
		e := &a.Explanations[i]
		x := Explanation{Kind: string(e.Kind), Text: rules.ExplanationWords(e), Part: e.Part, Faults: faultsOf(e.Faults),
			Terminals: some(e.Terminals), Unit: string(e.Unit), Score: round(e.Score), Fits: e.Fits, Predicted: []*float64{}}
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
		out.Further = &Further{ReadingAt: readingAt(a.Further.Measurement), Predicted: []*float64{}}
		for _, x := range a.Further.Predicted {
			out.Further.Predicted = append(out.Further.Predicted, onMeter(a.Further.Quantity, x))
		}
	}
}

func checkOf(c diagnose.Check) Check {
	at := readingAt(c.Measurement)
	out := Check{At: at.At, Tied: c.Tied, Quantity: at.Quantity, Plug: at.Plug, Switches: []map[string]string{}, Meter: at.Meter,
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
	at := ReadingAt{At: [2]string{m.A, m.B}, Quantity: string(m.Quantity), Plug: string(m.Plug), Switches: switchesOf(m.Settings)}
	if m.Plug == "" {
		at.Plug = "out"
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
		out = append(out, rules.ExplanationWords(&all[i]))
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
