package page

import (
	"fmt"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
)

// place is one column of the table: a case and a state, by index.
type place struct{ fault, state int }

// combos is how many switch combinations there are.
func (t *table) combos() int { return len(t.states) / 2 }

// worst is where a scene reads worst with nothing wrong; where that is under the first limit, with
// one thing wrong that cost nothing, then with one that cost one failure, then any.
func (t *table) worst(scene int) place {
	best, found := place{}, false
	for cost := -1; cost <= mostCost; cost++ {
		for c, of := range t.cases {
			if len(of.faults) > 1 || of.cost() != cost {
				continue
			}
			for s := range t.states {
				r := &t.readings[c][s][scene]
				if r.cleared {
					continue
				}
				if b := &t.readings[best.fault][best.state][scene]; !found || worse(r.Reading, b.Reading, toldBy) {
					best, found = place{c, s}, true
				}
			}
		}
		if found && t.readings[best.fault][best.state][scene].Class() > analysis.UnderLimit {
			break
		}
	}
	return best
}

// mostCost is the most that one fault costs.
const mostCost = 2

// cost is what a case costs, -1 where nothing is wrong.
func (c faultCase) cost() int {
	if len(c.faults) == 0 {
		return -1
	}
	sum := 0
	for _, f := range c.faults {
		sum += f.Cost
	}
	return sum
}

// lead is the scene that the lesson is about: the worst, then the one with the fewest safeguards.
func (t *table) lead() int {
	lead := 0
	depth := func(i int) int {
		if d := t.scenes[i].metal.Points[0].Depth; d != analysis.None {
			return d
		}
		return t.k.Result.Options.Faults + 1
	}
	reading := func(i int) analysis.Reading {
		p := t.worst(i)
		return t.readings[p.fault][p.state][i].Reading
	}
	for i := range t.scenes {
		if d, e := depth(i), depth(lead); d < e || d == e && worse(reading(i), reading(lead), toldBy) {
			lead = i
		}
	}
	return lead
}

func (t *table) stateWords(p place, r *reading) string {
	s := t.states[p.state].WithFaults(t.cases[p.fault].faults...)
	s.Rectifier = r.state.Rectifier
	return rules.StateWords(s)
}

// bench makes the controls, set to the worst state of a scene.
func (t *table) bench(lead int) benchView {
	at := t.worst(lead)
	state := t.states[at.state]
	b := benchView{Dropped: t.dropped, Isolated: t.k.Circuit.Bench.Isolated}
	part, plug := t.k.Set.Plug()
	for i, way := range []analysis.Polarity{analysis.AsMarked, analysis.Reversed} {
		hot, _ := t.k.Circuit.Blades(way)
		o := optionView{Value: i, Label: netlist.Visible(hot) + " is hot", Chosen: way == state.Plug}
		switch {
		case way == analysis.AsMarked && plug.Style == "plain":
			o.Detail = part.Name + " one way round"
		case way == analysis.AsMarked:
			o.Detail = part.Name + " as marked, in a right outlet"
		default:
			o.Detail = part.Name + " turned round, or an outlet wired backwards: the same thing"
		}
		b.Plug = append(b.Plug, o)
	}
	for i, c := range t.k.Circuit.Switches {
		v := controlView{Index: i, Name: c.Name}
		for n, p := range c.Positions {
			v.Options = append(v.Options, optionView{Value: n, Label: netlist.Visible(p), Chosen: state.Settings[i].At == p})
		}
		b.Controls = append(b.Controls, v)
	}
	b.faults(t, at.fault)
	return b
}

// The groups of faults, in the order of the bench.
var faultGroups = []struct {
	label string
	has   func(t *table, c faultCase) bool
}{
	{"Capacitor or resistor shorts", func(t *table, c faultCase) bool {
		return single(c, analysis.Shorted) && classOfFault(t.k.Set, c.faults[0].Part, analysis.Shorted) != rectifies
	}},
	{"Rectifier shorts", func(t *table, c faultCase) bool {
		return single(c, analysis.Shorted) && classOfFault(t.k.Set, c.faults[0].Part, analysis.Shorted) == rectifies
	}},
	{"Insulation fails", func(t *table, c faultCase) bool {
		return single(c, analysis.InsulationOut) || single(c, analysis.HeaterCathode)
	}},
	{"Tube pulled", func(t *table, c faultCase) bool { return single(c, analysis.Pulled) }},
	{"Part opens", func(t *table, c faultCase) bool { return single(c, analysis.Open) }},
	{"Switch or earth wire", func(t *table, c faultCase) bool {
		return single(c, analysis.Stuck) || single(c, analysis.EarthLost) && c.faults[0].Part != analysis.SupplyName
	}},
	{"Several at once that make something live", func(t *table, c faultCase) bool { return len(c.faults) > 1 }},
}

func single(c faultCase, kind analysis.FaultKind) bool {
	return len(c.faults) == 1 && c.faults[0].Kind == kind
}

func (b *benchView) faults(t *table, chosen int) {
	option := func(i int) optionView {
		return optionView{Value: i, Label: faultsWords(t.k.Set, t.cases[i].faults), Chosen: i == chosen}
	}
	b.Supply = append(b.Supply, optionView{Value: 0, Label: "nothing", Chosen: chosen == 0})
	for i, c := range t.cases {
		if len(c.faults) == 1 && c.faults[0].Part == analysis.SupplyName {
			b.Supply = append(b.Supply, option(i))
		}
	}
	for _, g := range faultGroups {
		group := groupView{Label: g.label}
		for i, c := range t.cases {
			if g.has(t, c) {
				group.Options = append(group.Options, option(i))
			}
		}
		if len(group.Options) > 0 {
			b.Single = append(b.Single, group)
		}
	}
}

// Part tells whether a fault of a part, or several faults, stand on the bench.
func (b benchView) Part() bool {
	for _, o := range b.Supply {
		if o.Chosen {
			return false
		}
	}
	return true
}

// shown is what a card shows of a reading.
func (r *reading) shown() shownView {
	v := r.verdict()
	s := shownView{Meter: meterWords(r.Reading), Body: bodyWords(r.Reading), Head: verdictHeads[v.head()], Verdict: verdictWords[v],
		Note: r.note(), Band: v.head(), AC: onScale(r.Milliamps), DC: -1}
	if r.MilliampsDC >= leastMilliampsDC {
		s.DC = onScale(r.MilliampsDC)
	}
	return s
}

// dataView is what script.js looks up: rows by case, plug way and switch combination, each the
// number of an entry.
type dataView struct {
	Combos   int               `json:"combos"`
	Sizes    []int             `json:"sizes"` // positions of each control
	Heads    []string          `json:"heads"`
	Verdicts []string          `json:"verdicts"`
	Routes   map[string]string `json:"routes"`
	Blades   [2][2]string      `json:"blades"` // by way, then blade
	Lost     []int             `json:"lost"`   // the cases in which the neutral is lost
	Metals   []metalData       `json:"metals"`
}

// metalData is one piece of metal: entries are meter, body, verdict, note, AC and DC on the scale,
// edges, routes, earths.
type metalData struct {
	Rows    []int   `json:"rows"`
	Entries [][]any `json:"entries"`
}

func (t *table) data() *dataView {
	d := &dataView{Combos: t.combos(), Sizes: []int{}, Heads: verdictHeads, Verdicts: verdictWords, Routes: map[string]string{}}
	for state, words := range routeWords {
		d.Routes[string(state)] = words
	}
	for _, c := range t.k.Circuit.Switches {
		d.Sizes = append(d.Sizes, len(c.Positions))
	}
	for i, c := range t.cases {
		if c.has(analysis.NeutralLost) {
			d.Lost = append(d.Lost, i)
		}
	}
	for way, w := range []analysis.Polarity{analysis.AsMarked, analysis.Reversed} {
		for blade := range 2 {
			d.Blades[way][blade] = bladeWords(w, blade, false)
		}
	}
	for i := range t.scenes {
		m := metalData{Rows: []int{}, Entries: [][]any{}}
		known := map[string]int{}
		for c := range t.cases {
			for s := range t.states {
				entry := t.readings[c][s][i].entry()
				id := fmt.Sprintf("%q", entry)
				n, ok := known[id]
				if !ok {
					n = len(m.Entries)
					known[id] = n
					m.Entries = append(m.Entries, entry)
				}
				m.Rows = append(m.Rows, n)
			}
		}
		d.Metals = append(d.Metals, m)
	}
	return d
}

func (r *reading) entry() []any {
	shown := r.shown()
	earths := make([]byte, 0, len(r.earths))
	for _, on := range r.earths {
		if on {
			earths = append(earths, '1')
		} else {
			earths = append(earths, '0')
		}
	}
	return []any{shown.Meter, shown.Body, int(r.verdict()), shown.Note, shown.AC, shown.DC, letters(r.edges), letters(r.routes), string(earths)}
}

func letters[T ~byte](list []T) string {
	out := make([]byte, len(list))
	for i, x := range list {
		out[i] = byte(x)
	}
	return string(out)
}
