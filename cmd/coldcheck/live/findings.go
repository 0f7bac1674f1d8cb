package live

import (
	"html/template"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/page"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
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
	html, err := page.Findings(r, func(f *rules.Finding) int {
		p, err := plan.Parse("", []byte(f.RemedyPlan))
		if err != nil || f.RemedyPlan == "" {
			return -1
		}
		answer.Plans = append(answer.Plans, proposal{Kind: f.RemedySteps, Name: p.Name, Steps: stepsOf(p)})
		return len(answer.Plans) - 1
	})
	if err != nil {
		return nil, err
	}
	answer.HTML = html
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
	return answer, nil
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
