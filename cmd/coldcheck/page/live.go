package page

import (
	"fmt"
	"html/template"
	"strings"

	"coldcheck/analysis/survey"
	"coldcheck/netlist"
)

// What the live bench has of the page, so that both look and speak alike.

// Style is the page's style sheet.
func Style() string { return styleText }

// Symbols are the drawing's symbols, which a page that shows drawings has in it once.
func Symbols() (template.HTML, error) { return fragment("symbols", nil) }

// Card is what is told of a piece of metal in one state.
type Card struct {
	Body, Head             string
	Band                   int // of the verdict: 0 under the limit, 1 startles, 2 live, 3 the line is shorted
	Figures, Drawing, Ways template.HTML
	Branches               [][]string // by the numbers in the drawing's data-e: the parts
}

// Cards tells each target of the survey of one state; at is the point of it that is read, where that has to be told.
// The names of the drawings begin with a prefix.
func Cards(s *survey.Survey, at []string, prefix string) ([]Card, error) {
	c := s.Circuit
	cards := make([]Card, len(s.Targets))
	for i, t := range s.Targets {
		scene := sceneOf(t, c.Set)
		e := s.At(survey.Place{}, i)
		scene.patterns = [][]survey.Level{e.Levels} // what is shown at once shares no row
		shows := shown(e)
		shows.At = at[i]
		card := Card{Body: shows.Body, Head: shows.Head, Band: shows.Band}
		for k, f := range []form{{fold: true}, {fold: true, tall: true}} {
			d := newLayout(scene, f).draw(fmt.Sprintf("%s%d-%d", prefix, i+1, k), "Ways from the plug to "+netlist.Visible(t.Node))
			d.show(e, c, s.States[0].Plug, lostBlade(c, s.FaultSets[0]))
			drawn, err := fragment("drawing", d)
			if err != nil {
				return nil, err
			}
			card.Drawing += drawn
		}
		var err error
		if card.Figures, err = fragment("figures", shows); err != nil {
			return nil, err
		}
		if card.Ways, err = fragment("ways", scene.routes(e)); err != nil {
			return nil, err
		}
		for _, b := range t.Branches {
			card.Branches = append(card.Branches, b.Parts)
		}
		cards[i] = card
	}
	return cards, nil
}

func fragment(name string, data any) (template.HTML, error) {
	var b strings.Builder
	err := execute(&b, name, data)
	return template.HTML(b.String()), err
}
