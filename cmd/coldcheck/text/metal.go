package text

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"coldcheck/analysis"
	"coldcheck/analysis/trace"
	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/overview"
	"coldcheck/rules/phrase"
)

// metal tells all of one piece of metal.
func (t *report) metal(m *overview.Metal) {
	findings := m.Findings()
	t.word(m.Signal, m.Found, t.metalTitle(m, phrase.List(phrase.Visible(m.Nodes()))))
	if len(findings) > 0 {
		if path := findings[0].Path; path != nil {
			t.row("path", Path(t.c.Set, *path))
		}
		if findings[0].Rule.Failure == rules.NoFailure {
			t.row("worst", t.figures(findings[0]))
		}
	}
	if left := t.safeguardsLeft(m); left != "" && liveElsewhere(m) {
		t.row("left", "as supplied here "+left)
	} else {
		t.row("left", left)
	}
	t.row("alone", t.alone(m))
	for _, f := range m.Now {
		if f != findings[0] {
			t.row("also", withoutName(m, f.Message))
		}
		for _, note := range f.Notes {
			t.row("note", note)
		}
	}
	if len(findings) == 0 && len(m.Shared) > 0 {
		t.row("do", "As for "+netlist.Visible(m.Shared[0].Node())+": the same lets go.")
		return
	}
	t.row("do", t.remedies(findings))
}

// metalTitle says which metal it is, by some names, and the worst of it.
func (t *report) metalTitle(m *overview.Metal, names string) string {
	findings := m.Findings()
	if len(findings) > 0 && findings[0].Rule.Live {
		return strings.Replace(findings[0].Message, m.Name(), names, 1)
	}
	words := []string{"not judged, for every state shorts the line"}
	if m.Normal != nil {
		words[0] = phrase.Band(m.Normal.Class()) + ", " + currentWords(m.Normal)
	}
	switch {
	case m.Normal != nil && m.Normal.Class() == analysis.Live:
	case nearLive(m) != "":
		words = append(words, nearLive(m))
	case len(m.Now) > 0:
		words = append(words, trimmed(m, m.Now[0].Message))
	case m.Found:
		words = append(words, "with a weakened safeguard (see the parts)")
	}
	return names + ": " + strings.Join(words, "; ")
}

// nearLive tells what metal is one failure from live, a guard that is taken off aside: "" where it is not.
func nearLive(m *overview.Metal) string {
	words := ""
	for _, x := range m.Alone {
		switch {
		case x.Fault.Kind == analysis.GuardOff:
		case x.Fault.Cost == 0 && m.Points[0].Depth == 0:
			return "one doubtful part from live"
		default:
			words = "one failure from live"
		}
	}
	return words
}

// figures tells the figures of a finding against the limit, and the state.
func (t *report) figures(f *rules.Finding) string {
	w := f.Worst
	if w == nil {
		return f.Figures
	}
	state := phrase.State(w.State)
	if w.Reading == (analysis.Reading{}) {
		return strings.TrimPrefix(f.Figures+": ", ": ") + state
	}
	words := phrase.Current(w.Reading) + " through a body, " + phrase.Open(w.Reading) + " open, " + overLimit[w.Class()]
	if f.AtLeast {
		words = "at least " + words
	}
	if w.AtLimit() {
		words += ", at the limit"
	}
	return words + ": " + state
}

// overLimit tells a class of reading by the limit, beside its word.
var overLimit = map[analysis.Class]string{analysis.UnderLimit: "under ES1", analysis.Startles: "over ES1", analysis.Live: "over ES2"}

// safeguardsLeft tells how many safeguards must fail until each point is live, as marked too where that
// differs, and by what where it takes more than one.
func (t *report) safeguardsLeft(m *overview.Metal) string {
	k := t.all.Report.Case
	limit := k.Result.Options.Faults
	var classes []string
	names := map[string][]string{}
	for _, p := range m.Points {
		words := safeguardWords(p, limit)
		if names[words] == nil {
			classes = append(classes, words)
		}
		names[words] = append(names[words], phrase.Guarded(p.TouchPoint))
	}
	var all []string
	for _, words := range classes {
		if len(classes) > 1 {
			words = phrase.Few(names[words], 4) + " " + words
		}
		all = append(all, words)
	}
	text := strings.Join(all, "; ")
	foremost := m.Points[0]
	if len(classes) == 1 && foremost.DepthAsMarked == foremost.Depth && (len(m.Alone) > 0 || foremost.Depth == 0) {
		return "" // the heading says so
	}
	switch {
	case len(m.Alone) > 0 || foremost.Depth == 0:
	case len(foremost.FaultSets) == 0:
		text += t.beyondWords(foremost.Name)
	default:
		var sets []string
		for _, set := range foremost.FaultSets {
			sets = append(sets, ownFaultWords(foremost, set.Faults))
		}
		text += ": " + phrase.FewOf(sets, setsTold, "; or ", "more")
	}
	return text
}

// setsTold is how many fault sets of a point are told before the rest is only counted.
const setsTold = 3

// safeguardWords tells how many safeguards stand before a point.
func safeguardWords(p *analysis.PointResult, limit int) string {
	tell := func(n int) string {
		switch n {
		case analysis.None:
			return fmt.Sprintf("more than %d", limit)
		case 0:
			return "none"
		}
		return fmt.Sprint(n)
	}
	words := tell(p.Depth)
	if p.Depth == analysis.None || p.Depth > 0 {
		words += " " + pick(p.Depth == 1 || p.Depth == analysis.None && limit == 1, "safeguard", "safeguards")
	}
	if p.DepthAsMarked != p.Depth {
		words += ", as marked " + tell(p.DepthAsMarked)
	}
	return words
}

func pick(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

// ownFaultWords tells a set of faults of a point, its own guard as such.
func ownFaultWords(p *analysis.PointResult, faults []*analysis.Fault) string {
	if len(faults) == 0 || faults[0] != p.GuardFault {
		return phrase.FaultSet(faults)
	}
	guard := "its " + p.Guard + " off"
	if len(faults) == 1 {
		return guard
	}
	return guard + " with " + phrase.FaultSet(faults[1:])
}

// beyondWords tells the path with the fewest safeguards to a point for which no fault set was found:
// how current would come, once more failed than was looked for.
func (t *report) beyondWords(node string) string {
	best, ok := trace.FewestSafeguards(t.c, node)
	if !ok || len(best.Barriers()) == 0 {
		return ""
	}
	doubtful := 0
	for _, step := range best.Barriers() {
		if step.Cost == 0 {
			doubtful++
		}
	}
	note := ""
	if doubtful > 0 {
		note = fmt.Sprintf(", %d of them vouched for by no one", doubtful)
	}
	return fmt.Sprintf("; the path with the fewest has %d%s: %s", len(best.Barriers()), note, Path(t.c.Set, best))
}

// orderWords say what lets go, in the order in which it does in practice.
var orderWords = map[overview.Order]string{
	overview.Paper: "doubtful paper ", overview.Doubtful: "doubtful ", overview.Capacitors: "capacitor ", overview.Insulations: "insulation ",
	overview.Windings: "winding ", overview.Others: "", overview.Resistors: "resistor ",
}

// failuresTold is how many parts of a kind are told that alone make metal live.
const failuresTold = 10

// alone tells all that alone would make metal live, what lets go first in front; and up to what current.
func (t *report) alone(m *overview.Metal) string {
	var kinds []string
	if m.Normal != nil && m.Normal.Class() == analysis.Live && m.Points[0].Depth == 0 {
		return "" // nothing has to fail
	}
	for at := 0; at < len(m.Alone); {
		order := m.Alone[at].Order
		var words []string
		for ; at < len(m.Alone) && m.Alone[at].Order == order; at++ {
			words = append(words, t.failure(m.Alone[at]))
		}
		kinds = append(kinds, orderWords[order]+phrase.FewOf(words, failuresTold, ", ", "more"))
	}
	text := strings.Join(kinds, "; ")
	if w := m.OneFault; text != "" && w != nil && (m.Normal == nil || m.Normal.Class() < analysis.Live) {
		text += ": up to " + phrase.Current(w.Reading)
	}
	return text
}

// failure tells what one part is that alone makes metal live, and between what it lets go.
func (t *report) failure(x overview.Failure) string {
	set := t.c.Set
	name, where := netlist.Visible(x.Part), ""
	switch {
	case x.Fault.Kind == analysis.GuardOff:
		return set.Node(x.Part).Guard + " off " + name
	case x.Order == overview.Others:
		return phrase.Fault(x.Fault)
	case len(x.Fault.Between) == 2:
		where = phrase.Ends(x.Fault.Between[0], x.Fault.Between[1])
	}
	if x.Fault.Kind == analysis.HeaterCathode {
		where = strings.TrimSuffix("heater to cathode, "+where, ", ")
	}
	if x.Ways > 1 {
		where = strings.TrimPrefix(fmt.Sprintf("%s and %d more", where, x.Ways-1), " and ")
	}
	if len(x.With) > 0 {
		where = strings.TrimPrefix(where+", with "+phrase.List(phrase.Visible(x.With))+", doubtful", ", ")
	}
	if part := phrase.Part(set, x.Part); x.Fault.Between == nil && part != name {
		name = part
		if where != "" {
			name, where = strings.TrimSuffix(part, ")")+", "+where+")", ""
		}
	}
	if where != "" {
		name += " (" + where + ")"
	}
	return name
}

// remedies tells what to do about some findings, alike remedies once, "" where there is nothing to do.
func (t *report) remedies(findings []*rules.Finding) string {
	var order, words []string
	parts := map[string][]string{}
	for _, f := range findings {
		if f.Signal == rules.Notice || f.Signal == rules.Caution && findings[0].Signal > rules.Caution && f.Rule.Failure != rules.NoFailure {
			continue // no one is hurt by it; or good basic insulation, beside what is worse
		}
		part, shape := remedyShape(f)
		if !slices.Contains(order, shape) {
			order = append(order, shape)
		}
		if part != "" {
			parts[shape] = append(parts[shape], part)
		}
	}
	for _, shape := range order {
		words = append(words, t.sentence(t.remedy(shape, parts[shape])))
	}
	return strings.Join(words, " ")
}

// sentence makes a text one: with a capital, unless it begins with a part's name, and a full stop.
func (t *report) sentence(text string) string {
	text = strings.TrimSuffix(text, ".") + "."
	word, _, _ := strings.Cut(text, " ")
	if t.c.Set.Part(strings.TrimRight(word, ":,")) != nil {
		return text
	}
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}

// remedyShape is the part of which a finding's remedy speaks, "" where it speaks of none, and the remedy
// with a placeholder for its name.
func remedyShape(f *rules.Finding) (part, shape string) {
	if f.Rule.Failure != rules.NoFailure && len(f.Parts) > 0 {
		part = f.Parts[0]
	}
	return part, shapeOf(overview.Gist(f.Remedy), part)
}

// remedy tells a remedy for some parts: in full where it was not told yet.
func (t *report) remedy(shape string, parts []string) string {
	names := phrase.List(phrase.Visible(parts))
	first, told := t.said[shape]
	switch {
	case told && len(parts) == 0:
		return "as said " + first
	case told:
		return names + ": as said " + first
	case len(parts) == 0:
		t.said[shape] = "above"
		return shape
	}
	t.said[shape] = "of " + netlist.Visible(parts[0])
	text := strings.ReplaceAll(shape, placeholder, parts[0])
	if text == shape {
		return names + ": " + text
	}
	if len(parts) > 1 {
		text += "; likewise " + phrase.List(phrase.Visible(parts[1:]))
	}
	return text
}

// placeholder stands for a part's name in the shape of a remedy.
const placeholder = "\x00"

// shapeOf is a remedy with a placeholder for its part.
func shapeOf(remedy, part string) string {
	if part == "" {
		return remedy
	}
	var b strings.Builder
	for rest := remedy; ; {
		i := strings.Index(rest, part)
		if i < 0 {
			b.WriteString(rest)
			return b.String()
		}
		before, _ := utf8.DecodeLastRuneInString(rest[:i])
		after, _ := utf8.DecodeRuneInString(rest[i+len(part):])
		b.WriteString(rest[:i])
		if partOfName(before) || partOfName(after) {
			b.WriteString(part)
		} else {
			b.WriteString(placeholder)
		}
		rest = rest[i+len(part):]
	}
}

func partOfName(r rune) bool {
	return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r))
}

// hands tells what passes from metal to metal.
func (t *report) hands() {
	for _, f := range t.all.Hands {
		t.Blank()
		t.word(f.Signal, true, f.Message)
		if f.Worst != nil {
			t.row("state", phrase.State(f.Worst.State))
		}
		t.row("note", strings.Join(f.Notes, "; "))
		t.row("do", t.remedies([]*rules.Finding{f}))
	}
}

// ideas tells a section of ideas, each in a block.
func (t *report) ideas(title string, ideas []overview.Idea) {
	if len(ideas) == 0 {
		return
	}
	t.Blank()
	t.Title(title)
	var notices []string
	for _, i := range ideas {
		if i.Signal() > rules.Notice {
			t.idea(i)
		} else {
			notices = append(notices, t.ideaWords(i))
		}
	}
	if len(notices) > 0 {
		t.word(rules.Notice, true, strings.Join(notices, "; "))
	}
}

// idea tells what one rule found, of all its parts, and what to do about it.
func (t *report) idea(i overview.Idea) {
	text := t.ideaWords(i)
	if remedy := t.remedies(i.Findings); remedy != "" {
		text = strings.TrimSuffix(text, ".") + ". " + remedy
	}
	t.word(i.Signal(), true, text)
	for _, f := range i.Findings {
		if f.Path != nil {
			t.row("path", Path(t.c.Set, *f.Path))
			t.row("worst", t.figures(f))
		}
	}
}

// ideaWords tells what one rule found. Of a NOTICE the notes and the state are left to JSON.
func (t *report) ideaWords(i overview.Idea) string {
	var words, notes, states []string
	for _, f := range i.Findings {
		words = append(words, f.Message)
		notes = append(notes, f.Notes...)
		if f.Worst != nil && f.Path == nil {
			states = append(states, phrase.State(f.Worst.State))
		}
	}
	if i.Signal() > rules.Notice {
		words = append(words, notes...)
		slices.Sort(states)
		if states = slices.Compact(states); len(states) > 0 {
			words[len(words)-1] += " (" + strings.Join(states, "; ") + ")"
		}
	}
	return strings.Join(words, "; ")
}

// cares tells each caution once.
func (t *report) cares() {
	t.Title("Take care")
	var all []string
	for _, c := range t.all.Cares {
		all = append(all, c.Text)
	}
	t.indented(rowIndent, strings.Join(all, " "))
}
