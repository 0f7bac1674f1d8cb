package survey

import (
	"cmp"
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/budget"
)

// The paths that are looked at and kept.
const (
	candidatesPerState = 24 // paths from one blade to one part, in one position of the controls
	statesSearched     = 32 // positions in which paths are looked for, of a large set fewer
	fewestSearched     = 4
	searchWork         = 20_000 // positions times parts times accessible parts
	pathsDrawn         = 8      // paths kept to one accessible part
	pathsListed        = 14     // those among them that need no further branch
)

// What a survey holds.
const (
	// entriesMost is how many states, times accessible parts.
	entriesMost = 60000
	// leastOfTurned is the share of them that controls turned away from rest may take.
	leastOfTurned = 2
	// checklistMost is how many readings of a checklist, each under each fault, are worked out beside a
	// survey: about a second's work. Some hundred are usual.
	checklistMost = 150_000
)

// positionsSearched is in how many positions of the controls paths are looked for.
func positionsSearched(c *analysis.Circuit, targets int) int {
	return max(fewestSearched, min(statesSearched, searchWork/(len(c.Set.Parts)*targets)))
}

// fit drops fault sets from the end until the survey can hold them, the supply's own last.
func (s *Survey) fit() {
	// A node or a part of a state takes some ten times as long as a channel to tell what it carries.
	perState := 10*(len(s.Circuit.Set.Nodes)+len(s.Circuit.Set.Parts)) + 4*len(s.Circuit.Faults)
	for _, t := range s.Targets {
		perState += 2 * len(t.Branches)
	}
	most := max(2, min(entriesMost/max(1, len(s.States)*len(s.Targets)), budget.Page.Fits(budget.Count(len(s.States)*perState))))
	if turned := s.Circuit.Turned(); len(turned) <= most/leastOfTurned {
		s.Turned = turned
		most -= len(turned)
	} else {
		s.Dropped = len(turned)
	}
	if len(s.FaultSets) <= most {
		return
	}
	rank := func(f Faults) int {
		if len(f) == 0 || f.OfSupply() {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(s.FaultSets, func(a, b Faults) int { return cmp.Compare(rank(a), rank(b)) })
	s.Dropped += len(s.FaultSets) - most
	s.FaultSets = s.FaultSets[:most]
}

// ChecklistFits reports whether a set's checklist is small enough to be laid out beside its survey.
func ChecklistFits(c *analysis.Circuit) bool { return checklistWork(c) <= checklistMost }

// checklistWork is how many readings, each under each fault, a checklist works out: every point from
// both blades, from the two tied and from the earth contact, against every other, and hot in both
// plug polarities on two meters, in every position of the controls.
func checklistWork(c *analysis.Circuit) int {
	const cold, hot = 4, 4
	n := len(c.Points)
	readings := n*(cold+hot) + n*(n-1)/2 + 1
	for _, control := range c.Switches {
		readings *= len(control.Positions)
	}
	return readings * (len(c.Faults) + 1)
}
