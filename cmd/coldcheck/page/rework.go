package page

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
	"coldcheck/rules/rework"
)

// mostOnTheWay is how many stages between the first and the last have drawings of their own.
const mostOnTheWay = 4

// reworkView is a plan with what it does, ready for the template.
type reworkView struct {
	Name, Plan    string
	Before, After []text.Tally
	Wait          string // until when the plug stays out
	Steps         []planStep
	Bench         benchView
	Last          int    // of the slider
	Names         string // of its places, one a line
	Done          string // how many steps are done at each
	Metals        []comparedView
	Groups        []itemGroup
	Changes       []changeView
	Unlooked      string // the stages on the way that were not looked at, "" where all were
	Checks        []stageChecks
	ID            string
}

// stageChecks is the checklist of a stage.
type stageChecks struct {
	ID, Stage, Checks string
	Checklist         checklistView
}

// planStep is a step with what it cures and brings.
type planStep struct {
	Text          string
	Cures, Brings []string
	Stands        string // a hazard of the way that stands once it is done
	Go            int    // where the slider stands once it is done, -1 where that stage has no drawings
}

// comparedView is a piece of metal as found, now and in the end.
type comparedView struct {
	Name          string
	Before, After int
	Stages        string // its number at each stage
}

// itemGroup is findings that are cured, new or left.
type itemGroup struct {
	Title, None string
	Items       []itemView
}

type itemView struct{ Signal, Message, How string }

// changeView is a touch point before and after.
type changeView struct{ Name, Before, After string }

// Rework writes a page about a plan or two sets: what it cures, leaves and brings, and a bench on which both
// stand in one state.
func Rework(w io.Writer, c *rework.Comparison) error {
	v := newRework(c)
	return (&document{Title: v.Name + ": before and after", Rework: v}).write(w)
}

// shownStage is a stage that has drawings.
type shownStage struct {
	step   int
	name   string
	report *rules.Report
	sheet  *sheet
}

func newRework(c *rework.Comparison) *reworkView {
	stages := shownStages(c)
	v := &reworkView{ID: "rework", Name: netlist.Visible(c.Before.Case.Set.Name), Before: text.Tallies(c.Before), After: text.Tallies(c.After),
		Changes: changes(c.Before, c.After), Unlooked: text.Unlooked(c), Last: len(stages) - 1}
	for _, x := range []struct {
		id string
		r  *rules.Report
	}{{"before", c.Before}, {"after", c.After}} {
		of := x.r.Case.Circuit
		v.Checks = append(v.Checks, stageChecks{x.id, capital(x.id), sentence(capital(text.BenchChecks(of))), newChecklist(of)})
	}
	var names, done []string
	for i := range stages {
		names, done = append(names, stages[i].name), append(done, fmt.Sprint(stages[i].step))
	}
	v.Names, v.Done = strings.Join(names, "\n"), strings.Join(done, " ")
	if c.Plan != nil {
		v.Plan = netlist.Visible(c.Plan.Name)
		v.addSteps(c, stages)
	} else {
		v.Plan = netlist.Visible(c.After.Case.Set.Name)
	}
	v.addBench(stages)
	v.addMetals(stages)
	v.addItems(c)
	return v
}

// shownStages are the first stage, the last, and of those between the ones at which what stands changes.
func shownStages(c *rework.Comparison) []shownStage {
	first, last := shownStage{name: "as found", report: c.Before}, shownStage{name: "done", report: c.After}
	if c.Plan != nil {
		last.step = len(c.Plan.Steps)
	} else {
		last.step = 1
	}
	var between []shownStage
	before := strong(c.Before)
	for i := range c.Stages {
		s := &c.Stages[i]
		if s.Report == nil {
			continue
		}
		if now := strong(s.Report); now != before {
			before = now
			between = append(between, shownStage{step: s.Step, name: fmt.Sprintf("after step %d", s.Step), report: s.Report})
		}
	}
	all := []shownStage{first}
	for i, s := range between {
		if n := len(between); n <= mostOnTheWay || i*mostOnTheWay/n != (i-1)*mostOnTheWay/n || i == 0 {
			all = append(all, s)
		}
	}
	all = append(all, last)
	for i := range all {
		all[i].sheet = newSheet(all[i].report.Case)
		all[i].report.Case.Circuit.Forget()
	}
	return all
}

// strong tells apart what stands at WARNING and more.
func strong(r *rules.Report) string {
	var b strings.Builder
	for _, f := range r.Findings {
		if f.Signal >= rules.Warning {
			fmt.Fprintf(&b, "%s %q;", f.Rule.Name, f.Nodes)
		}
	}
	return b.String()
}

func (v *reworkView) addSteps(c *rework.Comparison, stages []shownStage) {
	for i, s := range c.Plan.Steps {
		step := planStep{Text: s.String()}
		step.Go = slices.IndexFunc(stages, func(x shownStage) bool { return x.step == i+1 })
		for _, x := range c.Cured {
			if x.Step == i+1 {
				step.Cures = append(step.Cures, x.Signal.String()+": "+phrase.InWordsOf(c.Before.Case.Circuit, x.Message))
			}
		}
		for _, x := range c.New {
			if x.Step == i+1 {
				step.Brings = append(step.Brings, x.Signal.String()+": "+phrase.InWordsOf(c.After.Case.Circuit, x.Message))
			}
		}
		v.Steps = append(v.Steps, step)
	}
	from, until := 0, 0
	for _, s := range c.Stages {
		for _, p := range s.Passing {
			if until < p.Until {
				until = p.Until
			}
			if from == 0 {
				from = s.Step
			}
			step := &v.Steps[s.Step-1]
			if step.Stands == "" {
				step.Stands = fmt.Sprintf("%s on the way: %s; plug stays out until step %d is done", p.Signal, phrase.InWordsOf(s.Report.Case.Circuit, p.Message), p.Until)
			}
		}
	}
	v.Wait = "Keep the plug out from the first step to the last, the reservoirs discharged and measured."
	if until > 0 {
		v.Wait = fmt.Sprintf("After step %d the set is worse than it was: the plug stays out until step %d is done. %s", from, until, v.Wait)
	}
}

// addBench puts all stages onto one bench.
func (v *reworkView) addBench(stages []shownStage) {
	v.Bench = benchView{ID: v.ID, Data: &benchData{}}
	m := merged{view: &v.Bench.Controls, faults: map[string]int{}}
	for i := range stages {
		m.add(stages[i].sheet.controls(analysis.State{}), stages[i].sheet)
	}
	for i := range stages {
		s := &stages[i]
		stage := s.sheet.stage(fmt.Sprintf("%s-s%d", v.ID, i), s.name)
		v.Bench.Stages = append(v.Bench.Stages, stage)
		v.Bench.Data.Stages = append(v.Bench.Data.Stages, s.sheet.data())
		v.Bench.Data.Stages[i].Line = stage.line
		v.Bench.Data.Controls = append(v.Bench.Data.Controls, m.controlsOf(s.sheet))
		v.Bench.Data.Faults = append(v.Bench.Data.Faults, m.faultsOf(s.sheet))
	}
	v.Bench.Data.shareWords()
	v.Bench.Controls.Jumps = stages[0].sheet.jumps(analysis.State{})
	m.renumber(v.Bench.Controls.Jumps, stages[0].sheet)
	v.Bench.Legend = legendOf(v.Bench.Stages...)
}

// merged are the controls of several sets as one.
type merged struct {
	view   *controlsView
	faults map[string]int // by words
}

func (m *merged) add(v controlsView, s *sheet) {
	if m.view.Plug == nil {
		m.view.Plug = v.Plug
	}
	for _, c := range v.Controls {
		i := slices.IndexFunc(m.view.Controls, func(x controlView) bool { return x.Name == c.Name })
		if i < 0 {
			i = len(m.view.Controls)
			m.view.Controls = append(m.view.Controls, controlView{Index: i, Name: c.Name})
		}
		at := &m.view.Controls[i]
		for _, o := range c.Options {
			if !slices.ContainsFunc(at.Options, func(x optionView) bool { return x.Label == o.Label }) {
				at.Options = append(at.Options, optionView{Value: len(at.Options), Label: o.Label, Chosen: len(at.Options) == 0})
			}
		}
	}
	m.view.Dropped += v.Dropped
	m.view.Supply = m.options(m.view.Supply, v.Supply)
	for _, g := range v.Single {
		i := slices.IndexFunc(m.view.Single, func(x groupView) bool { return x.Label == g.Label })
		if i < 0 {
			i = len(m.view.Single)
			m.view.Single = append(m.view.Single, groupView{Label: g.Label})
		}
		m.view.Single[i].Options = m.options(m.view.Single[i].Options, g.Options)
	}
}

// options adds what is new of a set's failures.
func (m *merged) options(have, more []optionView) []optionView {
	for _, o := range more {
		if _, known := m.faults[o.Label]; !known {
			n := len(m.faults)
			m.faults[o.Label] = n
			have = append(have, optionView{Value: n, Label: o.Label, Chosen: n == 0})
		}
	}
	return have
}

// words tells the failures of a set as its controls do.
func (s *sheet) faultLabels() []string {
	var words []string
	for i := range s.FaultSets {
		words = append(words, s.wrongWords(i))
	}
	return words
}

// faultsOf tells which of a set's failures each of the bench is, -1 for none.
func (m *merged) faultsOf(s *sheet) []int {
	list := slices.Repeat([]int{-1}, len(m.faults))
	for i, label := range s.faultLabels() {
		if n, ok := m.faults[label]; ok {
			list[n] = i
		}
	}
	return list
}

// controlsOf tells which of the bench's controls each of a set's is.
func (m *merged) controlsOf(s *sheet) []control {
	list := []control{}
	for _, c := range s.Circuit.Switches {
		of := slices.IndexFunc(m.view.Controls, func(x controlView) bool { return x.Name == netlist.Visible(c.Name) })
		x := control{Of: of}
		for _, o := range m.view.Controls[of].Options {
			x.At = append(x.At, slices.IndexFunc(c.Positions, func(p string) bool { return netlist.Visible(p) == o.Label }))
		}
		list = append(list, x)
	}
	return list
}

// renumber gives the buttons of the first set the numbers of the bench.
func (m *merged) renumber(jumps []jumpView, s *sheet) {
	labels := s.faultLabels()
	for i := range jumps {
		jumps[i].Fault = m.faults[labels[jumps[i].Fault]]
	}
}

// addMetals sets the metal of all stages beside each other.
func (v *reworkView) addMetals(stages []shownStage) {
	last := len(stages) - 1
	place := func(s *sheet, node string) int {
		return slices.IndexFunc(s.scenes, func(x *scene) bool { return slices.Contains(x.metal.Nodes(), node) })
	}
	known := map[string]bool{}
	for _, s := range stages {
		for _, x := range s.sheet.scenes {
			if known[x.Node] {
				continue
			}
			var at []string
			for _, o := range stages {
				at = append(at, fmt.Sprint(place(o.sheet, x.Node)))
			}
			for _, n := range x.metal.Nodes() {
				known[n] = true
			}
			v.Metals = append(v.Metals, comparedView{Name: x.name(), Before: place(stages[0].sheet, x.Node), After: place(stages[last].sheet, x.Node), Stages: strings.Join(at, " ")})
		}
	}
}

// addItems tells what is cured, new and left.
func (v *reworkView) addItems(c *rework.Comparison) {
	for _, g := range []struct {
		title, none string
		items       []rework.Item
		of          *analysis.Circuit
	}{
		{"New", "Nothing is new.", c.New, c.After.Case.Circuit},
		{"Left", "Nothing is left of what was found.", c.Left, c.After.Case.Circuit},
		{"Cured", "Nothing is cured.", c.Cured, c.Before.Case.Circuit},
	} {
		group := itemGroup{Title: g.title, None: g.none}
		for _, i := range g.items {
			how := ""
			switch {
			case c.Plan != nil && i.Step > 0 && i.From < i.Step:
				how = fmt.Sprintf("by steps %d to %d together", i.From, i.Step)
			case c.Plan != nil && i.Step > 0:
				how = fmt.Sprintf("by step %d", i.Step)
			case g.title == "Left" && i.Was != i.Signal:
				how = "it was " + i.Was.String()
			}
			group.Items = append(group.Items, itemView{i.Signal.String(), sentence(phrase.InWordsOf(g.of, i.Message)), how})
		}
		v.Groups = append(v.Groups, group)
	}
}

// changes sets the touch points of two reports beside each other, those of the first in its order,
// then those that only the second has.
func changes(before, after *rules.Report) []changeView {
	const gone = "not there"
	limit := func(r *rules.Report) int { return r.Case.Result.Options.Faults }
	var list []changeView
	for _, p := range before.Case.Result.Points {
		c := changeView{Name: phrase.Guarded(p.TouchPoint), Before: text.Depth(p.Depth, limit(before)), After: gone}
		if q := after.Case.Result.Point(p.Name); q != nil {
			c.After = text.Depth(q.Depth, limit(after))
		}
		list = append(list, c)
	}
	for _, q := range after.Case.Result.Points {
		if before.Case.Result.Point(q.Name) == nil {
			list = append(list, changeView{phrase.Guarded(q.TouchPoint), gone, text.Depth(q.Depth, limit(after))})
		}
	}
	return list
}
