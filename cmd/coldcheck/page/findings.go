package page

import (
	"html/template"

	"coldcheck/cmd/coldcheck/text"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
)

// findingsView are the findings of a set as the page and the live bench show them.
type findingsView struct {
	Findings, Lesser []findingView // of WARNING and more; of less, which are folded
	Live             bool          // on the live bench
}

type findingView struct {
	Signal, Message, Path, State, Figures, Between, Remedy, Caution, Rule string
	Notes                                                                 []string
	Plan                                                                  int         // the number of its remedy's plan, for a button, or noPlan
	Why                                                                   *rules.Rule // the first time that its rule is told
	WhyID                                                                 string
}

// noPlan is of a finding whose remedy is no plan that a page could take.
const noPlan = -1

// Findings tells the findings of a report on the live bench; planOf numbers the plan of a finding's remedy, -1 for
// none.
func Findings(r *rules.Report, planOf func(*rules.Finding) int) (template.HTML, error) {
	v := findingsOf(r, "found", planOf)
	v.Live = true
	return fragment("findings", v)
}

func findingsOf(r *rules.Report, id string, planOf func(*rules.Finding) int) findingsView {
	told := func(text string) string { return sentence(phrase.InWordsOf(r.Case.Circuit, text)) }
	explained := map[*rules.Rule]bool{}
	var v findingsView
	for i := range r.Findings {
		f := &r.Findings[i]
		out := findingView{
			Signal: f.Signal.String(), Message: told(f.Message), Figures: told(f.Figures), Between: f.Between,
			Remedy: told(f.Remedy), Caution: told(f.Caution), Rule: f.Rule.Name, Plan: planOf(f),
		}
		for _, n := range f.Notes {
			out.Notes = append(out.Notes, told(n))
		}
		if f.Path != nil {
			out.Path = text.Path(r.Case.Set, *f.Path)
		}
		if f.Worst != nil {
			out.State = phrase.InWordsOf(r.Case.Circuit, phrase.State(f.Worst.State))
		}
		out.WhyID = id + "-why-" + f.Rule.Name
		if !explained[f.Rule] {
			explained[f.Rule], out.Why = true, f.Rule
		}
		if f.Signal >= rules.Warning {
			v.Findings = append(v.Findings, out)
		} else {
			v.Lesser = append(v.Lesser, out)
		}
	}
	return v
}
