package plan

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/tomltext"
	"coldcheck/netlist/internal/words"
	"coldcheck/netlist/setfile"
)

// emptyPlan is what a plan without content is told.
const emptyPlan = `begin it with plan = "what it is for", then [[steps]] and a step below it, like do = "remove" and part = "R1"`

// Parse reads a plan. The error, where there is one, is Problems, and then there is no plan.
func Parse(file string, data []byte) (*Plan, error) {
	start := netlist.Pos{File: file, Line: 1, Col: 1}
	if strings.TrimSpace(strings.TrimPrefix(string(data), tomltext.ByteOrderMark)) == "" {
		return nil, netlist.Problems{{Pos: start, Text: "the plan is empty; " + emptyPlan}}
	}
	p := tomltext.Parse(file, data)
	if p.Root == nil {
		return nil, p.Problems
	}
	r := &planReader{plan: &Plan{File: file}, problems: p.Problems, lost: p.Lost != ""}
	r.root(p.Root, start)
	if len(r.problems) > 0 {
		return nil, r.problems.Sorted()
	}
	return r.plan, nil
}

// planReader makes a plan out of a file and goes on after a problem, so that all are found.
type planReader struct {
	plan     *Plan
	problems netlist.Problems
	lost     bool // a line could not be read: what is missing may have stood there
}

func (r *planReader) addf(pos netlist.Pos, format string, args ...any) {
	r.problems.Addf(pos, format, args...)
}

func (r *planReader) root(t *netlist.Table, start netlist.Pos) {
	for _, e := range t.Entries {
		switch e.Key {
		case "format":
			if n, ok := e.Value.Data.(int64); !ok || n != 1 {
				r.addf(e.Value.Pos, "format is 1 and no other; write format = 1, or leave it out")
			}
		case "plan":
			name, ok := e.Value.Data.(string)
			r.plan.Name = strings.TrimSpace(name)
			switch {
			case !ok:
				r.addf(e.Value.Pos, "plan is %s; write in quotes what it is for, like %s", e.Value.Describe(), planKeys[0].Example)
			case r.plan.Name == "" || words.HasControl(r.plan.Name):
				r.addf(e.Value.Pos, "plan has no name on one line; write in quotes what it is for, like %s", planKeys[0].Example)
			}
		case "steps":
			r.steps(e)
		default:
			r.unknownTop(e)
		}
	}
	if !t.Has("plan") && !r.lost {
		r.addf(start, "the plan has no name; write at the top what it is for, like %s", planKeys[0].Example)
	}
	if !t.Has("steps") && !r.lost {
		r.addf(start, "the plan has no steps; add [[steps]] and below it what is done, like do = \"remove\" and part = \"R1\"")
	}
}

func (r *planReader) unknownTop(e netlist.Entry) {
	_, isTable := e.Value.Data.(*netlist.Table)
	switch near := words.Nearest(e.Key, netlist.KeyNames(planKeys)); {
	case near != "":
		r.addf(e.Pos, "%s is not a key of a plan; did you mean %s?", words.Quote(e.Key), near)
	case isTable && setfile.IsSetSection(e.Key):
		r.addf(e.Pos, "[%s] belongs to a set file, and this file is a plan; a plan has plan = \"…\" and [[steps]] alone", words.Visible(e.Key))
	case netlist.FindKey(stepKeys, e.Key) != nil:
		r.addf(e.Pos, "%s stands before the first step; put a line [[steps]] above it", e.Key)
	default:
		r.addf(e.Pos, "%s is not a key of a plan; it has %s", words.Quote(e.Key), words.And(netlist.KeyNames(planKeys)))
	}
}

func (r *planReader) steps(e netlist.Entry) {
	items, ok := e.Value.Data.([]netlist.Value)
	switch {
	case !ok:
		r.addf(e.Pos, "steps is %s; write [[steps]], with two brackets, before each step", e.Value.Describe())
		return
	case len(items) == 0:
		r.addf(e.Value.Pos, "the plan has no steps; add [[steps]] and below it what is done, like do = \"remove\" and part = \"R1\"")
	}
	for i, item := range items {
		t, ok := item.Data.(*netlist.Table)
		if !ok {
			r.addf(item.Pos, "step %d is %s; write [[steps]] on a line of its own and the step below it", i+1, item.Describe())
			continue
		}
		r.plan.Steps = append(r.plan.Steps, r.step(i+1, t))
	}
}

// step reads one step.
func (r *planReader) step(number int, t *netlist.Table) Step {
	s := Step{Number: number, Pos: t.Pos, places: map[string]netlist.Pos{}}
	texts := map[string]*string{"do": &s.Do, "part": &s.Part, "node": &s.Node, "terminal": &s.Terminal, "from": &s.From, "to": &s.To}
	for _, e := range t.Entries {
		s.places[e.Key] = e.Value.Pos
		into, isText := texts[e.Key]
		switch {
		case isText:
			text, ok := e.Value.Data.(string)
			*into = strings.TrimSpace(text)
			if !ok {
				r.addf(e.Value.Pos, "step %d: %s is %s; write text in quotes, like %s", number, e.Key, e.Value.Describe(), netlist.FindKey(stepKeys, e.Key).Example)
			} else if *into == "" {
				r.addf(e.Value.Pos, "step %d: %s is empty; write it like %s", number, e.Key, netlist.FindKey(stepKeys, e.Key).Example)
			}
		case e.Key == "as":
			as, ok := e.Value.Data.(*netlist.Table)
			if !ok {
				r.addf(e.Value.Pos, "step %d: as is %s; write its keys between braces, like %s", number, e.Value.Describe(), netlist.FindKey(stepKeys, "as").Example)
				continue
			}
			s.As = as
		default:
			r.unknownStepKey(number, e)
		}
	}
	r.checkStep(&s, t)
	return s
}

func (r *planReader) unknownStepKey(number int, e netlist.Entry) {
	if near := words.Nearest(e.Key, netlist.KeyNames(stepKeys)); near != "" {
		r.addf(e.Pos, "step %d has no key %s; did you mean %s?", number, words.Quote(e.Key), near)
		return
	}
	for _, k := range netlist.Kinds() {
		if netlist.FindKey(k.Keys, e.Key) != nil || netlist.FindKey(netlist.PartKeys(), e.Key) != nil {
			r.addf(e.Pos, "step %d: %s is a key of a part; put it between the braces of as = { … }", number, e.Key)
			return
		}
	}
	r.addf(e.Pos, "step %d has no key %s; a step takes %s", number, words.Quote(e.Key), words.Choices(netlist.KeyNames(stepKeys)))
}

// checkStep sees to it that a step has the keys of what it does, and no others.
func (r *planReader) checkStep(s *Step, t *netlist.Table) {
	v := findVerb(s.Do)
	if v == nil {
		r.unknownVerb(s, t)
		return
	}
	for _, key := range v.required {
		if !t.Has(key) && !r.lost {
			r.addf(s.Pos, "step %d: %s has no %s; write %s", s.Number, s.Do, key, v.example)
		}
	}
	for _, e := range t.Entries {
		takes := e.Key == "do" || slices.Contains(v.required, e.Key) || slices.Contains(v.optional, e.Key)
		if !takes && netlist.FindKey(stepKeys, e.Key) != nil {
			r.addf(e.Pos, "step %d: %s takes no %s; write %s", s.Number, s.Do, e.Key, v.example)
		}
	}
	if s.As == nil {
		return
	}
	kind, hasKind := s.As.Get("kind")
	switch s.Do {
	case "replace", "fit":
		if !hasKind && s.Do == "fit" && len(s.As.Entries) > 0 {
			r.addf(s.places["as"], "step %d: as says no kind; begin it with what the part is, like as = { kind = \"capacitor\", … }", s.Number)
		} else if hasKind {
			r.stepKind(s, kind)
		}
	case "change":
		if hasKind {
			r.addf(kind.Pos, "step %d: change leaves a part what it is; to put another kind in its place, write do = \"replace\"", s.Number)
		}
	}
	if len(s.As.Entries) == 0 {
		r.addf(s.places["as"], "step %d: as is empty; write %s", s.Number, v.example)
	}
}

// stepKind takes the kind of a part that is fitted; a word of the trade is written back as ours.
func (r *planReader) stepKind(s *Step, kind netlist.Entry) {
	word, ok := kind.Value.Data.(string)
	switch meant := netlist.KindMeant(word); {
	case !ok:
		r.addf(kind.Value.Pos, "step %d: kind is %s; write a word in quotes, like kind = \"resistor\"", s.Number, kind.Value.Describe())
	case meant == netlist.Can():
		r.addf(kind.Value.Pos, "step %d: a can is several parts, and a step fits one; write a step for each section, like part = \"C1A\", as = { kind = \"capacitor\", … }", s.Number)
	case meant != nil:
		kind.Value.Data = string(meant.Kind)
		s.As.Set(kind)
	}
}

// otherVerbs answers the words that people try.
var otherVerbs = map[string]string{
	"add": "fit", "insert": "fit", "install": "fit", "new": "fit", "delete": "remove", "cut": "remove", "lift": "move", "rewire": "move",
	"swap": "replace", "exchange": "replace", "renew": "replace", "set": "change", "edit": "change", "guard": "mark", "cover": "mark",
}

func (r *planReader) unknownVerb(s *Step, t *netlist.Table) {
	switch {
	case !t.Has("do"):
		if !r.lost {
			r.addf(s.Pos, "step %d does not say what is done; add do = \"…\", one of %s", s.Number, words.Choices(verbNames()))
		}
		return
	case s.Do == "": // told already
		return
	}
	meant := otherVerbs[strings.ToLower(s.Do)]
	if meant == "" {
		meant = words.Nearest(s.Do, verbNames())
	}
	hint := "it is one of " + words.Choices(verbNames())
	if meant != "" {
		hint = fmt.Sprintf("did you mean %q? It is one of %s", meant, words.Choices(verbNames()))
	}
	r.addf(s.places["do"], "step %d: do = %s is not known; %s", s.Number, words.Quote(s.Do), hint)
}
