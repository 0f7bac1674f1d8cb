package rules

import (
	"cmp"
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// liveness is how one piece of metal is live with no fault at all and no safeguard in the way,
// judged on the bare mains.
type liveness struct {
	joined []analysis.Row // states in which conductors alone join it to the hot side
	loaded []analysis.Row // states in which it is live through loads, and nothing else
	index  int
}

// ways are the plug ways in which it is live.
func (l *liveness) ways() (marked, reversed bool) {
	for _, rows := range [][]analysis.Row{l.joined, l.loaded} {
		for _, r := range rows {
			marked = marked || r.State.Plug == analysis.AsMarked
			reversed = reversed || r.State.Plug == analysis.Reversed
		}
	}
	return marked, reversed
}

func (l *liveness) oneWayOnly() bool {
	marked, reversed := l.ways()
	return marked != reversed
}

// all are the states in which it is live.
func (l *liveness) all() []analysis.Row {
	return append(l.joined[:len(l.joined):len(l.joined)], l.loaded...)
}

func passesFreely(ch analysis.Channel) bool { return !ch.Barrier() }

// liveness works out the first three rules' question for a piece of metal. What paths alone
// establish holds in cleared states too; through loads the figures must agree.
func (k *Case) liveness(m *Metal) *liveness {
	if l, ok := k.lives[m]; ok {
		return l
	}
	l := &liveness{index: m.index}
	for _, row := range k.mainsRows() {
		w := k.Mains.Wiring(row.State)
		hot, _ := k.Mains.Blades(row.State.Plug)
		switch {
		case k.Set.Volts > analysis.ES2VoltsAC && w.Joined(hot, m.Node()):
			l.joined = append(l.joined, row)
		case !row.Cleared && row.Readings[m.index].Class() == analysis.Live:
			if _, ok := w.Shortest(hot, m.Node(), analysis.Query{Avoid: w.Ends(), Pass: passesFreely}); ok {
				l.loaded = append(l.loaded, row)
			}
		}
	}
	k.lives[m] = l
	return l
}

// mainsRows are all normal states on the bare mains.
func (k *Case) mainsRows() []analysis.Row {
	if k.rows == nil {
		k.rows = k.Mains.Judged()
	}
	return k.rows
}

// worstRow turns the worst of some rows at a piece of metal into a state to tell. Where all are
// cleared the first is told, without figures.
func worstRow(rows []analysis.Row, index int) (*analysis.Worst, bool) {
	if w := analysis.WorstOf(rows, index, nil); w != nil {
		return w, true
	}
	if len(rows) == 0 {
		return nil, false
	}
	return &analysis.Worst{State: rows[0].State}, false
}

// pathIn is the way of the current from the hot side to a piece of metal in a state: through
// conductors and loads alone where there is one, else through the fewest capacitors and resistors
// that stand for safeguards, and of those ways the one of least impedance.
func (k *Case) pathIn(c *analysis.Circuit, state analysis.State, node string) *analysis.Path {
	if p := k.freePath(c, state, node); p != nil {
		return p
	}
	w := c.Wiring(state)
	hot, _ := c.Blades(state.Plug)
	query := analysis.Query{Avoid: w.Ends(), Pass: func(ch analysis.Channel) bool { return ch.Sort != analysis.Insulating }}
	var best *analysis.Path
	for _, p := range w.Paths(hot, node, compared(w), query) {
		if best == nil || cmp.Or(cmp.Compare(len(p.Barriers()), len(best.Barriers())), cmp.Compare(p.Ohms(), best.Ohms())) < 0 {
			best = &p
		}
	}
	if best == nil {
		if p, ok := w.Shortest(hot, node, analysis.Query{Avoid: w.Ends()}); ok {
			return &p
		}
	}
	return best
}

// pathsCompared is how many paths are compared for the least impedance, pathsOfLarge how many in a
// wiring of more than manyChannels: each further one takes as long as the first.
const (
	pathsCompared = 8
	pathsOfLarge  = 2
	manyChannels  = 2000
)

func compared(w *analysis.Wiring) int {
	if len(w.Channels) > manyChannels {
		return pathsOfLarge
	}
	return pathsCompared
}

// freePath is the way through conductors and loads alone, of least impedance. A rectifier is part of
// it only where it is taken as conducting, or where there is no other way.
func (k *Case) freePath(c *analysis.Circuit, state analysis.State, node string) *analysis.Path {
	return k.wayBy(c, state, node, func(ch analysis.Channel) bool {
		return passesFreely(ch) && (ch.Sort != analysis.Rectifying || ch.Piece == state.Rectifier)
	}, passesFreely)
}

// wayBy is the way of least impedance through the channels of the first of the passes that gives
// one.
func (k *Case) wayBy(c *analysis.Circuit, state analysis.State, node string, passes ...func(analysis.Channel) bool) *analysis.Path {
	w := c.Wiring(state)
	hot, _ := c.Blades(state.Plug)
	for _, pass := range passes {
		var best *analysis.Path
		for _, p := range w.Paths(hot, node, compared(w), analysis.Query{Avoid: w.Ends(), Pass: pass}) {
			if best == nil || p.Ohms() < best.Ohms() {
				best = &p
			}
		}
		if best != nil {
			return best
		}
	}
	return nil
}

// besides tells the loads of another way that shares no load with a path: "coil M1".
func (k *Case) besides(c *analysis.Circuit, state analysis.State, p *analysis.Path) string {
	taken := map[string]bool{}
	for _, s := range p.Steps {
		if s.Sort != analysis.Conductor {
			taken[s.Part] = true
		}
	}
	other := k.wayBy(c, state, p.To, func(ch analysis.Channel) bool {
		return passesFreely(ch) && ch.Sort != analysis.Rectifying && !taken[ch.Part]
	})
	if other == nil || other.Ohms() > parallelShare*p.Ohms() {
		return ""
	}
	return k.through(other)
}

// throughAll tells the loads of a path, and those of another way beside it.
func (k *Case) throughAll(state analysis.State, p *analysis.Path) string {
	text := k.through(p)
	if p != nil {
		if other := k.besides(k.Mains, state, p); other != "" {
			text += ", and " + other + " beside it"
		}
	}
	return text
}

// parallelShare: another way of up to so many times the impedance carries a share worth telling.
const parallelShare = 5

// partsOf lists the parts of a path in order, each once.
func partsOf(p *analysis.Path) []string {
	var names []string
	seen := map[string]bool{}
	if p != nil {
		for _, s := range p.Steps {
			if !seen[s.Part] {
				seen[s.Part] = true
				names = append(names, s.Part)
			}
		}
	}
	return names
}

// through tells what loads a path goes through: "the heater string", "V1's heater", "motor M1".
func (k *Case) through(p *analysis.Path) string {
	if p == nil {
		return ""
	}
	var heaters, others []string
	seen := map[string]bool{}
	for _, s := range p.Steps {
		if s.Sort == analysis.Conductor || seen[s.Part] {
			continue
		}
		seen[s.Part] = true
		part := k.Set.Part(s.Part)
		switch {
		case s.Piece == "heater":
			heaters = append(heaters, s.Part)
		case s.Sort == analysis.Rectifying:
			others = append(others, "rectifier "+s.Part)
		case part != nil && part.Kind == netlist.KindTransformer:
			others = append(others, strings.Join(strings.Fields(fmt.Sprintf("%s's %s winding", s.Part, netlist.Visible(s.Piece))), " "))
		case part != nil:
			others = append(others, string(part.Kind)+" "+s.Part)
		}
	}
	switch len(heaters) {
	case 0:
	case 1:
		others = append([]string{heaters[0] + "'s heater"}, others...)
	default:
		others = append([]string{"the heater string"}, others...)
	}
	return few(others, 3)
}

// atLeast tells whether a current is the least to reckon with: its way goes through heaters or
// lamps, which carry more while they are cold. With a rectifier taken as conducting it is the most
// already.
func (k *Case) atLeast(p *analysis.Path, state analysis.State) bool {
	if p == nil || state.Rectifier != "" {
		return false
	}
	for _, s := range p.Steps {
		part := k.Set.Part(s.Part)
		if s.Piece == "heater" || s.Sort == analysis.Load && part != nil && part.Kind == netlist.KindLamp {
			return true
		}
	}
	return false
}

// worstBlocking is the worst with all rectifiers blocking, where it is live then; else the worst.
func worstBlocking(rows []analysis.Row, index int) *analysis.Worst {
	if w := analysis.WorstOf(rows, index, func(r analysis.Row) bool { return r.State.Rectifier == "" }); w != nil && w.Class() == analysis.Live {
		return w
	}
	return analysis.WorstOf(rows, index, nil)
}

// switchWords tells the settings that some rows have in common against all states of that plug
// way: "while S1 is off", "with S1 on or off" is left unsaid.
func switchWords(rows []analysis.Row, c *analysis.Circuit) string {
	var words []string
	for _, control := range c.Switches {
		at := map[string]bool{}
		for _, r := range rows {
			at[r.State.At(control.Name)] = true
		}
		if len(at) == len(control.Positions) {
			continue
		}
		var positions []string
		for _, p := range control.Positions {
			if at[p] {
				positions = append(positions, netlist.Visible(p))
			}
		}
		verb := " is "
		if len(positions) == 0 || positions[0] != "on" && positions[0] != "off" {
			verb = " stands at "
		}
		words = append(words, control.Name+verb+strings.Join(positions, " or "))
	}
	if len(words) == 0 {
		return ""
	}
	return " while " + list(words)
}

// ofWay keeps the rows of one plug way.
func ofWay(rows []analysis.Row, way analysis.Polarity) []analysis.Row {
	var kept []analysis.Row
	for _, r := range rows {
		if r.State.Plug == way {
			kept = append(kept, r)
		}
	}
	return kept
}

// whenLive tells every plug way and switch position in which a piece of metal is live.
func whenLive(rows []analysis.Row, c *analysis.Circuit) string {
	var parts []string
	for _, way := range []analysis.Polarity{analysis.AsMarked, analysis.Reversed} {
		if of := ofWay(rows, way); len(of) > 0 {
			where := switchWords(of, c)
			if where == "" && len(c.Switches) > 0 {
				where = ", whatever the switches"
			}
			parts = append(parts, wayWords(way)+where)
		}
	}
	return strings.Join(parts, "; ")
}
