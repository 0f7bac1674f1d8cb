package live

import (
	"coldcheck/analysis/budget"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
	"coldcheck/rules/rework/propose"
)

// proposal is a plan that the program found.
type proposal struct {
	Kind   string   `json:"kind"` // what it rests on
	Name   string   `json:"name"`
	Steps  []step   `json:"steps"`
	Labels []string `json:"labels"`
	Cured  []item   `json:"cured"`
	Left   []item   `json:"left"`
	New    []item   `json:"new"`
	After  []tally  `json:"after"`
}

type proposalsAnswer struct {
	Edition int        `json:"edition"`
	Found   string     `json:"found"` // what the search did and what it proves
	Beyond  []string   `json:"beyond"`
	Plans   []proposal `json:"plans"`
	Judge   string     `json:"judge"`
}

func searchPlans(set *netlist.Set) *propose.Proposals {
	return propose.Search(set, budget.Candidates, propose.Wish{})
}

func answerProposals(e *edition, _ struct{}) (*proposalsAnswer, error) {
	return e.tellProposals(e.proposals()), nil
}

func (e *edition) tellProposals(all *propose.Proposals) *proposalsAnswer {
	answer := &proposalsAnswer{Edition: e.number, Found: text.FoundWords(all), Beyond: []string{}, Plans: []proposal{}, Judge: text.JudgeWords}
	for _, f := range all.Beyond {
		answer.Beyond = append(answer.Beyond, f.Signal.String()+" "+phrase.InWordsOf(all.Report.Case.Circuit, f.Message))
	}
	for i := range all.Plans {
		p := &all.Plans[i]
		out := proposal{Kind: capital(p.Kind), Name: p.Plan.Name, Steps: stepsOf(p.Plan), Labels: []string{}}
		for k := range p.Plan.Steps {
			out.Labels = append(out.Labels, p.Plan.Steps[k].String())
		}
		var does planAnswer
		does.compare(p.Comparison)
		out.Cured, out.Left, out.New, out.After = does.Cured, does.Left, does.New, does.After
		answer.Plans = append(answer.Plans, out)
	}
	return answer
}
