package page

import (
	"fmt"

	"coldcheck/analysis/survey"
	"coldcheck/rules/phrase"
)

// shown is what a card shows of a state.
func shown(e *survey.Evaluation) shownView {
	v := verdictOf(e)
	s := shownView{Meter: phrase.OnMeter(e.Reading), Body: phrase.Body(e.Reading), Head: verdictHeads[v.head()], Verdict: verdictWords[v],
		Note: note(e), Band: v.head(), AC: onScale(e.Milliamps), DC: -1}
	if e.MilliampsDC >= leastMilliampsDC {
		s.DC = onScale(e.MilliampsDC)
	}
	return s
}

// dataView is what script.js looks up: rows by case, plug polarity and switch combination, each the
// number of an entry.
type dataView struct {
	Combos   int               `json:"combos"`
	Sizes    []int             `json:"sizes"` // positions of each control
	Heads    []string          `json:"heads"`
	Verdicts []string          `json:"verdicts"`
	Routes   map[string]string `json:"routes"`
	Blades   [2][2]string      `json:"blades"` // by plug polarity, then blade
	Lost     map[int]int       `json:"lost"`   // by case in which a side of the supply is lost: the blade, or notHot
	Metals   []metalData       `json:"metals"`
}

// metalData is one piece of metal: entries are meter, body, verdict, note, AC and DC on the scale,
// branches, paths, earths.
type metalData struct {
	Rows    []int   `json:"rows"`
	Entries [][]any `json:"entries"`
}

func (s *sheet) data() *dataView {
	d := &dataView{Combos: s.Positions(), Sizes: []int{}, Heads: verdictHeads, Verdicts: verdictWords, Routes: map[string]string{}, Lost: map[int]int{}}
	for state, words := range pathWords {
		d.Routes[string(pathLetters[state])] = words
	}
	for _, c := range s.Circuit.Switches {
		d.Sizes = append(d.Sizes, len(c.Positions))
	}
	for i, f := range s.FaultSets {
		if gone := lostBlade(s.Circuit, f); gone != noBlade {
			d.Lost[i] = gone
		}
	}
	for i, polarity := range polarities {
		for blade := range 2 {
			d.Blades[i][blade] = bladeWords(s.Circuit, polarity, blade, noBlade)
		}
	}
	for i := range s.scenes {
		d.Metals = append(d.Metals, s.metalData(i))
	}
	return d
}

func (s *sheet) metalData(scene int) metalData {
	m := metalData{Rows: []int{}, Entries: [][]any{}}
	known := map[string]int{}
	for f := range s.FaultSets {
		for i := range s.States {
			entry := entryOf(s.At(survey.Place{Faults: f, State: i}, scene))
			id := fmt.Sprintf("%q", entry)
			n, ok := known[id]
			if !ok {
				n = len(m.Entries)
				known[id] = n
				m.Entries = append(m.Entries, entry)
			}
			m.Rows = append(m.Rows, n)
		}
	}
	return m
}

func entryOf(e *survey.Evaluation) []any {
	s := shown(e)
	earths := make([]byte, 0, len(e.Earths))
	for _, on := range e.Earths {
		if on {
			earths = append(earths, '1')
		} else {
			earths = append(earths, '0')
		}
	}
	return []any{s.Meter, s.Body, int(verdictOf(e)), s.Note, s.AC, s.DC, letters(e.Branches, branchLetters[:]), letters(e.Paths, pathLetters[:]), string(earths)}
}

// The letters of states, as script.js and style.css know them.
var (
	branchLetters = [...]byte{survey.AtRest: '.', survey.Open: 'o', survey.OwnCurrent: 'w', survey.Broken: 'x', survey.BranchBrings: 'c', survey.BrokenBrings: 'X'}
	pathLetters   = [...]byte{survey.PathOpen: 'o', survey.HeldBack: 'h', survey.Idle: 'n', survey.Brings: 'c', survey.LineShorted: '!'}
)

func letters[T ~byte](states []T, letterOf []byte) string {
	out := make([]byte, len(states))
	for i, x := range states {
		out[i] = letterOf[x]
	}
	return string(out)
}
