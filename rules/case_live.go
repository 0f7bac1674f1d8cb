package rules

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/trace"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// liveness is how one piece of metal is live with no fault at all and no safeguard in the way,
// judged on the bare mains.
type liveness struct {
	joined []analysis.Row // states in which conductors alone join it to the hot side
	loaded []analysis.Row // states in which it is live through loads, and nothing else
}

// polarities reports in which plug polarities it is live.
func (l *liveness) polarities() (marked, reversed bool) {
	for _, r := range l.all() {
		marked = marked || r.State.Plug == analysis.AsMarked
		reversed = reversed || r.State.Plug == analysis.Reversed
	}
	return marked, reversed
}

// onePolarity reports whether metal is live in one plug polarity alone, on mains of which one leg is the
// hot one.
func (k *Facts) onePolarity(l *liveness) bool {
	if k.Mains.BothHot() {
		return false
	}
	marked, reversed := l.polarities()
	return marked != reversed
}

// all are the states in which it is live.
func (l *liveness) all() []analysis.Row { return slices.Concat(l.joined, l.loaded) }

// ever reports whether it is live at all.
func (l *liveness) ever() bool { return len(l.joined)+len(l.loaded) > 0 }

// findLives works out the first three rules' question for each piece of metal. What paths alone
// establish holds in cleared states too; through loads the figures must agree.
func (k *Facts) findLives() {
	k.lives = map[*Metal]*liveness{}
	for _, m := range k.Metals {
		k.lives[m] = &liveness{}
	}
	for _, row := range k.grounded.Judged() {
		w := k.grounded.Wiring(row.State)
		hot := trace.Sources(k.grounded, row.State)
		for _, m := range k.Metals {
			l := k.lives[m]
			switch {
			case k.lineVolts() > analysis.ES2VoltsAC && slices.ContainsFunc(hot, func(blade string) bool { return w.Joined(blade, m.Node()) }):
				l.joined = append(l.joined, row)
			case !row.Cleared && m.in(row).Class() == analysis.Live && slices.ContainsFunc(hot, func(blade string) bool {
				_, ok := w.Shortest(blade, m.Node(), analysis.Query{Avoid: w.EndsOf(blade), Pass: analysis.Channel.Free})
				return ok
			}):
				l.loaded = append(l.loaded, row)
			}
		}
	}
}

// live is how a piece of metal is live with nothing failed.
func (k *Facts) live(m *Metal) *liveness { return k.lives[m.whole] }

// worstEach is the worst at each touch point, by its place in Circuit.Points; of a piece of metal at
// the foremost alone.
type worstEach []*analysis.Worst

// judgeOnes judges the faults that several rules ask for alone: what opens something that is no
// safeguard.
func (k *Facts) judgeOnes() {
	var faults []*analysis.Fault
	for _, f := range k.Circuit.Faults {
		if opens(f) {
			faults = append(faults, f)
		}
	}
	each := make([]worstEach, len(faults))
	k.Circuit.JudgedEach(faults, func(i int, rows []analysis.Row) {
		each[i] = make(worstEach, len(k.Circuit.Points))
		for _, m := range k.Metals {
			for _, piece := range k.pieces(m, faults[i]) {
				each[i][piece.places[0]] = piece.worst(rows, nil)
			}
		}
	})
	k.ones = map[*analysis.Fault]worstEach{}
	for i, f := range faults {
		k.ones[f] = each[i]
	}
}

// opens reports whether a fault opens something that is no safeguard.
func opens(f *analysis.Fault) bool {
	switch f.Kind {
	case analysis.EarthLost, analysis.Pulled, analysis.Open, analysis.NeutralLost:
		return true
	}
	return false
}

// worstWith is the worst with one fault at a piece of metal that the fault does not part, nil where
// every state is cleared.
func (k *Facts) worstWith(f *analysis.Fault, m *Metal) *analysis.Worst {
	if each := k.ones[f]; each != nil {
		return each[m.places[0]]
	}
	return m.worst(k.Circuit.Judged(f), nil)
}

// worstRow turns the worst of some rows at a piece of metal into a state to tell, and reports whether
// it has figures. Where all are cleared the first is told, without.
func worstRow(rows []analysis.Row, m *Metal) (*analysis.Worst, bool) {
	if w := m.worst(rows, nil); w != nil {
		return w, true
	}
	return inState(rows[0].State), false
}

// worstBlocking is the worst with all rectifiers blocking, where it is live then; else the worst.
func worstBlocking(rows []analysis.Row, m *Metal) *analysis.Worst {
	w := m.worst(rows, func(r analysis.Row) bool { return r.State.Rectifier == "" })
	if w != nil && w.Class() == analysis.Live {
		return w
	}
	return m.worst(rows, nil)
}

// ofPolarity keeps the rows of one plug polarity.
func ofPolarity(rows []analysis.Row, polarity analysis.Polarity) []analysis.Row {
	var kept []analysis.Row
	for _, r := range rows {
		if r.State.Plug == polarity {
			kept = append(kept, r)
		}
	}
	return kept
}

// whenStands tells every plug polarity and switch position of some rows.
func whenStands(rows []analysis.Row, c *analysis.Circuit) string {
	return eachPolarity(rows, c, phrase.Plug)
}

// eachPolarity tells the rows of each plug polarity by a lead, and the positions that they have in common.
func eachPolarity(rows []analysis.Row, c *analysis.Circuit, lead func(analysis.Polarity) string) string {
	var leads, where []string
	for _, polarity := range []analysis.Polarity{analysis.AsMarked, analysis.Reversed} {
		if of := ofPolarity(rows, polarity); len(of) > 0 {
			positions := whileSwitches(of, c)
			if positions == "" && len(c.Switches) > 0 {
				positions = ", whatever the switches"
			}
			leads, where = append(leads, lead(polarity)), append(where, positions)
		}
	}
	if c.BothHot() && len(leads) == 2 && where[0] == where[1] {
		return "either way of the plug" + where[0]
	}
	for i := range leads {
		leads[i] += where[i]
	}
	return strings.Join(leads, "; ")
}

// whileSwitches tells the settings that some rows have in common against all states of that plug
// polarity: " while S1 is off". A control that stands in every position is left unsaid.
func whileSwitches(rows []analysis.Row, c *analysis.Circuit) string {
	var words []string
	at := func(name string, positions []string) []string {
		return slices.DeleteFunc(slices.Clone(positions), func(position string) bool {
			return !slices.ContainsFunc(rows, func(r analysis.Row) bool { return r.State.At(name) == position })
		})
	}
	for _, s := range c.Switches {
		if at := at(s.Name, s.Positions); len(at) < len(s.Positions) {
			words = append(words, phrase.Standing(s.Name, at))
		}
	}
	for _, control := range c.Controls {
		if at := at(control.Name, control.Positions); len(at) < len(control.Positions) {
			words = append(words, phrase.TurnedTo(control.Name, at))
		}
	}
	if len(words) == 0 {
		return ""
	}
	return " while " + phrase.List(words)
}

// tellLive is what the rules of metal that is live with nothing failed have in common: the worst of
// some states, its path and its figures.
func (k *Facts) tellLive(m *Metal, rows []analysis.Row) Finding {
	w, judged := worstRow(rows, m)
	f := Finding{Signal: k.liveSignal(m), Nodes: m.Nodes(), Worst: w, Between: "nothing"}
	f.Path = trace.WithoutSafeguards(k.grounded, w.State, m.Node())
	if p := trace.Carrying(k.grounded, w.State, f.Path); p != nil {
		f.Between = k.standsBetween(p, w.State)
		f.Notes = append(f.Notes, fmt.Sprintf("a path without a safeguard leads there too, through %s, and carries less", k.through(f.Path)))
		f.Path = p
	}
	f.Parts = f.Path.Parts()
	if judged {
		f.tellFigures(w.Reading, k.atLeast(f.Path, w.State))
	} else {
		f.Figures = "the line is shorted in this state and a breaker opens; until it does, or with the earth lost, the full line is on it"
	}
	if k.earthedNowhere() {
		_, other := k.grounded.Blades(w.State.Plug)
		f.Notes = append(f.Notes, fmt.Sprintf("judged with %s earthed: as the building has it, no current comes back from earth until the line meets it somewhere", netlist.Visible(other)))
	}
	if k.Circuit.Bench.Isolated {
		f.Notes = append(f.Notes, "judged on the mains: with the isolated bench supply the isolation is the bench's, not the set's")
	}
	return f
}

// tellBare tells each bare piece of metal that is live without a fault and that want picks.
func (k *Facts) tellBare(want func(*liveness) bool, tell func(*Metal, *liveness) Finding) []Finding {
	var all []Finding
	for _, m := range k.Metals {
		if l := k.live(m); !m.Guarded() && l.ever() && want(l) {
			all = append(all, tell(m, l))
		}
	}
	return all
}
