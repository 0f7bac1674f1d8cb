package page

import (
	"fmt"
	"html/template"
	"strings"

	"coldcheck/analysis"
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
	Meter, Body, Head, Verdict, Note string
	Band                             int // of the verdict: 0 under the limit, 1 startles, 2 live, 3 the line is shorted
	Scale, Drawing                   template.HTML
	Routes                           []Route
	Further                          string
	Branches                         [][]string // by the numbers in the drawing's data-e: the parts
	State                            analysis.State
}

// Route is a way from the plug to the metal, and what it does in the state.
type Route struct{ Text, Between, State, Words string }

// Cards tells each target of the survey of one state. The names of the drawings begin with a prefix.
func Cards(s *survey.Survey, prefix string) ([]Card, error) {
	c := s.Circuit
	cards := make([]Card, len(s.Targets))
	for i, t := range s.Targets {
		scene := sceneOf(t, c.Set)
		place := survey.Place{}
		e := s.At(place, i)
		shows := shown(e)
		card := Card{Meter: shows.Meter, Body: shows.Body, Head: shows.Head, Verdict: shows.Verdict, Note: shows.Note, Band: shows.Band, State: e.State}
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
		if card.Scale, err = fragment("scale", shows); err != nil {
			return nil, err
		}
		for n, p := range scene.Paths {
			card.Routes = append(card.Routes, Route{Text: scene.pathLine(p), Between: scene.safeguards(p), State: string(pathLetters[e.Paths[n]]), Words: pathWords[e.Paths[n]]})
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
	err := pageTemplate().ExecuteTemplate(&b, name, data)
	return template.HTML(b.String()), err
}
