package text

import (
	"coldcheck/rules"
)

// Rules lists the rules, each with its signal words.
func (p *Page) Rules(all []*rules.Rule) {
	for _, r := range all {
		word := r.Signal.String()
		head := padded(word, headWidth) + padded(r.Name, 22)
		p.para(head, p.paint(signalColours[r.Signal], word)+head[len(word):], r.Looks)
	}
}

// Rule tells all there is to say of one rule.
func (p *Page) Rule(r *rules.Rule) {
	p.Title(r.Name)
	for _, line := range []struct{ label, text string }{
		{"signal", r.Signals}, {"looks for", r.Looks}, {"why", r.Why}, {"does not see", r.Blind},
		{"source", r.Source}, {"do", r.Remedy}, {"care", r.Caution},
	} {
		if line.text != "" {
			p.label(line.label, line.text)
		}
	}
}
