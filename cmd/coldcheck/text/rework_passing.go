package text

import (
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/rules/phrase"
	"coldcheck/rules/rework"
)

// passing is a hazard of the way: after which steps it begins, and after which the same metal is live by other
// ways until the same step.
type passing struct {
	circuit *analysis.Circuit
	first   rework.Passing
	steps   []string
	others  []string
	rules   []string // by which the others are told
}

// passingHazards are the hazards of the way in the order in which they begin.
func passingHazards(c *rework.Comparison) []*passing {
	var all []*passing
	for _, s := range c.Stages {
		for _, f := range s.Passing {
			step := fmt.Sprint(s.Step)
			at := slices.IndexFunc(all, func(h *passing) bool { return h.same(f) || h.alike(f) })
			switch {
			case at < 0:
				all = append(all, &passing{circuit: s.Report.Case.Circuit, first: f, steps: []string{step}})
			case all[at].same(f):
				all[at].steps = append(all[at].steps, step)
			default:
				h := all[at]
				h.others = append(h.others, step)
				if !slices.Contains(h.rules, f.Rule.Name) {
					h.rules = append(h.rules, f.Rule.Name)
				}
			}
		}
	}
	return all
}

// same reports whether a hazard is this one, met again.
func (h *passing) same(f rework.Passing) bool {
	return h.first.Rule == f.Rule && h.first.Signal == f.Signal && h.first.Message == f.Message && h.first.Until == f.Until
}

// alike reports whether a hazard is the same metal, live as this one is, by another way.
func (h *passing) alike(f rework.Passing) bool {
	return h.first.Rule.Live && f.Rule.Live && h.first.Signal == f.Signal && h.first.Until == f.Until && slices.Equal(h.first.Nodes, f.Nodes)
}

// words tell a hazard of the way, the finding in the words given.
func (h *passing) words(message string) string {
	words := fmt.Sprintf("after %s %s (%s)", stepsCounted(h.steps), message, h.first.Rule.Name)
	if len(h.others) > 0 {
		words += fmt.Sprintf("; by other ways after %s (%s)", stepsCounted(h.others), phrase.List(h.rules))
	}
	return fmt.Sprintf("%s: do not plug in before step %d is done", words, h.first.Until)
}

// stepsCounted is "step 3", or "steps 3, 4 and 7".
func stepsCounted(steps []string) string {
	return phrase.Pick(len(steps), "step ", "steps ") + phrase.List(steps)
}
