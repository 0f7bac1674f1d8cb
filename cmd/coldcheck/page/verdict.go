package page

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/overview"
	"coldcheck/rules/phrase"
)

// verdictView is the answer that a person sees first.
type verdictView struct {
	Signal   string       // "" where nothing was found
	Sentence string       // what is live, when, how much
	First    string       // what to do first
	Metal    *rules.Metal // that of the sentence, nil where there is none
	Turned   string       // the controls that stand elsewhere than at rest then, "" for none
	State    analysis.State
	Picture  pictureView
	Tiles    []tileView
	More     []tileView // folded
}

// tileView is one piece of metal at a glance.
type tileView struct {
	Target              string // the id of its card
	Names               []string
	Others              int // names that are not told
	Signal, Band        string
	Most, State         string
	Off, Left, OneFault string
}

// pictureView is the plug and the switches in a state.
type pictureView struct {
	Title    string
	Crossed  bool // the plug turned
	Blades   [2]string
	Hot      int // which blade is hot
	BothHot  bool
	Switches []switchView
}

type switchView struct {
	Name, At, Symbol string
	Y, TextY         int
}

// What the first screen of a phone holds.
const (
	tilesShown    = 4
	tileNames     = 2
	switchesDrawn = 2
	firstLetters  = 190
)

func newVerdict(r *rules.Report, id string) verdictView {
	o := overview.Of(r)
	worst, first := o.Worst(), text.First(o)
	if worst != nil && worst.Signal == rules.Warning {
		first = "pull the plug; then " + first // of a DANGER it says so by itself
	}
	v := verdictView{First: shortened(sentence(capital(first)), firstLetters)}
	if worst != nil {
		v.Signal = worst.Signal.String()
	}
	words := func(s string) string { return phrase.InWordsOf(r.Case.Circuit, s) }
	var shown *analysis.Worst
	if len(o.Metals) > 0 {
		m := foremostOf(o)
		v.Metal = m.Metal
		v.Sentence, shown = metalSentence(m, oneFaultOf(m, worst))
	} else {
		v.Sentence = "The file describes no metal that a hand can reach."
	}
	if worst != nil && worst.Signal == rules.Danger && !worst.Rule.Touch() {
		v.Sentence = sentence(capital(worst.Message)) + " " + v.Sentence
	}
	v.Sentence = words(v.Sentence)
	state := r.Case.Circuit.NormalAtRest()[0]
	if shown != nil {
		state = shown.State
	}
	v.Turned, v.State = phrase.List(phrase.TurnedAway(state.Controls)), state
	v.Picture = pictureOf(r.Case.Circuit, state)
	for _, m := range o.Metals {
		v.Tiles = append(v.Tiles, tileOf(r, m, id, words))
	}
	if len(v.Tiles) > tilesShown {
		v.Tiles, v.More = v.Tiles[:tilesShown-1], v.Tiles[tilesShown-1:]
	}
	return v
}

// foremostOf is the metal of the sentence: the first, or another that one failure makes worse where all are
// as calm with nothing failed.
func foremostOf(o *overview.Overview) *overview.Metal {
	best := o.Metals[0]
	if best.Normal != nil && best.Normal.Class() > analysis.UnderLimit {
		return best
	}
	for _, m := range o.Metals {
		if m.OneFault.WorseThan(best.OneFault) {
			best = m
		}
	}
	return best
}

// oneFaultOf is the failure that is told of a piece of metal: that of the worst finding, which says what to do first,
// where it is about this metal and as bad; else the one with the most current.
func oneFaultOf(m *overview.Metal, worst *rules.Finding) *analysis.Worst {
	if worst == nil || worst.Worst == nil || m.OneFault == nil || len(worst.Worst.State.Faults) != 1 || worst.Worst.Class() < m.OneFault.Class() {
		return m.OneFault
	}
	if slices.ContainsFunc(m.Points, func(p *analysis.PointResult) bool { return slices.Contains(worst.Nodes, p.Name) }) {
		return worst.Worst
	}
	return m.OneFault
}

// metalSentence tells what metal does, when, and how much, and in which state it does.
func metalSentence(m *overview.Metal, one *analysis.Worst) (string, *analysis.Worst) {
	name := metalName(m)
	current := func(w *analysis.Worst) string {
		return fmt.Sprintf("%s through a body with %s", phrase.Current(w.Reading), phrase.State(w.State))
	}
	be, guard := phrase.Be(len(m.Points)), ""
	if m.Guarded() {
		guard = ", behind its guard"
	}
	liveByOne, more := one != nil && one.Class() == analysis.Live, ""
	if one != nil && m.OneFault.Severity() > clearlyMore*one.Severity() {
		more = "; another passes " + phrase.Current(m.OneFault.Reading)
	}
	switch {
	case m.Normal == nil && one == nil:
		return "Every state of the set shorts the line.", nil
	case m.Normal != nil && m.Normal.Class() == analysis.Live:
		return fmt.Sprintf("%s %s live%s: %s.", name, be, guard, current(m.Normal)), m.Normal
	case m.Normal != nil && m.Normal.Class() == analysis.Startles:
		words := fmt.Sprintf("%s %s%s: %s.", name, phrase.Verb(len(m.Points), "startle"), guard, current(m.Normal))
		if liveByOne {
			words += fmt.Sprintf(" One failure makes %s live: %s.", phrase.Pick(len(m.Points), "it", "them"), phrase.Current(one.Reading))
		}
		return words, m.Normal
	case liveByOne:
		return fmt.Sprintf("With nothing wrong no metal was found over the limit. One failure makes %s live%s: %s%s.", name, guard, current(one), more), one
	case one != nil && one.Class() == analysis.Startles:
		return fmt.Sprintf("With nothing wrong no metal was found over the limit. With one failure %s %s%s: %s.", name, phrase.Verb(len(m.Points), "startle"), guard, current(one)), one
	}
	return "No metal was found over the limit, with nothing wrong or with one failure.", m.Normal
}

// clearlyMore is by how much another failure must pass more current to be told too.
const clearlyMore = 1.1

// metalName names a piece of metal in a few words, to begin a sentence.
func metalName(m *overview.Metal) string {
	var names []string
	for _, p := range m.Points {
		names = append(names, netlist.Visible(p.Name))
	}
	return phrase.Few(names, tileNames)
}

func tileOf(r *rules.Report, m *overview.Metal, id string, words func(string) string) tileView {
	t := tileView{Left: leftWords(m, r.Case.Result.Options.Faults)}
	for i, p := range m.Points {
		if i < tileNames {
			t.Names = append(t.Names, phrase.Guarded(p.TouchPoint))
		} else {
			t.Others++
		}
	}
	if i := slices.IndexFunc(r.Case.Metals, func(x *rules.Metal) bool { return x == m.Metal }); i >= 0 {
		t.Target = cardID(id, i)
	}
	if m.Found {
		t.Signal = m.Signal.String()
	}
	t.Band, t.Most = "not judged", "shorts the line"
	if m.Normal != nil {
		t.Band, t.Most, t.State = phrase.Band(m.Normal.Class()), phrase.Current(m.Normal.Reading), words(phrase.State(m.Normal.State))
	}
	switch {
	case !m.HasOff:
		t.Off = "no switch"
	case m.Off == nil:
		t.Off = "shorts the line"
	default:
		t.Off = phrase.Current(m.Off.Reading)
		if m.Off.Class() > analysis.UnderLimit {
			t.Off += ", " + phrase.Band(m.Off.Class())
		}
	}
	if m.OneFault != nil && m.OneFault.WorseThan(m.Normal) && (m.Normal == nil || m.OneFault.Class() > m.Normal.Class()) {
		t.OneFault = phrase.Current(m.OneFault.Reading) + ", " + phrase.Band(m.OneFault.Class())
	}
	return t
}

// cardID is the id of the card of a piece of metal.
func cardID(set string, metal int) string { return fmt.Sprintf("%s-m%d", set, metal+1) }

// leftWords tells how many safeguards are left, of bare metal and of what has a guard.
func leftWords(m *overview.Metal, limit int) string {
	least, most := m.Points[0].Depth, m.Points[0].Depth
	rank := func(d int) int {
		if d == analysis.None {
			return limit + 1
		}
		return d
	}
	for _, p := range m.Points {
		if rank(p.Depth) < rank(least) {
			least = p.Depth
		}
		if rank(p.Depth) > rank(most) {
			most = p.Depth
		}
	}
	words := text.Depth(least, limit)
	if least == 0 {
		words = "none"
	}
	if most != least {
		words += ", behind its guard " + text.Depth(most, limit)
	}
	return words
}

// pictureOf draws the plug and the first switches of a state.
func pictureOf(c *analysis.Circuit, state analysis.State) pictureView {
	_, plug := c.Set.Plug()
	p := pictureView{Title: capital(phrase.InWordsOf(c, phrase.State(state))), Crossed: state.Plug == analysis.Reversed, Hot: state.Plug.HotBlade(), BothHot: c.BothHot()}
	p.Blades = [2]string{netlist.Visible(plug.Hot), netlist.Visible(plug.Neutral)}
	for i := range p.Blades {
		p.Blades[i] = shorten(p.Blades[i], 9)
	}
	for _, s := range state.Settings {
		if len(p.Switches) == switchesDrawn || !slices.ContainsFunc(c.Switches, func(x analysis.Switch) bool { return x.Name == s.Name }) {
			continue
		}
		symbol := "switch"
		switch {
		case c.Set.Part(s.Name).Kind == netlist.KindSelector:
			symbol = "selector"
		case s.At == "off":
			symbol = "switch-open"
		}
		y := 20 + 40*len(p.Switches)
		p.Switches = append(p.Switches, switchView{Name: shorten(netlist.Visible(s.Name), 6), At: shorten(netlist.Visible(s.At), 7), Symbol: symbol, Y: y, TextY: y + 24})
	}
	return p
}

// shortened cuts a text at a word, where it is long.
func shortened(s string, letters int) string {
	r := []rune(s)
	if len(r) <= letters {
		return s
	}
	cut := string(r[:letters])
	if i := strings.LastIndexAny(cut, " "); i > 0 {
		cut = cut[:i]
	}
	return strings.TrimRight(cut, " ,;:") + " …"
}
