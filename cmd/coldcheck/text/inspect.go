package text

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
)

// InspectOptions say how a report is told.
type InspectOptions struct {
	Brief bool // one line a finding
	File  bool // name the file: one of several
}

// The columns of a finding: the signal word, then the label of each line below it.
const (
	headWidth  = 9
	labelWidth = 8
)

// Inspect tells a report: the set, the findings, the touch points, and what remains to be done.
func (p *Page) Inspect(r *rules.Report, o InspectOptions) {
	c := r.Case.Circuit
	if o.Brief {
		p.brief(r, o)
		return
	}
	if o.File {
		p.Para("", netlist.Visible(c.Set.File))
	}
	p.header(c)
	p.Blank()
	said := map[string]bool{}
	for i := range r.Findings {
		p.finding(c, &r.Findings[i], said)
		p.Blank()
	}
	p.points(r.Case)
	p.Blank()
	p.closing(r)
}

// brief tells a line a finding, behind the name of the file where there are several.
func (p *Page) brief(r *rules.Report, o InspectOptions) {
	file := ""
	if o.File {
		file = netlist.Visible(r.Case.Set.File) + ": "
	}
	for _, f := range r.Findings {
		word := padded(f.Signal.String(), headWidth)
		p.Line(file + p.paint(signalColours[f.Signal], f.Signal.String()) + word[len(f.Signal.String()):] + f.Message + " (" + f.Rule.Name + ")")
	}
	if len(r.Findings) == 0 {
		p.Line(file + nothingFound)
	}
	if words := Reduced(r.Case.Result); words != "" {
		p.Line(file + "search cut: " + words)
	}
	if words := Unpaired(r.Case.Result); words != "" {
		p.Line(file + "not looked at: " + words)
	}
}

// finding tells one finding. What was said in full of an earlier one is not said at length again.
func (p *Page) finding(c *analysis.Circuit, f *rules.Finding, said map[string]bool) {
	once := func(full, again string) string {
		if said[full] {
			return again
		}
		said[full] = true
		return full
	}
	word := f.Signal.String()
	head := padded(word, headWidth)
	p.para(head, p.paint(signalColours[f.Signal], word)+head[len(word):], f.Message)
	if f.Path != nil {
		p.sub("path", Path(c.Set, *f.Path))
	}
	if f.Worst != nil {
		p.sub("state", phrase.State(f.Worst.State))
	}
	figures := f.Figures
	if f.FiguresAgain != "" && said[f.Meaning] {
		figures = f.FiguresAgain
	}
	said[f.Meaning] = true
	p.sub("figures", figures)
	if f.Between != "" {
		p.Para(blanks(headWidth)+"stands between: ", f.Between)
	}
	for _, note := range f.Notes {
		p.sub("note", note)
	}
	again := "as above: unplugged, discharged and measured, checked again cold and hot (" + f.Rule.Name + ")"
	if said[f.Remedy] && said[f.Caution] {
		p.sub("do,care", again)
		return
	}
	p.sub("do", once(f.Remedy, "as above"))
	if said[f.Caution] {
		p.sub("care", again)
		return
	}
	said[f.Caution] = true
	p.sub("care", f.Caution)
	p.sub("more", "coldcheck why "+f.Rule.Name)
}

// sub writes a line below the head of a finding, behind its label. No text, no line.
func (p *Page) sub(label, text string) {
	if text != "" {
		p.Para(blanks(headWidth)+padded(label, labelWidth), text)
	}
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
