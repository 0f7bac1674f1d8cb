package text

import (
	"io"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/draft"
	"coldcheck/rules/phrase"
)

// DraftHead tells how a person answers.
func (p *Page) DraftHead(kept string) {
	p.Para("", "One question after another, in the order of the cord. Enter alone takes what stands in brackets; ? tells why a thing is asked, back goes back to the "+
		"question before, stop ends for now, and don't know is an answer to most. Every answer is kept at once, in "+netlist.Visible(kept)+".")
}

// Question asks a question.
func (p *Page) Question(i *draft.Interview, q *draft.Question, newGroup bool) {
	if newGroup {
		p.Blank()
		p.Title(q.Group)
	}
	if shown := i.Shown(q); shown != "" {
		p.indented(rowIndent, netlist.Visible(shown))
	}
	p.indented(rowIndent, q.Ask)
	table := &Table{Widths: []int{16, Width - 24}, Names: true}
	for _, w := range i.Words(q) {
		table.Row(w.Word, w.Meaning)
	}
	p.Table(2*rowIndent, table)
	if examples := i.Examples(q); len(q.Words) == 0 || len(q.Examples) > 1 && len(examples) > 0 {
		p.indented(2*rowIndent, "like  "+strings.Join(examples, "   or   "))
	}
}

// Prompt leaves a line open for an answer.
func (p *Page) Prompt(q *draft.Question, usual string) {
	io.WriteString(p.w, q.Key+" ["+netlist.Visible(usual)+"]: ")
}

// Why tells why a question is asked, and what is assumed where a thing is not known.
func (p *Page) Why(q *draft.Question) {
	text := q.Why
	if q.Unknown != "" {
		text += " Not known, it is taken as: " + q.Unknown + "."
	}
	p.indented(2*rowIndent, text)
}

// DraftRemark tells something of an answer.
func (p *Page) DraftRemark(text string) { p.indented(2*rowIndent, netlist.Visible(text)) }

// Drafted tells what was written, and what is left to be answered.
func (p *Page) Drafted(set, kept string, open, unknown []string) {
	p.Blank()
	p.Para("", "Wrote "+netlist.Visible(set)+"; the answers are in "+netlist.Visible(kept)+".")
	if len(open) > 0 {
		p.Para("", "Not answered: "+phrase.List(open)+". Each is taken as not known; coldcheck draft "+netlist.Visible(set)+" goes on.")
	}
	if len(unknown) > 0 {
		p.Para("", "Not known: "+phrase.List(unknown)+". The file says what each is taken as. Trace these first, then change their lines in "+netlist.Visible(kept)+" and draft again, or change the set file.")
	}
}
