package page

import (
	"bytes"
	"fmt"

	"coldcheck/analysis"
	"coldcheck/analysis/survey"
	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
)

// Fragment is a piece of metal in one state: HTML to be put into a page that has Symbols and the page's
// style, and what it says in a sentence.
type Fragment struct {
	Node     string // the metal's foremost
	Name     string // with all its points
	HTML     string // its card: figures, drawing, ways
	Sentence string
	Band     int // 0 under the limit, 1 startles, 2 live, 3 shorts the line
}

// Fragments draws a state of a set, whatever its controls and its failures: a card for each piece of metal,
// in the order of the case, with every way that is live in that state. id keeps the ids of one page apart.
func Fragments(k *rules.Case, state analysis.State, id string) ([]Fragment, error) {
	var nodes []string
	for _, m := range k.Metals {
		nodes = append(nodes, m.Node())
	}
	s := sheetOf(k, survey.Of(k.Circuit, nodes, state))
	var all []Fragment
	for i, scene := range s.scenes {
		e := s.At(survey.Place{}, i)
		m := s.metalIn(scene, i, cardID(id, i), survey.Place{})
		m.Whole = true
		var b bytes.Buffer
		if err := pageTemplate().ExecuteTemplate(&b, "metal", m); err != nil {
			return nil, err
		}
		head := verdictOf(e).head()
		all = append(all, Fragment{Node: scene.Node, Name: m.Name, HTML: b.String(), Band: head,
			Sentence: fmt.Sprintf("%s: %s, %s", netlist.Visible(scene.Node), phrase.Body(e.Reading), phrase.Band(e.Class()))})
	}
	return all, nil
}

// Symbols is the HTML of the symbols that drawings use, once a page.
func Symbols() string { return symbolText }

// Style is the style of the page.
func Style() string { return styleText }

// Script is the page's own script: it looks up what Inspect embeds, and folds drawings.
func Script() string { return scriptText }
