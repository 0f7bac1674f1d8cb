package page

import (
	"slices"

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
	patterns [][]survey.Level // what the branches carry, each different state once
}

func newSheet(k *rules.Case) *sheet {
	var nodes []string
	for _, m := range k.Metals {
		nodes = append(nodes, m.Node())
	}
	s := &sheet{Survey: survey.New(k.Circuit, k.Result, nodes), k: k}
	for i, t := range s.Targets {
		scene := sceneOf(t, k.Set)
		scene.metal = k.Metals[i]
		scene.patterns = s.patterns(i)
		s.scenes = append(s.scenes, scene)
	}
	return s
}

// patterns are what the branches of a target carry, each different state once.
func (s *sheet) patterns(target int) [][]survey.Level {
	var all [][]survey.Level
	known := map[string]bool{}
	for f := range s.FaultSets {
		for i := range s.States {
			e := s.At(survey.Place{Faults: f, State: i}, target)
			if id := string(letters(e.Levels, levelLetters[:])); !known[id] {
				known[id] = true
				all = append(all, e.Levels)
			}
		}
	}
	return all
}

// nodeIndex is the number of a node among those that are drawn, -1 for none.
func (s *scene) nodeIndex(node string) int { return slices.Index(s.Nodes, node) }

// sceneOf is a target with what is drawn of its branches.
func sceneOf(t *survey.Target, set *netlist.Set) *scene {
	s := &scene{Target: t, set: set}
	for _, b := range t.Branches {
		s.branches = append(s.branches, &branch{b, set})
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
