package plan

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
	"coldcheck/netlist/setfile"
)

// Stage is a set as it stands after so many steps of a plan.
type Stage struct {
	Step     int               // how many steps are done; 0 is the set as it was
	Document *netlist.Document // what is written down
	Set      *netlist.Set      // nil where that is no set
	Problems netlist.Problems  // why it is none
}

// Apply carries a plan out on a set, step by step. The first stage is the set as it was, the last
// the set as it will be. The error is Problems: a step that does not fit the set at its point, or
// an end that is no set; then there are no stages.
//
// Readings were taken on the set as it was and are left out from the first step on.
func (p *Plan) Apply(set *netlist.Set) ([]Stage, error) {
	stages := []Stage{{Step: 0, Document: set.Document(), Set: set}}
	a := newApplier(set)
	for i := range p.Steps {
		s := &p.Steps[i]
		a.step(s)
		stage := Stage{Step: s.Number, Document: a.doc.Clone()}
		dropUnused(stage.Document, set)
		if len(a.problems) == 0 {
			stage.Set, stage.Problems = setfile.Check(stage.Document)
		}
		stages = append(stages, stage)
	}
	if len(a.problems) > 0 {
		return nil, a.problems
	}
	if last := stages[len(stages)-1]; last.Set == nil {
		return nil, p.blame(stages)
	}
	return stages, nil
}

// ApplyAll carries a plan out and gives the set as it will be, without the stages between.
func (p *Plan) ApplyAll(set *netlist.Set) (*netlist.Set, error) {
	a := newApplier(set)
	for i := range p.Steps {
		a.step(&p.Steps[i])
	}
	if len(a.problems) > 0 {
		return nil, a.problems
	}
	dropUnused(a.doc, set)
	return setfile.Build(a.doc)
}

// dropUnused takes out of [nodes] the points that a set used, that no part uses now, and that no
// one touches: nothing is left of them. A touch point stays, for its metal is still there.
func dropUnused(d *netlist.Document, before *netlist.Set) {
	if d.Nodes == nil {
		return
	}
	used := usedNodes(d)
	d.Nodes.Entries = slices.DeleteFunc(d.Nodes.Entries, func(e netlist.Entry) bool {
		name := strings.TrimSpace(e.Key)
		t, ok := e.Value.Data.(*netlist.Table)
		return ok && !t.Has("touch") && !used[name] && before.Node(name) != nil
	})
}

// usedNodes are the points that terminals and frames are on.
func usedNodes(d *netlist.Document) map[string]bool {
	used := map[string]bool{}
	for i := range d.Parts {
		for _, s := range slotsOf(&d.Parts[i]) {
			used[s.node()] = true
		}
	}
	return used
}

// blame names, for each thing that is wrong with the last stage, the step that brought it about.
func (p *Plan) blame(stages []Stage) netlist.Problems {
	var problems netlist.Problems
	last := stages[len(stages)-1]
	for _, wrong := range last.Problems {
		first := len(stages) - 1
		for first > 1 && hasProblem(stages[first-1].Problems, wrong.Text) {
			first--
		}
		step := p.Steps[stages[first].Step-1]
		pos := step.Pos
		if wrong.Pos.File == p.File && wrong.Pos.Line > 0 {
			pos = wrong.Pos
		}
		problems.Addf(pos, "step %d (%s) leaves what is no set: %s", step.Number, step.String(), wrong.Text)
	}
	return problems.Sorted()
}

func hasProblem(problems netlist.Problems, text string) bool {
	return slices.ContainsFunc(problems, func(p netlist.Problem) bool { return p.Text == text })
}

// applier carries out one step after the other and goes on after a step that does not fit.
type applier struct {
	doc      *netlist.Document
	problems netlist.Problems
	gone     map[string]int  // parts taken out, and by which step
	spoilt   map[string]bool // parts of which a step did not fit: what follows from it is not told
}

func newApplier(set *netlist.Set) *applier {
	a := &applier{doc: set.Document(), gone: map[string]int{}, spoilt: map[string]bool{}}
	a.doc.Readings = nil
	return a
}

// misfit tells that a step does not fit the set at its point.
func (a *applier) misfit(s *Step, key, format string, args ...any) {
	pos, ok := s.places[key]
	if !ok {
		pos = s.Pos
	}
	a.problems.Addf(pos, "step %d: %s", s.Number, fmt.Sprintf(format, args...))
	a.spoilt[s.Part] = true
}

func (a *applier) step(s *Step) {
	switch s.Do {
	case "replace":
		if w := a.part(s); w != nil {
			a.replace(s, w)
		}
	case "remove":
		if a.part(s) != nil {
			a.doc.Remove(s.Part)
			a.gone[s.Part] = s.Number
		}
	case "fit":
		a.fit(s)
	case "move":
		if w := a.part(s); w != nil {
			a.move(s, w)
		}
	case "change":
		if w := a.part(s); w != nil {
			a.change(s, w)
		}
	case "mark":
		a.mark(s)
	}
}

// part finds the part of a step, or tells that it is not there and what may have been meant.
func (a *applier) part(s *Step) *netlist.WrittenPart {
	if w := a.doc.Part(s.Part); w != nil {
		return w
	}
	names := make([]string, len(a.doc.Parts))
	for i := range a.doc.Parts {
		names[i] = a.doc.Parts[i].Name
	}
	near := words.Nearest(s.Part, names)
	switch step := a.gone[s.Part]; {
	case a.spoilt[s.Part]:
	case step > 0:
		a.misfit(s, "part", "%s is not there any more: step %d removed it; take one of the two steps out, or change their order", words.Quote(s.Part), step)
	case near != "":
		a.misfit(s, "part", "the set has no part %s at this point; did you mean %s?", words.Quote(s.Part), words.Quote(near))
	default:
		a.misfit(s, "part", "the set has no part %s at this point; it has %s", words.Quote(s.Part), words.Some(names))
	}
	return nil
}

// written is the part that a step puts in.
func (s *Step) written() netlist.WrittenPart {
	keys := s.As.Clone()
	kind, _ := keys.Get("kind")
	keys.Delete("kind")
	word, _ := kind.Value.Data.(string)
	return netlist.WrittenPart{Name: s.Part, Kind: word, KindPos: kind.Value.Pos, Section: "parts", Pos: s.places["part"], Keys: keys}
}

// replace puts another part in the place of one. What the step does not say of its kind and its ends is as it was.
func (a *applier) replace(s *Step, w *netlist.WrittenPart) {
	old, section := *w, w.Section
	*w = s.written()
	if w.Kind == "" {
		w.Kind, w.KindPos = old.Kind, w.Pos
	}
	takeOverEnds(w, &old)
	a.vouch(w)
	if info := netlist.FindKind(netlist.Kind(w.Kind)); info != nil && info.Section == section {
		w.Section = section
	}
}

// takeOverEnds gives a part of which no end is said those of the part whose place it takes, as far as its
// kind has the same.
func takeOverEnds(w, old *netlist.WrittenPart) {
	info, was := netlist.FindKind(netlist.Kind(w.Kind)), netlist.FindKind(netlist.Kind(old.Kind))
	if info == nil || was == nil || slices.ContainsFunc(info.Terminals, w.Keys.Has) {
		return
	}
	style, said := w.Keys.Get("style")
	for _, key := range info.Terminals {
		e, ok := old.Keys.Get(key)
		unearthed := info.Kind == netlist.KindPlug && key == "earth" && said && style.Value.Data != "grounding"
		if ok && slices.Contains(was.Terminals, key) && !unearthed {
			w.Keys.Set(e)
		}
	}
}

func (a *applier) fit(s *Step) {
	if there := a.doc.Part(s.Part); there != nil {
		if !a.spoilt[s.Part] {
			a.misfit(s, "part", "%s is there already (%s); write do = \"replace\", or give the new part a name of its own, like %s",
				words.Quote(s.Part), whatIs(there), a.doc.FreeName(strings.TrimRight(s.Part, "0123456789")))
		}
		return
	}
	delete(a.gone, s.Part)
	w := s.written()
	a.vouch(&w)
	a.doc.Fit(w)
}

// vouch says of a part that a step fits that it is good, where the set says otherwise of all that has no
// condition of its own. A paper capacitor is none to vouch for, and a safety class speaks for itself.
func (a *applier) vouch(w *netlist.WrittenPart) {
	kind, _ := w.Keys.Get("type")
	capacitor := w.Kind == string(netlist.KindCapacitor)
	if !a.doubted() || w.Keys.Has("condition") || capacitor && (kind.Value.Data == "paper" || w.Keys.Has("class")) {
		return
	}
	w.Keys.Set(netlist.Entry{Key: "condition", Pos: w.Pos, Value: netlist.Value{Pos: w.Pos, Data: string(netlist.Good)}})
}

// doubted reports whether the set says of all that has no condition of its own that it is not good.
func (a *applier) doubted() bool {
	said, ok := a.doc.Header.Get("condition")
	return ok && said.Value.Data != string(netlist.Good)
}

// whatIs says what a part is: "a capacitor".
func whatIs(w *netlist.WrittenPart) string {
	if info := netlist.FindKind(netlist.Kind(w.Kind)); info != nil {
		return "a " + string(info.Kind)
	}
	return "a part"
}

// change gives a part other keys. A key that can only stand in the place of another takes it out.
func (a *applier) change(s *Step, w *netlist.WrittenPart) {
	if info := netlist.FindKind(netlist.Kind(w.Kind)); info != nil {
		ways := netlist.Alternatives(info.Keys)
		for i, way := range ways {
			if slices.ContainsFunc(way, s.As.Has) {
				for _, key := range slices.Concat(slices.Concat(ways[:i]...), slices.Concat(ways[i+1:]...)) {
					w.Keys.Delete(key)
				}
			}
		}
		for _, k := range info.Keys { // of two names of one key
			switch {
			case k.Same == "":
			case s.As.Has(k.Name):
				w.Keys.Delete(k.Same)
			case s.As.Has(k.Same):
				w.Keys.Delete(k.Name)
			}
		}
	}
	for _, e := range s.As.Clone().Entries {
		w.Keys.Set(e)
	}
}

// mark gives a point other keys.
func (a *applier) mark(s *Step) {
	used := usedNodes(a.doc)
	if !used[s.Node] && s.Node != netlist.BuildingEarth {
		hint := words.Meant(words.Nearest(s.Node, slices.Sorted(maps.Keys(used))), "mark a point that a part is on")
		a.misfit(s, "node", "no part is on the point %s here; %s", words.Quote(s.Node), hint)
		return
	}
	if a.doc.Nodes == nil {
		a.doc.Nodes = &netlist.Table{Pos: s.Pos, Header: true}
	}
	for i := range a.doc.Nodes.Entries {
		e := &a.doc.Nodes.Entries[i]
		if t, ok := e.Value.Data.(*netlist.Table); ok && strings.TrimSpace(e.Key) == s.Node {
			as := a.marked(s, t)
			for _, k := range as.Entries {
				t.Set(k)
			}
			return
		}
	}
	a.doc.Nodes.Set(netlist.Entry{Key: s.Node, Pos: s.places["node"], Value: netlist.Value{Pos: s.places["as"], Data: a.marked(s, nil)}})
}

// marked are the keys that a step gives a point, which has some already or none. A guard that is new is as
// good as a part that is.
func (a *applier) marked(s *Step, has *netlist.Table) *netlist.Table {
	as := s.As.Clone()
	guard, ok := as.Get("guard")
	before, _ := has.Get("guard")
	if ok && before.Value.Data != guard.Value.Data && !as.Has("guard_condition") && !has.Has("guard_condition") && a.doubted() {
		as.Set(netlist.Entry{Key: "guard_condition", Pos: guard.Pos, Value: netlist.Value{Pos: guard.Value.Pos, Data: string(netlist.Good)}})
	}
	return as
}
