package live

import (
	"bytes"
	"fmt"
	"net/http"
	"strings"

	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
	"coldcheck/rules/rework"
)

// step is a step of a plan as a page has it: its lines of a plan file below [[steps]], so that what a person changes
// in it is read by what reads plan files.
type step struct {
	Text string `json:"text"`
	Why  string `json:"why"`
}

// What a plan at hand has at most.
const mostSteps = 100

// unnamed is what a plan is for that a page gives no name.
const unnamed = "changes tried on the bench"

// stepsOf gives the steps of a plan as a page has them.
func stepsOf(p *plan.Plan) []step {
	steps := []step{}
	for _, s := range p.Steps {
		why := s.Why
		s.Why = ""
		var b bytes.Buffer
		if (&plan.Plan{Name: unnamed, Steps: []plan.Step{s}}).Write(&b) != nil {
			continue // a value that no plan has: what was read has none
		}
		_, text, _ := strings.Cut(b.String(), stepLine)
		steps = append(steps, step{strings.TrimSpace(text), why})
	}
	return steps
}

const stepLine = "[[steps]]\n"

// planOf reads the steps of a page as a plan.
func planOf(name string, steps []step) (*plan.Plan, error) {
	if len(steps) > mostSteps {
		return nil, refuse(http.StatusUnprocessableEntity, "a plan at hand has %d steps at most", mostSteps)
	}
	if name = strings.TrimSpace(name); name == "" {
		name = unnamed
	}
	p := &plan.Plan{Name: name}
	for i, s := range steps {
		one, err := plan.Parse("", []byte("plan = \"one step\"\n"+stepLine+s.Text+"\n"))
		switch {
		case err != nil:
			return nil, refuse(http.StatusUnprocessableEntity, "step %d: %s", i+1, misread(err))
		case len(one.Steps) != 1:
			return nil, refuse(http.StatusUnprocessableEntity, "step %d is %d steps; write each as one of its own", i+1, len(one.Steps))
		}
		one.Steps[0].Number, one.Steps[0].Why = i+1, s.Why
		p.Steps = append(p.Steps, one.Steps[0])
	}
	return p, nil
}

// misread tells what is wrong with a step without the place: it stands alone.
func misread(err error) string {
	var words []string
	for _, line := range slipsOf(err) {
		if _, rest, ok := strings.Cut(line, ": "); ok {
			line = rest
		}
		words = append(words, strings.TrimPrefix(line, "step 1: "))
	}
	return strings.Join(words, "; ")
}

// staged is a set as some steps leave it.
type staged struct {
	set *netlist.Set
	key string
}

// stage carries steps out on the set of the file.
func (e *edition) stage(steps []step) (*staged, error) {
	p, err := planOf("", steps)
	if err != nil {
		return nil, err
	}
	set, err := p.ApplyAll(e.set)
	if err != nil {
		return nil, refuse(http.StatusUnprocessableEntity, "after step %d the parts are no set: %s", len(steps), misread(err))
	}
	var key strings.Builder
	for _, s := range steps {
		key.WriteString(s.Text + "\n")
	}
	return &staged{set, key.String()}, nil
}

// planAsked is a plan that is to be carried out.
type planAsked struct {
	Name  string `json:"name"`
	Steps []step `json:"steps"`
}

// planAnswer is what a plan does.
type planAnswer struct {
	Labels []string `json:"labels"` // of the steps
	Wrong  string   `json:"wrong"`  // why it cannot be carried out
	Before []tally  `json:"before"`
	After  []tally  `json:"after"`
	Cured  []item   `json:"cured"`
	Left   []item   `json:"left"`
	New    []item   `json:"new"`
	Stages []string `json:"stages"` // what stands on the way, by step, but for the last
	// Out is the step until which the plug stays out: a stage before it is worse than the set was. 0 for none.
	Out      int    `json:"out"`
	CutOff   bool   `json:"cut_off"`
	Unlooked string `json:"unlooked"`
}

type tally struct {
	Signal string `json:"signal"`
	Count  int    `json:"count"`
}

// item is a finding, and which step did what to it.
type item struct {
	Signal  string `json:"signal"`
	Message string `json:"message"`
	Rule    string `json:"rule"`
	How     string `json:"how"`
	Remedy  string `json:"remedy"`
}

func tallies(r *rules.Report) []tally {
	all := []tally{}
	for _, t := range text.Tallies(r) {
		all = append(all, tally{t.Signal.String(), t.Count})
	}
	return all
}

// rework carries a plan out and tells what it does.
func (e *edition) rework(a planAsked) (*planAnswer, error) {
	answer := &planAnswer{Labels: []string{}, Cured: []item{}, Left: []item{}, New: []item{}, Stages: []string{}, Before: []tally{}, After: []tally{}}
	p, err := planOf(a.Name, a.Steps)
	if err != nil {
		answer.Wrong = err.Error()
		return answer, nil
	}
	for i := range p.Steps {
		answer.Labels = append(answer.Labels, p.Steps[i].String())
	}
	if len(p.Steps) == 0 {
		return answer, nil
	}
	c, _, err := rework.Run(e.set, p)
	if err != nil {
		answer.Wrong = misread(err)
		return answer, nil
	}
	for i := range p.Steps {
		answer.Labels[i] = rules.StepsInWords(c.After.Case.Set, p.Steps[i:i+1])
	}
	answer.compare(c)
	return answer, nil
}

func (a *planAnswer) compare(c *rework.Comparison) {
	a.Before, a.After, a.CutOff, a.Unlooked = tallies(c.Before), tallies(c.After), c.CutOff(), text.Unlooked(c)
	before, after := c.Before.Case.Circuit, c.After.Case.Circuit
	a.Cured = itemsOf(c.Cured, func(s string) string { return phrase.InWordsOf(before, s) }, func(i rework.Item) string { return byStep(i) })
	a.New = itemsOf(c.New, func(s string) string { return phrase.InWordsOf(after, s) }, byStep)
	a.Left = itemsOf(c.Left, func(s string) string { return phrase.InWordsOf(after, s) }, func(i rework.Item) string {
		if i.Was != i.Signal {
			return "it was " + i.Was.String()
		}
		return ""
	})
	for i := range c.Stages {
		s := &c.Stages[i]
		words := ""
		switch {
		case s.Report == nil:
			words = "no set to plug in"
		case len(s.Passing) > 0:
			a.Out = max(a.Out, s.Step+1)
			for _, p := range s.Passing {
				words = strings.TrimPrefix(fmt.Sprintf("%s; %s %s", words, p.Signal, phrase.InWordsOf(s.Report.Case.Circuit, p.Message)), "; ")
			}
		case s.CordOff():
			words = "off the line"
		}
		a.Stages = append(a.Stages, words)
	}
}

// byStep tells which step did it.
func byStep(i rework.Item) string {
	switch {
	case i.Step == 0:
		return ""
	case i.From < i.Step:
		return fmt.Sprintf("by steps %d to %d together", i.From, i.Step)
	}
	return fmt.Sprintf("by step %d", i.Step)
}

func itemsOf(items []rework.Item, told func(string) string, how func(rework.Item) string) []item {
	all := []item{}
	for _, i := range items {
		all = append(all, item{i.Signal.String(), told(i.Message), i.Rule.Name, how(i), told(i.Remedy)})
	}
	return all
}
