package text

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/overview"
	"coldcheck/rules/phrase"
)

// InspectOptions say how a report is told.
type InspectOptions struct {
	Brief bool // in short alone
	File  bool // name the file: one of several
}

// The columns of a report: the signal word, then the label of each line below it.
const (
	headWidth  = 9
	labelWidth = 8
)

// The columns of a line below the heading of a block.
const (
	rowIndent     = 2
	rowLabelWidth = 9
)

// report is a page on which one report is told. What was said once is not said again.
type report struct {
	*Page
	all  *overview.Overview
	c    *analysis.Circuit
	said map[string]string // a remedy, and the part for which it was told
}

// Inspect tells a report: the answer first, then each piece of metal, the line side, the parts, what to
// take care of and what was not looked at; and the worst once more, for who sees only the end.
func (p *Page) Inspect(r *rules.Report, o InspectOptions) {
	t := &report{Page: p, all: overview.Of(r), c: r.Case.Circuit, said: map[string]string{}}
	p.plug = t.c
	if o.File {
		p.Para("", netlist.Visible(t.c.Set.File))
	}
	if o.Brief {
		t.inShort()
		t.cut()
		return
	}
	p.header(t.c, tally(r))
	p.Blank()
	p.Title("In short")
	t.inShort()
	for _, m := range t.all.Metals {
		p.Blank()
		t.metal(m)
	}
	t.hands()
	t.ideas("The line side", t.all.Line)
	t.ideas("The parts", t.all.Parts)
	p.Blank()
	t.cares()
	p.Blank()
	t.closing(r, t.all.Notes)
	t.last()
}

// word writes a text behind a signal word, or behind what stands for none.
func (p *Page) word(f rules.Signal, found bool, text string) {
	if !found {
		p.para(blanks(headWidth), blanks(headWidth), text)
		return
	}
	head := padded(f.String(), headWidth)
	p.para(head, p.paint(signalColours[f], f.String())+head[len(f.String()):], text)
}

// sub writes a line below the head of a finding, behind its label. No text, no line.
func (p *Page) sub(label, text string) {
	if text != "" {
		p.Para(blanks(headWidth)+padded(label, labelWidth), text)
	}
}

// row writes a line below the heading of a block, behind its label. No text, no line.
func (p *Page) row(label, text string) {
	if text != "" {
		p.Para(blanks(rowIndent)+padded(label, rowLabelWidth), text)
	}
}

// last repeats the worst, for who sees only the end.
func (t *report) last() {
	f := t.all.Worst()
	switch {
	case f == nil:
		t.Para("", nothingFound+": measure before you touch")
		return
	case f.Rule.Subject == rules.OfMetal || f.Rule.Subject == rules.OfEarth:
		for _, m := range t.all.Metals {
			for _, own := range m.Findings() {
				if own == f {
					t.word(f.Signal, true, "worst: "+t.metalTitle(m, phrase.Few(phrase.Visible(m.Nodes()), 1)))
					return
				}
			}
		}
	}
	t.word(f.Signal, true, "worst: "+f.Message)
}

// nothingFound is the best that is ever said.
const nothingFound = "nothing was found in what was described"

// Tally is how many findings have a signal word.
type Tally struct {
	Signal rules.Signal
	Count  int
}

// Tallies counts the findings of a report by signal word, the strongest first.
func Tallies(r *rules.Report) []Tally {
	var all []Tally
	for signal := rules.Danger; signal >= rules.Notice; signal-- {
		n := 0
		for _, f := range r.Findings {
			if f.Signal == signal {
				n++
			}
		}
		if n > 0 {
			all = append(all, Tally{signal, n})
		}
	}
	return all
}

// tally tells how many findings there are.
func tally(r *rules.Report) string {
	var words []string
	for _, t := range Tallies(r) {
		words = append(words, fmt.Sprintf("%d %s", t.Count, t.Signal))
	}
	if len(words) == 0 {
		return nothingFound
	}
	return strings.Join(words, ", ")
}
