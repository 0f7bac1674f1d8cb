package survey

import (
	"fmt"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist/examples"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
)

// surveyOf makes the survey of a set file.
func surveyOf(t testing.TB, text string) *Survey {
	t.Helper()
	c := analysistest.Of(t, text)
	r := rules.Check(c, analysis.Options{Faults: analysis.DefaultFaults})
	var nodes []string
	for _, m := range r.Case.Metals {
		nodes = append(nodes, m.Node())
	}
	return New(c, r.Case.Result, nodes)
}

var surveys = map[string]*Survey{} // of examples: tests share them

func exampleSurvey(t testing.TB, name string) *Survey {
	t.Helper()
	if surveys[name] == nil {
		e, ok := examples.FindSet(name)
		if !ok {
			t.Fatalf("no example %s", name)
		}
		surveys[name] = surveyOf(t, e.Text)
	}
	return surveys[name]
}

// eachTarget calls see for every target of the examples.
func eachTarget(t *testing.T, see func(name string, s *Survey, target int)) {
	t.Helper()
	for _, e := range examples.Sets() {
		s := exampleSurvey(t, e.Name)
		for i, target := range s.Targets {
			see(e.Name+", "+target.Node, s, i)
		}
	}
}

// stateName tells a state of a survey.
func (s *Survey) stateName(p Place) string {
	var words []string
	for _, f := range s.FaultSets[p.Faults] {
		words = append(words, phrase.Fault(f))
	}
	state := s.State(p)
	return fmt.Sprint(state.Plug, state.Settings, state.Controls, words)
}
