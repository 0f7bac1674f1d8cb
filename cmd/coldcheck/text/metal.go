package text

import (
	"fmt"
	"strings"

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
		if n == 0 {
			return "none"
		}
		return Depth(n, limit)
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
