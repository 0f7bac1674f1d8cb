package rules

import (
	"fmt"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules/phrase"
)

// fewSteps is how many steps of a remedy are told one by one.
const fewSteps = 3

// StepsInWords tell the steps of a change, with what the parts are in the set that comes of it.
func StepsInWords(after *netlist.Set, all []plan.Step) string {
	var steps []string
	for i := range all {
		if i == fewSteps && len(all) > fewSteps+1 {
			steps = append(steps, fmt.Sprintf("%d more steps (the plan has them)", len(all)-i))
			break
		}
		steps = append(steps, stepWords(after, &all[i]))
	}
	return strings.Join(steps, "; ")
}

// TellRemedy has a finding tell a remedy that was carried out on a copy of the set and held: in words,
// and the text of its plan.
func (f *Finding) TellRemedy(words, text string) {
	f.Tried, f.RemedyPlan, f.RemedySteps = true, text, words
	f.Remedy = f.RemedySteps + ". Tried on a copy of this file: the finding is gone and nothing gets worse"
}

// stepWords tells a step with what the part is in the end.
func stepWords(after *netlist.Set, s *plan.Step) string {
	part := phrase.Part(after, s.Part)
	switch {
	case s.Do == "replace" && part == s.Part:
		return s.String()
	case s.Do == "replace":
		return fmt.Sprintf("replace %s by %s", s.Part, strings.TrimSuffix(strings.TrimPrefix(part, s.Part+" ("), ")"))
	case s.Do == "fit":
		return fmt.Sprintf("fit %s%s", part, between(after.Part(s.Part)))
	case s.Do == "change":
		why, _, _ := strings.Cut(s.Why, ". ")
		return fmt.Sprintf("%s (%s)", s, lowerFirst(strings.TrimSuffix(why, ".")))
	case s.Do == "mark":
		return fmt.Sprintf("%s: a guard that needs a tool", netlist.Visible(s.Node))
	}
	return s.String()
}

// lowerFirst begins a sentence in lower case, unless its first word is a name.
func lowerFirst(s string) string {
	if len(s) < 2 || s[1] < 'a' || s[1] > 'z' {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// between tells where a part of two ends goes.
func between(p *netlist.Part) string {
	if p == nil || len(p.Terminals) != 2 {
		return ""
	}
	return fmt.Sprintf(" from %s to %s", netlist.Visible(p.Terminals[0].Node), netlist.Visible(p.Terminals[1].Node))
}

// TellNoRemedy has a finding tell that none of so many remedies held, before what the trade does about such
// a thing.
func (f *Finding) TellNoRemedy(tried int) {
	f.Tried = true
	told := "no single change was found to try"
	if tried > 0 {
		told = fmt.Sprintf("no single change of %d tried cures this by itself", tried)
	}
	f.Remedy = "ask coldcheck rework --propose for a plan: " + told + ". The trade's way: " + f.Remedy
}
