package record

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules/phrase"
)

// Step is one thing that was done. Part is the part, or the point that was marked.
type Step struct {
	Number int    // from 1: the plan's, or in the order of the two files
	Do     string // in the words of a plan
	Part   string
	Text   string // "replaced C1: capacitor, 4.7 nF, class Y1; it was …"

	end, from, to string // of a move: end is the part, and which of its ends where several were meant
}

// stepsOf tells the steps of a plan, each by the set as it stood before and after it.
func stepsOf(p *plan.Plan, stages []plan.Stage) []Step {
	var all []Step
	for i := range p.Steps {
		s := &p.Steps[i]
		if s.Do == "mark" {
			all = append(all, marked(s.Number, s.Node, nodeAt(backwards(stages[:i+1]), s.Node), nodeAt(stages[i+1:], s.Node)))
			continue
		}
		was, is := partAt(backwards(stages[:i+1]), s.Part), partAt(stages[i+1:], s.Part)
		t := Step{Number: s.Number, Do: s.Do, Part: s.Part}
		switch s.Do {
		case "move":
			t.end, t.from, t.to = strings.TrimSpace(netlist.Visible(s.Part)+" "+netlist.Visible(s.Terminal)), s.From, s.To
			t.Text = movedWords([]string{t.end}, s.From, s.To)
		case "remove":
			t.Text = "removed " + withDetails(s.Part, was)
		case "fit":
			t.Text = "fitted " + withPlace(s.Part, is)
		case "replace":
			t.Text = replacedWords(s.Part, was, is)
		case "change":
			t.Text = "changed " + netlist.Visible(s.Part) + ": " + cmp.Or(difference(was, is), "what is noted of it")
		}
		all = append(all, t)
	}
	return all
}

// backwards are stages, the last first.
func backwards(stages []plan.Stage) []plan.Stage {
	all := slices.Clone(stages)
	slices.Reverse(all)
	return all
}

// partAt is a part at the first of some stages that is a set and has it, nil where none has.
func partAt(stages []plan.Stage, name string) *netlist.Part {
	for _, s := range stages {
		if s.Set != nil && s.Set.Part(name) != nil {
			return s.Set.Part(name)
		}
	}
	return nil
}

// nodeAt is partAt of a node.
func nodeAt(stages []plan.Stage, name string) *netlist.Node {
	for _, s := range stages {
		if s.Set != nil && s.Set.Node(name) != nil {
			return s.Set.Node(name)
		}
	}
	return nil
}

// differences tells what two files have different, in the order of the first: parts that are gone or others, then
// those that only the second has, then points.
func differences(before, now *netlist.Set) []Step {
	var all []Step
	add := func(do, part, text string) {
		all = append(all, Step{Number: len(all) + 1, Do: do, Part: part, Text: text})
	}
	for _, was := range before.Parts {
		is := now.Part(was.Name)
		switch {
		case is == nil:
			add("remove", was.Name, "removed "+withDetails(was.Name, was))
		case was.Kind != is.Kind || phrase.Details(vouched(was)) != phrase.Details(vouched(is)):
			add("replace", was.Name, replacedWords(was.Name, was, is))
		case difference(was, is) != "":
			add("change", was.Name, "changed "+netlist.Visible(was.Name)+": "+difference(was, is))
		}
	}
	for _, is := range now.Parts {
		if before.Part(is.Name) == nil {
			add("fit", is.Name, "fitted "+withPlace(is.Name, is))
		}
	}
	for _, is := range now.TouchPoints() {
		was := before.Node(is.Name)
		if was == nil || was.Touch != is.Touch || was.Guard != is.Guard || was.GuardSuspect != is.GuardSuspect {
			all = append(all, marked(len(all)+1, is.Name, was, is))
		}
	}
	return all
}

// replacedWords tells a part that took the place of another.
func replacedWords(name string, was, is *netlist.Part) string {
	words := "replaced " + withDetails(name, is)
	if was == nil || is == nil {
		return words
	}
	if !reflect.DeepEqual(was.Terminals, is.Terminals) {
		words = "replaced " + withPlace(name, is)
	}
	if phrase.Details(was) != phrase.Details(is) {
		words += "; it was " + detailsBeside(was, is)
	}
	if frame := frameWords(was, is); frame != "" {
		words += "; " + frame
	}
	return words
}

// detailsBeside tells what a part was beside what it is now: of the same kind without the kind.
func detailsBeside(was, is *netlist.Part) string {
	words := phrase.Details(was)
	if was.Kind == is.Kind {
		words = strings.TrimPrefix(words, string(was.Kind)+", ")
	}
	return words
}

// frameWords tells where a part's own metal is now, "" where it is where it was.
func frameWords(was, is *netlist.Part) string {
	switch is.Frame {
	case was.Frame:
		return ""
	case "":
		return "its metal no more on " + netlist.Visible(was.Frame)
	}
	return "its metal on " + netlist.Visible(is.Frame)
}

// withDetails tells a part by its name and what it is: "C1: capacitor, 4.7 nF, class Y1".
func withDetails(name string, p *netlist.Part) string {
	if p == nil {
		return netlist.Visible(name)
	}
	words := netlist.Visible(name) + ": " + phrase.Details(p)
	if p.Note != "" {
		words += " (" + netlist.Visible(p.Note) + ")"
	}
	return words
}

// withPlace is withDetails of a part and where it sits, if that can be told in short.
func withPlace(name string, p *netlist.Part) string {
	words := withDetails(name, p)
	if p != nil && len(p.Terminals) == 2 {
		words += ", " + phrase.Ends(p.Terminals[0].Node, p.Terminals[1].Node)
	}
	return words
}

// difference tells what is otherwise of a part that stayed, "" where nothing is.
func difference(was, is *netlist.Part) string {
	if was == nil || is == nil {
		return ""
	}
	var words []string
	switch a, b := phrase.Details(was), phrase.Details(is); {
	case a == b:
	case phrase.Details(vouched(was)) == phrase.Details(vouched(is)):
		words = append(words, fmt.Sprintf("taken as %s; it was %s", phrase.Condition(is.Condition), phrase.Condition(was.Condition)))
	default:
		words = append(words, "now "+detailsBeside(is, was)+"; it was "+detailsBeside(was, is))
	}
	words = append(words, rewired(was, is)...)
	if frame := frameWords(was, is); frame != "" {
		words = append(words, frame)
	}
	return strings.Join(words, "; ")
}

// vouched is a part as if it were known to be good.
func vouched(p *netlist.Part) *netlist.Part {
	good := *p
	good.Condition = netlist.Good
	return &good
}

// rewired tells which ends of a part went to another point.
func rewired(was, is *netlist.Part) []string {
	var words []string
	old := map[string]string{}
	for _, t := range was.Terminals {
		old[t.Name] = t.Node
	}
	for _, t := range is.Terminals {
		switch node, there := old[t.Name]; {
		case !there:
			words = append(words, netlist.Visible(t.Name)+" to "+netlist.Visible(t.Node))
		case node != t.Node:
			words = append(words, fmt.Sprintf("%s from %s to %s", netlist.Visible(t.Name), netlist.Visible(node), netlist.Visible(t.Node)))
		}
		delete(old, t.Name)
	}
	if len(old) > 0 { // other ends than it had: which is which is not told in a line
		return []string{"wired anew"}
	}
	return words
}

// marked tells what was changed of a point: nil where there was none.
func marked(number int, name string, was, is *netlist.Node) Step {
	s := Step{Number: number, Do: "mark", Part: name}
	shown := netlist.Visible(name)
	switch {
	case is == nil || is.Touch == "":
		s.Text = shown + ": noted"
	case was == nil || was.Touch == "":
		s.Text = shown + ": can be touched now"
		if is.Guard != "" {
			s.Text += ", behind a " + is.Guard
		}
	case is.Guard == "" && was.Guard != "":
		s.Text = "took the " + was.Guard + " off " + shown
	case is.Guard != "" && (was.Guard != is.Guard || was.GuardSuspect && !is.GuardSuspect):
		s.Text = "put a " + is.Guard + " on " + shown
	default:
		s.Text = shown + ": noted"
	}
	return s
}

// Done is what was done in one go: steps that moved ends from one point to another are one.
type Done struct {
	First, Last int
	Text        string
}

// Done tells the steps, those together that were done in one go.
func (r *Record) Done() []Done {
	var all []Done
	var ends []string
	for i, s := range r.Steps {
		if i > 0 && s.end != "" && r.Steps[i-1].end != "" && r.Steps[i-1].from == s.from && r.Steps[i-1].to == s.to {
			ends = append(ends, s.end)
			last := &all[len(all)-1]
			last.Last, last.Text = s.Number, movedWords(ends, s.from, s.to)
			continue
		}
		ends = []string{s.end}
		all = append(all, Done{s.Number, s.Number, s.Text})
	}
	return all
}

func movedWords(ends []string, from, to string) string {
	if len(ends) == 1 {
		return fmt.Sprintf("moved %s from %s to %s", ends[0], netlist.Visible(from), netlist.Visible(to))
	}
	return fmt.Sprintf("moved from %s to %s: %s", netlist.Visible(from), netlist.Visible(to), phrase.List(ends))
}
