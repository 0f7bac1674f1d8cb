package live

import (
	"html/template"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
)

// findingsAnswer is what the rules say of the file.
type findingsAnswer struct {
	Edition int           `json:"edition"`
	Tried   bool          `json:"tried"` // the remedies were tried; else a page is told when they are
	Tally   []tally       `json:"tally"`
	Depths  []depthView   `json:"depths"`
	HTML    template.HTML `json:"html"`
	Plans   []proposal    `json:"plans"` // by finding: of a remedy that was tried and holds; empty for none
	// Everyday and OneFailure are the states that read worst, nil where none startles.
	Everyday   *asked `json:"everyday"`
	OneFailure *asked `json:"one_failure"`
}

// depthView is how many safeguards stand before a point.
type depthView struct {
	Node  string `json:"node"`
	Words string `json:"words"`
}

type findingView struct {
	Signal, Message, Path, State, Figures, Between, Remedy, Caution, Rule string
	Notes                                                                 []string
	Plan                                                                  int // in Plans, -1 for none
}

// answerFindings tells the findings of the set: with remedies that were tried where the background has come so far.
func answerFindings(e *edition, _ struct{}) (*findingsAnswer, error) {
	report := e.triedReport.Load()
	tried := report != nil
	if !tried {
		report = e.report()
	}
	answer, err := e.findings(report)
	if err == nil {
		answer.Tried = tried
	}
	return answer, err
}

func (e *edition) findings(r *rules.Report) (*findingsAnswer, error) {
	answer := &findingsAnswer{Edition: e.number, Tally: tallies(r), Depths: []depthView{}, Plans: []proposal{}}
	told := func(text string) string { return phrase.InWordsOf(r.Case.Circuit, text) }
	views := []findingView{}
	for i := range r.Findings {
		f := &r.Findings[i]
		v := findingView{Signal: f.Signal.String(), Message: told(f.Message), Figures: told(f.Figures), Between: f.Between, Remedy: told(f.Remedy),
			Caution: told(f.Caution), Rule: f.Rule.Name, Plan: -1}
		for _, n := range f.Notes {
			v.Notes = append(v.Notes, told(n))
		}
		if f.Path != nil {
			v.Path = text.Path(r.Case.Set, *f.Path)
		}
		if f.Worst != nil {
			v.State = told(phrase.State(f.Worst.State))
		}
		if p, err := plan.Parse("", []byte(f.RemedyPlan)); err == nil && f.RemedyPlan != "" {
			v.Plan = len(answer.Plans)
			answer.Plans = append(answer.Plans, proposal{Kind: f.RemedySteps, Name: p.Name, Steps: stepsOf(p)})
		}
		views = append(views, v)
	}
	var everyday, one *analysis.Worst
	for _, p := range r.Case.Result.Points {
		answer.Depths = append(answer.Depths, depthView{p.Name, text.Depth(p.Depth, r.Case.Result.Options.Faults)})
		if p.Normal.WorseThan(everyday) {
			everyday = p.Normal
		}
		if p.OneFault.WorseThan(one) {
			one = p.OneFault
		}
	}
	answer.Everyday, answer.OneFailure = e.base.set(everyday), e.base.set(one)
	html, err := fragment("findings", views)
	answer.HTML = html
	return answer, err
}

// set is a state as a page sets it; guards aside, for what is shown is the bare metal. It is nil of none.
func (c *circuitOf) set(w *analysis.Worst) *asked {
	if w == nil {
		return nil
	}
	a := &asked{Plug: string(w.State.Plug), Settings: map[string]string{}, Faults: []string{}, Earthed: []string{}}
	for _, settings := range [][]analysis.Setting{w.State.Settings, w.State.Controls} {
		for _, x := range settings {
			a.Settings[x.Name] = x.At
		}
	}
	for _, f := range w.State.Faults {
		if f.Index >= 0 {
			a.Faults = append(a.Faults, c.faultNames()[f.Index])
		}
	}
	return a
}
