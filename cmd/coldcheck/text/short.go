package text

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/rules"
	"coldcheck/rules/overview"
	"coldcheck/rules/phrase"
)

// ShortLine is a line of the answer, behind a signal word where Found.
type ShortLine struct {
	Signal rules.Signal
	Found  bool
	Text   string
}

// ShortLines is the answer in short, in the words of the set's plug, without what to do first.
func ShortLines(o *overview.Overview) []ShortLine {
	t := &report{all: o, c: o.Report.Case.Circuit}
	lines := t.shortLines()
	for i := range lines {
		lines[i].Text = phrase.InWordsOf(t.c, lines[i].Text)
	}
	return lines
}

// inShort tells the answer, and what to do first.
func (t *report) inShort() {
	for _, l := range t.shortLines() {
		t.word(l.Signal, l.Found, l.Text)
	}
	t.word(0, false, "first: "+t.firstWords())
}

// shortLines are a line or two for each piece of metal, then what passes from hand to hand, the line side and
// the parts.
func (t *report) shortLines() []ShortLine {
	var lines []ShortLine
	for _, m := range t.all.Metals {
		lines = append(lines, ShortLine{m.Signal, m.Found, t.metalShort(m)})
	}
	if len(t.all.Report.Case.Metals) > 1 {
		lines = append(lines, t.handsShort()...)
	}
	return append(lines, ideasShort("line side", t.all.Line, "nothing was found on it"), ideasShort("parts", t.all.Parts, "nothing was found of them alone"))
}

// cut tells by how much the search was cut, where nothing else of the report does.
func (t *report) cut() {
	if words := Reduced(t.all.Report.Case.Result); words != "" {
		t.word(0, false, "search cut: "+words)
	}
	if words := Unpaired(t.all.Report.Case.Result); words != "" {
		t.word(0, false, "not looked at: "+words)
	}
}

// metalShort tells a piece of metal: its names, what it does in which everyday state, and what it does
// with every switch off.
func (t *report) metalShort(m *overview.Metal) string {
	words := namesOf(m) + ": " + t.nowWords(m)
	if liveElsewhere(m) {
		words = namesOf(m) + " " + withoutName(m, m.Now[0].Message) + "; as supplied here: " + t.band(m, m.Normal)
	}
	if off := t.offWords(m); off != "" {
		words += "; " + off
	}
	return words
}

// liveElsewhere reports whether metal is told as live, and is not on the supply at hand: that is the
// bench's doing, or the building's.
func liveElsewhere(m *overview.Metal) bool {
	return len(m.Now) > 0 && m.Now[0].Rule.Live && (m.Normal == nil || m.Normal.Class() < analysis.Live)
}

// namesOf are the names of a piece of metal, with what keeps fingers off each.
func namesOf(m *overview.Metal) string {
	var names []string
	for _, p := range m.Points {
		names = append(names, phrase.Guarded(p.TouchPoint))
	}
	return phrase.List(names)
}

// nowWords tells what metal does in everyday use, and how far it is from live.
func (t *report) nowWords(m *overview.Metal) string {
	words := t.band(m, m.Normal)
	switch {
	case m.Normal != nil && m.Normal.Class() == analysis.Live:
	case nearLive(m) != "":
		words += ", " + nearLive(m)
	case m.Normal != nil && m.Normal.Class() == analysis.UnderLimit && len(m.Now) > 0:
		words += "; " + trimmed(m, m.Now[0].Message)
	}
	return words
}

// band tells where metal stands: "live, 60.4 mA (plug reversed, S1 on)".
func (t *report) band(m *overview.Metal, w *analysis.Worst) string {
	if w == nil {
		return "not judged, for every state shorts the line"
	}
	words := phrase.Band(w.Class())
	if m.Guarded() && w.Class() == analysis.Live {
		words += " behind its guard"
	}
	words += ", "
	if len(m.Now) > 0 && m.Now[0].AtLeast && sameState(m.Now[0].Worst, w) {
		words += "at least "
	}
	words += currentWords(w)
	state := w.State
	if alikeOff(m) {
		words += " on or off"
		state.Settings = slices.DeleteFunc(slices.Clone(state.Settings), func(x analysis.Setting) bool { return t.c.TurnsOff(x.Name) })
	}
	if phrase.Current(w.Reading) == noCurrent {
		return words
	}
	return words + " (" + phrase.State(state) + ")"
}

// currentWords tells a current, and the volts beside one that would startle were they higher.
func currentWords(w *analysis.Worst) string {
	words := phrase.Current(w.Reading)
	if w.Class() == analysis.UnderLimit && (w.Milliamps > analysis.ES1AmpsAC || w.MilliampsDC > analysis.ES1AmpsDC) {
		words += " at " + phrase.Open(w.Reading)
	}
	return words
}

// alikeOff reports whether metal is as bad with every switch off as at its worst, the plug as it is there.
func alikeOff(m *overview.Metal) bool {
	if m.Off == nil || m.Normal == nil || m.Off.Class() != m.Normal.Class() || m.Off.State.Plug != m.Normal.State.Plug {
		return false
	}
	return !m.Normal.WorseThan(m.Off) && !m.Off.WorseThan(m.Normal)
}

// noCurrent is how a current is told that is none.
const noCurrent = "0 mA"

func sameState(a, b *analysis.Worst) bool {
	return a != nil && b != nil && phrase.State(a.State) == phrase.State(b.State)
}

// offWords tells what metal does with every switch off, either way of the plug, where that differs from
// the worst.
func (t *report) offWords(m *overview.Metal) string {
	switch {
	case !m.HasOff:
		return "off: there is no switch"
	case m.Off == nil:
		return "off: not judged, for it shorts the line"
	case alikeOff(m):
		return "" // told with the worst
	}
	if phrase.Current(m.Off.Reading) == noCurrent {
		return "off: " + noCurrent
	}
	words := fmt.Sprintf("off: %s, %s", phrase.Band(m.Off.Class()), currentWords(m.Off))
	if m.Off.Class() == analysis.UnderLimit {
		return words
	}
	return words + " (" + phrase.Plug(m.Off.State.Plug) + ")"
}

// trimmed is a finding's message without the names of its metal and without its figures.
func trimmed(m *overview.Metal, message string) string {
	text := withoutName(m, message)
	if i := strings.Index(text, ": "); i > 0 {
		text = text[:i]
	}
	return text
}

// withoutName is a message without the names of its metal, with which it begins.
func withoutName(m *overview.Metal, message string) string {
	return strings.TrimPrefix(message, m.Name()+" ")
}

// handsShort tells what passes from one piece of metal to another, if anything can.
func (t *report) handsShort() []ShortLine {
	if len(t.all.Hands) > 0 {
		more := ""
		if n := len(t.all.Hands) - 1; n > 0 {
			more = fmt.Sprintf("; %d more", n)
		}
		return []ShortLine{{t.all.Hands[0].Signal, true, "metal to metal: " + t.all.Hands[0].Message + more}}
	}
	p := t.all.WorstPair()
	if p == nil {
		return nil
	}
	words := fmt.Sprintf("metal to metal: %s, %s at most, %s to %s", phrase.Band(p.Normal.Class()), currentWords(p.Normal), phrase.Guarded(p.A), phrase.Guarded(p.B))
	if phrase.Current(p.Normal.Reading) == noCurrent {
		words = "metal to metal: " + noCurrent
	}
	return []ShortLine{{Text: words}}
}

// ideasShort tells ideas in a line: which parts, and what of them.
func ideasShort(label string, ideas []overview.Idea, none string) ShortLine {
	if len(ideas) == 0 {
		return ShortLine{Text: label + ": " + none}
	}
	var words []string
	for _, i := range ideas {
		if i.Signal() == rules.Notice && ideas[0].Signal() > rules.Notice {
			continue
		}
		text := i.Short()
		if parts := partsOf(i); len(parts) > 0 && i.OfParts() {
			text = phrase.Few(phrase.Visible(parts), partsInShort) + " " + text
		}
		words = append(words, text)
	}
	return ShortLine{ideas[0].Signal(), true, label + ": " + strings.Join(words, "; ")}
}

// partsInShort is how many parts of an idea are named in short.
const partsInShort = 2

// partsOf are the parts of an idea, each once. A path's parts say nothing by themselves.
func partsOf(i overview.Idea) []string {
	var parts []string
	seen := map[string]bool{}
	for _, f := range i.Findings {
		if f.Path != nil {
			continue
		}
		for _, name := range f.Parts {
			if !seen[name] {
				seen[name] = true
				parts = append(parts, name)
			}
		}
	}
	return parts
}

// First tells what to do first, in the words of the set's plug.
func First(o *overview.Overview) string {
	t := &report{all: o, c: o.Report.Case.Circuit, said: map[string]string{}}
	return phrase.InWordsOf(t.c, t.firstWords())
}

// firstWords tells what to do first: the remedy of the worst finding.
func (t *report) firstWords() string {
	f := t.all.Worst()
	if f == nil || f.Signal < rules.Warning {
		return "check what the file says against the set, then coldcheck checklist"
	}
	_, shape := remedyShape(f)
	t.said[shape] = "under first"
	remedy := lowered(overview.RemedyOf(f))
	if f.Signal == rules.Danger {
		return "pull the plug and leave it out; then " + remedy
	}
	return remedy
}

// lowered begins a text with a small letter, unless it begins with a name.
func lowered(s string) string {
	first, rest, _ := strings.Cut(s, " ")
	if len(first) > 1 && first[1] >= 'a' && first[1] <= 'z' {
		return strings.TrimRight(strings.ToLower(first[:1])+first[1:]+" "+rest, ". ")
	}
	return strings.TrimRight(s, ". ")
}
