package page

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/survey"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
)

// view is one set, ready for the template.
type view struct {
	ID        string
	Stage     string // "before", "after", or ""
	Name      string
	File      string
	Mains     string
	Inventory string
	Extra     []string
	Note      string
	Tally     []text.Tally
	Nothing   bool
	Verdict   verdictView
	Bench     benchView
	Lesson    lessonView
	Found     findingsView
	Points    []pointView
	Limit     int
	Guards    bool
	Marked    bool // the plug tells its blades apart
	Pairs     []pairView
	Stored    []string
	Unseen    []string
	Missing   string
	NotJudged string
	Checks    string
	Checklist checklistView
}

// benchView is where states are set, with what they do.
type benchView struct {
	ID       string
	Controls controlsView
	Stages   []stageView
	Legend   legendView
	Data     *benchData
	Turned   string // the controls that the verdict's state turns away from where the bench has them
}

// stageView is a set on the bench: of a rework there are several.
type stageView struct {
	Title  string
	Line   *lineView // nil where there is no metal
	Metals []metalView
	line   *metalData
}

// metalView is one card of the page: the figures and the drawing of a piece of metal.
type metalView struct {
	ID, Name, Points string
	Depth            string
	Drawing, Tall    *drawing // for a wide screen, for a narrow one
	Routes           []routeView
	Further          string
	Shown            shownView
	Worst            string // its state, in words
}

type routeView struct {
	Text, Between string
	State         string
	Words         string
	Seldom        bool // told where it brings current alone
	Left          bool // to the script, for it is not told where scripts are off
}

// shownView is what a card shows of one state.
type shownView struct {
	Meter, Body, Head, Verdict, Note string
	Band                             int
	AC, DC                           int
	At                               string // the point of a piece of metal, where that has to be told
}

// jumpView is a button that sets a state.
type jumpView struct {
	Label             string
	Fault, Way, Combo int
}

type controlsView struct {
	Jumps    []jumpView
	Plug     []optionView
	Controls []controlView
	Single   []groupView
	Supply   []optionView // neutral lost, earth contact open
	Dropped  int
}

type optionView struct {
	Value         int
	Label, Detail string
	Chosen        bool
}

type controlView struct {
	Index   int
	Name    string
	Options []optionView
}

type groupView struct {
	Label   string
	Options []optionView
}

type pointView struct {
	Name, Depth, AsMarked, Normal, OneFault, Sets string
}

type pairView struct{ Names, Normal, OneFault string }

// setsListed is how many fault sets of a point are listed before the rest is only counted.
const setsListed = 5

func newView(r *rules.Report, id, stage string) *view {
	k := r.Case
	sheet := newSheet(k)
	v := &view{
		ID: id, Stage: stage, Name: netlist.Visible(k.Set.Name), File: netlist.Visible(k.Set.File), Mains: text.Mains(k.Set),
		Inventory: text.Inventory(k.Circuit), Note: netlist.Visible(k.Set.Note), Limit: k.Result.Options.Faults,
		Nothing: len(r.Findings) == 0, Missing: strings.Join(text.Undescribed(k.Set), ", "), Unseen: text.BlindSpots(k),
		Checks: sentence(capital(text.BenchChecks(k.Circuit))), Checklist: newChecklist(k.Circuit), Tally: text.Tallies(r), Verdict: newVerdict(r, id),
	}
	if _, plug := k.Set.Plug(); plug.Style != "plain" {
		v.Marked = true
	}
	v.Extra = supplyWords(k.Circuit)
	for _, m := range k.Metals {
		for _, p := range m.Points {
			v.Guards = v.Guards || p.GuardFault != nil
		}
	}
	bench := sheet.stage(id, "")
	v.Bench = benchView{ID: id, Controls: sheet.controls(v.Verdict.State), Stages: []stageView{bench}, Legend: legendOf(bench), Data: &benchData{Stages: []*dataView{sheet.data()}}}
	v.Bench.Data.Stages[0].Line = bench.line
	if _, held := sheet.placeOf(v.Verdict.State); !held {
		v.Bench.Turned = v.Verdict.Turned
	}
	v.Bench.Data.shareWords()
	v.Lesson = sheet.lesson(r, max(0, slices.Index(k.Metals, v.Verdict.Metal)))
	v.Found = findingsOf(r, id, func(*rules.Finding) int { return noPlan })
	v.points(k)
	v.pairs(k)
	for _, s := range k.Result.Stored {
		v.Stored = append(v.Stored, storedWords(s))
	}
	for _, cut := range []string{text.Unpaired(k.Result), text.Reduced(k.Result)} {
		if cut != "" {
			v.Unseen = append([]string{cut}, v.Unseen...)
		}
	}
	if controls := len(k.Circuit.Controls); controls > len(sheet.Turned) {
		v.Unseen = append([]string{"controls elsewhere than at the middle or at full, in the drawings and their states; the findings reckon with every position"}, v.Unseen...)
	} else if controls > 0 {
		v.Unseen = append([]string{"a control away from the middle or from full beside a failure, or two of them at once, in the drawings and their states; the findings reckon with both"}, v.Unseen...)
	}
	if n := k.Result.NotJudged; n.States > 0 {
		v.NotJudged = fmt.Sprintf("%d of %d states with no fault or one: they short the line, and a breaker opens.", n.States, n.Of)
	}
	k.Circuit.Forget() // a page may hold several sets
	return v
}

// stage is the set on the bench.
func (s *sheet) stage(id, title string) stageView {
	v := stageView{Title: title}
	v.Line, v.line = s.line(id)
	for i, scene := range s.scenes {
		v.Metals = append(v.Metals, s.metal(scene, i, cardID(id, i)))
	}
	return v
}

func supplyWords(c *analysis.Circuit) []string {
	var words []string
	if on := text.OnBuildingEarth(c.Set); on != "" {
		words = append(words, on)
	}
	if both := text.NotAtNeutral(c); both != "" {
		words = append(words, both)
	}
	if c.Bench.Isolated {
		words = append(words, "Supply: an isolating transformer; the isolation is the bench's, and gone with the next outlet.")
	}
	if len(c.Bench.Earthed) > 0 {
		words = append(words, "Tied to earth on the bench: "+strings.Join(phrase.Visible(c.Bench.Earthed), ", ")+".")
	}
	return words
}

// worstOf tells the worst of several states in the words of the set's plug.
func worstOf(k *rules.Case) func(*analysis.Worst) string {
	return func(w *analysis.Worst) string { return phrase.InWordsOf(k.Circuit, text.WorstWords(w)) }
}

// sentence gives a phrase its full stop.
func sentence(s string) string {
	if s == "" || strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?") {
		return s
	}
	return s + "."
}

func (v *view) points(k *rules.Case) {
	worst := worstOf(k)
	for _, p := range k.Result.Points {
		out := pointView{Name: phrase.Guarded(p.TouchPoint), Depth: text.Depth(p.Depth, v.Limit), AsMarked: text.Depth(p.DepthAsMarked, v.Limit),
			Normal: worst(p.Normal), OneFault: worst(p.OneFault)}
		var sets []string
		for _, set := range p.FaultSets {
			if len(set.Faults) == 0 {
				sets = append(sets, "nothing has to fail")
				continue
			}
			sets = append(sets, faultsWords(k.Set, set.Faults))
		}
		out.Sets = phrase.FewOf(sets, setsListed, "; ", "more")
		if out.Sets == "" {
			out.Sets = fmt.Sprintf("nothing was found up to %d", v.Limit)
		}
		v.addPoint(out)
	}
}

// addPoint adds a row to the table of points, or its name to a row that says the same.
func (v *view) addPoint(p pointView) {
	for i := range v.Points {
		q := v.Points[i]
		q.Name = p.Name
		if q == p {
			v.Points[i].Name += ", " + p.Name
			return
		}
	}
	v.Points = append(v.Points, p)
}

// pairs tells what is found hand to hand, between pieces of metal.
func (v *view) pairs(k *rules.Case) {
	worst := worstOf(k)
	first := map[string]bool{}
	for _, m := range k.Metals {
		first[m.Node()] = true
	}
	for _, p := range k.Result.Between {
		if first[p.A.Name] && first[p.B.Name] {
			v.Pairs = append(v.Pairs, pairView{phrase.Guarded(p.A) + " and " + phrase.Guarded(p.B), worst(p.Normal), worst(p.OneFault)})
		}
	}
}

func storedWords(s analysis.Stored) string {
	return fmt.Sprintf("%s keeps %s; %s", netlist.Visible(s.Part), phrase.Charge(s), phrase.Drain(s.Seconds))
}

// metal makes the card of a scene in its worst state, which stands where scripts are off.
func (s *sheet) metal(scene *scene, i int, id string) metalView {
	worst := s.Worst(i)
	e := s.At(worst, i)
	m := metalView{ID: id, Name: scene.name(), Depth: depthSentence(scene.depth(), s.k.Result.Options.Faults), Shown: shown(e), Worst: s.stateWords(worst, e)}
	polarity, lost := s.States[worst.State].Plug, lostBlade(s.Circuit, s.FaultSets[worst.Faults])
	title := fmt.Sprintf("Ways from the plug to %s", m.Name)
	draw := func(f form, key, title string) *drawing {
		d := newLayout(scene, f).draw(id+key, title)
		d.show(e, s.Circuit, polarity, lost)
		return d
	}
	m.Drawing, m.Tall = draw(form{fold: true}, "-f", title), draw(form{fold: true, tall: true}, "-t", title)
	m.Routes = scene.routes(e)
	if scene.Further > 0 {
		m.Further = fmt.Sprintf("%d more %s found that bring nothing to speak of.", scene.Further, phrase.Pick(scene.Further, "way was", "ways were"))
	}
	return m
}

// routes tell the ways to a piece of metal, and what they do in a state.
func (s *scene) routes(e *survey.Evaluation) []routeView {
	var all []routeView
	for n, p := range s.Paths {
		all = append(all, routeView{Text: s.pathLine(p), Between: s.safeguards(p), State: string(pathLetters[e.Paths[n]]), Words: pathWords[e.Paths[n]],
			Seldom: p.Seldom, Left: p.Seldom && e.Paths[n] != survey.Brings})
	}
	return all
}

// name tells a piece of metal with all its points.
func (s *scene) name() string {
	var names []string
	for _, p := range s.metal.Points {
		names = append(names, phrase.Guarded(p.TouchPoint))
	}
	return phrase.Metal(names)
}

func depthSentence(depth, limit int) string {
	switch depth {
	case analysis.None:
		return fmt.Sprintf("No set of up to %d failures was found that makes it live.", limit)
	case 0:
		return "No safeguard stands between it and the line."
	case 1:
		return "One safeguard stands between it and the line."
	}
	return fmt.Sprintf("%d safeguards stand between it and the line.", depth)
}

// pathLine tells a path in a line, heaters and wires behind one another together.
func (s *scene) pathLine(r *survey.Path) string {
	words := []string{netlist.Visible(r.Nodes[0])}
	for i := 0; i < len(r.Branches); {
		n := 1
		e := s.branches[r.Branches[i]]
		for e.heater() && i+n < len(r.Branches) && s.branches[r.Branches[i+n]].heater() {
			n++
		}
		if n >= foldFrom {
			var names []string
			for _, k := range r.Branches[i : i+n] {
				if name := netlist.Visible(s.branches[k].name()); !slices.Contains(names, name) {
					names = append(names, name)
				}
			}
			words = append(words, "heaters of "+strings.Join(names, ", "))
		} else {
			n = 1
			words = append(words, e.short())
		}
		i += n
		words = append(words, netlist.Visible(r.Nodes[i]))
	}
	return strings.Join(words, alongWay)
}

// safeguards tells which safeguards are in a path.
func (s *scene) safeguards(r *survey.Path) string {
	var words []string
	for _, i := range r.Branches {
		if e := s.branches[i]; e.Safeguard() {
			guard := e.guardWords()
			if e.Reservoir {
				guard += ", none while a rectifier conducts"
			}
			words = append(words, fmt.Sprintf("%s (%s)", netlist.Visible(e.name()), guard))
		}
	}
	if len(words) == 0 {
		return "nothing stands between"
	}
	return "between: " + strings.Join(words, betweenIt)
}
