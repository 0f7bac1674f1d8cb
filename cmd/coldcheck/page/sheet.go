package page

import (
	"coldcheck/analysis"
	"coldcheck/analysis/survey"
	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
)

// sheet is one set as a page shows it: its survey, and a scene for each piece of metal.
type sheet struct {
	*survey.Survey
	k      *rules.Case
	scenes []*scene
}

// scene is a piece of metal with all that is drawn of it.
type scene struct {
	*survey.Target
	metal    *rules.Metal
	set      *netlist.Set
	branches []*branch
}

func newSheet(k *rules.Case) *sheet {
	var nodes []string
	for _, m := range k.Metals {
		nodes = append(nodes, m.Node())
	}
	s := &sheet{Survey: survey.New(k.Circuit, k.Result, nodes), k: k}
	for i, t := range s.Targets {
		scene := &scene{Target: t, metal: k.Metals[i], set: k.Set}
		for _, b := range t.Branches {
			scene.branches = append(scene.branches, &branch{b, k.Set})
		}
		s.scenes = append(s.scenes, scene)
	}
	return s
}

// inWords tells a text in the words of the set's plug.
func (s *sheet) inWords(text string) string { return phrase.InWordsOf(s.Circuit, text) }

// depth is how many safeguards stand between the line and the metal.
func (s *scene) depth() int { return s.metal.Points[0].Depth }

// polarities are the two plug polarities, in the order of a survey's states.
var polarities = [2]analysis.Polarity{analysis.AsMarked, analysis.Reversed}

// faultsWords tells a set of faults: "C1 shorted and neutral lost". One that nobody vouches for, or
// that was never meant to protect, is marked.
func faultsWords(set *netlist.Set, faults []*analysis.Fault) string {
	words := make([]string, len(faults))
	for i, f := range faults {
		words[i] = phrase.Fault(f)
		if f.Cost > 0 {
			continue
		}
		if p := set.Part(f.Part); p != nil && p.Condition == netlist.Good {
			words[i] += " (no safeguard)"
		} else {
			words[i] += " (suspect)"
		}
	}
	return phrase.List(words)
}
