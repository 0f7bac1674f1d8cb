package text

import (
	"slices"
	"strings"

	"coldcheck/rules"
	"coldcheck/rules/overview"
	"coldcheck/rules/phrase"
)

// hands tells what passes from metal to metal.
func (t *report) hands() {
	for _, f := range t.all.Hands {
		t.Blank()
		t.word(f.Signal, true, f.Message)
		if f.Worst != nil {
			t.row("state", phrase.State(f.Worst.State))
		}
		t.row("note", strings.Join(f.Notes, "; "))
		t.row("do", t.remedies([]*rules.Finding{f}))
	}
}

// ideas tells a section of ideas, each in a block.
func (t *report) ideas(title string, ideas []overview.Idea) {
	if len(ideas) == 0 {
		return
	}
	t.Blank()
	t.Title(title)
	var notices []string
	for _, i := range ideas {
		if i.Signal() > rules.Notice {
			t.idea(i)
		} else {
			notices = append(notices, t.ideaWords(i))
		}
	}
	if len(notices) > 0 {
		t.word(rules.Notice, true, strings.Join(notices, "; "))
	}
}

// idea tells what one rule found, of all its parts, and what to do about it.
func (t *report) idea(i overview.Idea) {
	text := t.ideaWords(i)
	if remedy := t.remedies(i.Findings); remedy != "" {
		text = strings.TrimSuffix(text, ".") + ". " + remedy
	}
	t.word(i.Signal(), true, text)
	for _, f := range i.Findings {
		if f.Path != nil {
			t.row("path", Path(t.c.Set, *f.Path))
			t.row("worst", t.figures(f))
		}
	}
}

// How many findings of a rule are told in full, and how many of their notes, before the rest is named, or
// counted.
const (
	alikeTold = 12
	notesTold = 6
)

// ideaWords tells what one rule found. Of a NOTICE the notes and the state are left to JSON.
func (t *report) ideaWords(i overview.Idea) string {
	var words, notes, states, others []string
	for k, f := range i.Findings {
		if k < alikeTold {
			words = append(words, f.Message)
		} else {
			others = append(others, phrase.Visible(f.Parts[:min(len(f.Parts), 1)])...)
		}
		notes = append(notes, f.Notes...)
		if f.Worst != nil && f.Path == nil {
			states = append(states, phrase.State(f.Worst.State))
		}
	}
	if len(others) > 0 {
		words = append(words, "likewise "+phrase.List(others))
	}
	if i.Signal() > rules.Notice && len(notes) > 0 {
		words = append(words, phrase.FewOf(notes, notesTold, "; ", "more (--format json has them)"))
	}
	if i.Signal() > rules.Notice {
		slices.Sort(states)
		if states = slices.Compact(states); len(states) > 0 {
			words[len(words)-1] += " (" + strings.Join(states, "; ") + ")"
		}
	}
	return strings.Join(words, "; ")
}

// cares tells each caution once.
func (t *report) cares() {
	t.Title("Take care")
	var all []string
	for _, c := range t.all.Cares {
		all = append(all, c.Text)
	}
	t.indented(rowIndent, strings.Join(all, " "))
}

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
