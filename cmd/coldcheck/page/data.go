package page

import (
	"fmt"
	"slices"
	"strings"

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
	Line     *metalData        `json:"line,omitempty"`
}

// benchData is what script.js knows of a bench. Where it has several stages, Controls and Faults tell where a
// stage has what the controls name: of each stage's controls its number among those of the bench, then the
// positions by those of the bench; and by fault of the bench that of the stage, -1 for one that it has not.
type benchData struct {
	Stages   []*dataView `json:"stages"`
	Words    []string    `json:"words"` // of all its metals
	Controls [][]control `json:"controls,omitempty"`
	Faults   [][]int     `json:"faults,omitempty"`
}

type control struct {
	Of int   `json:"of"`
	At []int `json:"at"`
}

// metalData is one piece of metal: entries are meter, body, verdict, note, AC and DC on the scale,
// branches, their levels, paths, earths, potentials. Of what is text they have the number in Words.
type metalData struct {
	Rows    []int    `json:"rows"`
	Entries [][]int  `json:"entries"`
	Words   []string `json:"-"` // the bench's, once shareWords has put them together
	// Ways are those that are told in few states, by their numbers: the numbers in Words of what they lead along,
	// and of what stands between.
	Ways map[int][2][]int `json:"ways,omitempty"`
}

// entryText tells which places of an entry are text; from firstStates on they are letters of states, packed.
var entryText = [...]bool{0: true, 1: true, 3: true, 6: true, 7: true, 8: true, 9: true, 10: true}

const firstStates = 6

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
	t := newTable()
	for f := range s.FaultSets {
		for i := range s.States {
			t.add(entryOf(s.At(survey.Place{Faults: f, State: i}, scene)))
		}
	}
	for n, p := range s.scenes[scene].Paths {
		if p.Seldom {
			t.way(n, s.scenes[scene].pathLine(p), s.scenes[scene].safeguards(p))
		}
	}
	return t.metalData
}

// What parts the words of a way, and those of what stands between.
const (
	alongWay  = " › "
	betweenIt = ", "
)

// way adds a way. What several lead along is kept once.
func (t *table) way(n int, along, between string) {
	numbers := func(text, apart string) (all []int) {
		for _, word := range strings.Split(text, apart) {
			all = append(all, t.word(word))
		}
		return all
	}
	if t.Ways == nil {
		t.Ways = map[int][2][]int{}
	}
	t.Ways[n] = [2][]int{numbers(along, alongWay), numbers(between, betweenIt)}
}

// word is the number of a text, which is kept once.
func (t *table) word(text string) int {
	n, ok := t.words[text]
	if !ok {
		n = len(t.Words)
		t.words[text] = n
		t.Words = append(t.Words, text)
	}
	return n
}

// table is a table in the making.
type table struct {
	metalData
	entries, words map[string]int
}

func newTable() *table {
	return &table{metalData{Rows: []int{}, Entries: [][]int{}, Words: []string{}}, map[string]int{}, map[string]int{}}
}

// add adds a row. Entries and words are kept once each.
func (t *table) add(row []any) {
	var entry []int
	for k, x := range row {
		text, ok := x.(string)
		if !ok {
			entry = append(entry, x.(int))
			continue
		}
		if k >= firstStates {
			text = packed(text)
		}
		entry = append(entry, t.word(text))
	}
	id := fmt.Sprint(entry)
	n, ok := t.entries[id]
	if !ok {
		n = len(t.Entries)
		t.entries[id] = n
		t.Entries = append(t.Entries, entry)
	}
	t.Rows = append(t.Rows, n)
}

// shareWords puts the words of all metals into one list, each once: metals and stages have most of them in common.
func (d *benchData) shareWords() {
	all := newTable()
	for _, s := range d.Stages {
		for _, m := range s.all() {
			to := make([]int, len(m.Words))
			for i, word := range m.Words {
				to[i] = all.word(word)
			}
			for _, e := range m.Entries {
				for k := range e {
					if entryText[k] {
						e[k] = to[e[k]]
					}
				}
			}
			for _, way := range m.Ways {
				for _, list := range way {
					for i := range list {
						list[i] = to[list[i]]
					}
				}
			}
		}
	}
	d.Words = all.Words
	for _, s := range d.Stages {
		for _, m := range s.all() {
			m.Words = d.Words
		}
	}
}

// all are the tables of a stage.
func (d *dataView) all() []*metalData {
	var all []*metalData
	for i := range d.Metals {
		all = append(all, &d.Metals[i])
	}
	if d.Line != nil {
		all = append(all, d.Line)
	}
	return all
}

// entry is an entry with its words.
func (m *metalData) entry(row int) []any {
	var out []any
	for k, n := range m.Entries[m.Rows[row]] {
		if k >= firstStates {
			out = append(out, unpacked(m.Words[n]))
		} else if entryText[k] {
			out = append(out, m.Words[n])
		} else {
			out = append(out, n)
		}
	}
	return out
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
	return []any{s.Meter, s.Body, int(verdictOf(e)), s.Note, s.AC, s.DC, letters(e.Branches, branchLetters[:]), letters(append(slices.Clone(e.Levels), e.Blades[:]...), levelLetters[:]),
		letters(e.Paths, pathLetters[:]), string(earths), letters(e.Potentials, potentialLetters[:])}
}

// The letters of states, as script.js and style.css know them.
var (
	branchLetters    = [...]byte{survey.Whole: '.', survey.Open: 'o', survey.Broken: 'x'}
	levelLetters     = [...]byte{survey.NoCurrent: '0', survey.Little: '1', survey.Some: '2', survey.Most: '3'}
	pathLetters      = [...]byte{survey.PathOpen: 'o', survey.HeldBack: 'h', survey.Idle: 'n', survey.Brings: 'c', survey.LineShorted: '!'}
	potentialLetters = [...]byte{survey.Low: 'l', survey.Hot: 'h', survey.Neutral: 'n', survey.Earthed: 'e', survey.Between: 'b'}
)

func letters[T ~byte](states []T, letterOf []byte) string {
	out := make([]byte, len(states))
	for i, x := range states {
		out[i] = letterOf[x]
	}
	return string(out)
}

// Runs of one letter are told by the letter and a capital for how often it stands there, A for once: of a table in
// which most of a drawing does the same, that is half. None of the letters of states is a capital.
const (
	leastRun = 3
	mostRun  = 26
)

// packed tells states with their runs packed.
func packed(states string) string {
	var b strings.Builder
	for i := 0; i < len(states); {
		n := 1
		for n < mostRun && i+n < len(states) && states[i+n] == states[i] {
			n++
		}
		if n >= leastRun {
			b.WriteByte(states[i])
			b.WriteByte(byte('A' + n - 1))
		} else {
			b.WriteString(states[i : i+n])
		}
		i += n
	}
	return b.String()
}

// unpacked is what was packed.
func unpacked(text string) string {
	var b strings.Builder
	for i := 0; i < len(text); i++ {
		n := 1
		if i+1 < len(text) && text[i+1] >= 'A' && text[i+1] <= 'Z' {
			n = int(text[i+1]-'A') + 1
		}
		b.WriteString(strings.Repeat(text[i:i+1], n))
		if n > 1 {
			i++
		}
	}
	return b.String()
}
