package page

import (
	"slices"

	"coldcheck/analysis/survey"
	"coldcheck/rules/phrase"
)

// lineView is the line side of a set in one drawing.
type lineView struct {
	ID      string
	Drawing *drawing
}

// lineScene is the line side as a scene, with what it does in each state.
func (s *sheet) lineScene() (*scene, *survey.Line) {
	line := s.Line()
	scene := &scene{Target: line.Target, set: s.k.Set}
	for _, b := range line.Branches {
		scene.branches = append(scene.branches, &branch{b, s.k.Set})
	}
	for f := range s.FaultSets {
		for i := range s.States {
			scene.patterns = append(scene.patterns, line.At(s.Survey, survey.Place{Faults: f, State: i}).Levels)
		}
	}
	return scene, line
}

// line draws the line side in the worst state of the foremost metal, and gives the rows of all states.
func (s *sheet) line(id string) (*lineView, *metalData) {
	if len(s.scenes) == 0 {
		return nil, nil
	}
	scene, line := s.lineScene()
	d := newLayout(scene, form{fold: true, whole: true}).draw(id+"-line", "The line side of the set, with a hand on each piece of metal")
	worst := s.Worst(s.Foremost())
	d.show(line.At(s.Survey, worst), s.Circuit, s.States[worst.State].Plug, lostBlade(s.Circuit, s.FaultSets[worst.Faults]))
	for i := range d.Cells {
		c := &d.Cells[i]
		if k := slices.Index(line.Hands(), c.branches[0]); k >= 0 {
			c.Hand = num(float64(k))
			c.State.Text = phrase.Body(s.At(worst, k).Reading)
		}
	}
	m := newTable()
	for f := range s.FaultSets {
		for i := range s.States {
			e := line.At(s.Survey, survey.Place{Faults: f, State: i})
			m.add([]any{"", "", int(verdictOf(e)), "", 0, 0, letters(e.Branches, branchLetters[:]), letters(append(slices.Clone(e.Levels), e.Blades[:]...), levelLetters[:]), "", "", letters(e.Potentials, potentialLetters[:])})
		}
	}
	return &lineView{ID: id, Drawing: d}, &m.metalData
}
