package text

import (
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/rules/phrase"
)

// blank is where a figure is written in by hand.
const blank = "_______"

// CheckSection is a part of the checklist under a heading of its own, in words: what the text, and
// any other form of the checklist, lays out in its own way.
type CheckSection struct {
	Key          string // one word, for addresses
	Title, About string
	Blocks       []CheckBlock
}

// CheckBlock is a paragraph, or a table.
type CheckBlock struct {
	Strong string // how the paragraph begins, where that must stand out
	Text   string
	Table  *CheckTable
}

// CheckTable is a table of the checklist.
type CheckTable struct {
	Caption string // for those who do not see what stands around it
	Columns []CheckColumn
	Rows    []CheckRow
	indent  int
}

// CheckColumn is a column of a table, with the width that it may have on a line of text. The name
// of a column that explains itself there is left out.
type CheckColumn struct {
	Name    string
	unnamed bool
	width   int
	begins  bool // a line of its own, behind its name, on a page too narrow for the table
}

// CheckRow is a row of cells, and what is said of it under it.
type CheckRow struct {
	Cells []CheckCell
	Below []CheckNote
}

// CheckNote is what another result would mean, or a warning.
type CheckNote struct {
	Text  string
	Warns bool
}

// CheckCell is a text, a blank to write a figure into, or a bar: what must not be done.
type CheckCell struct {
	Text       string
	Blank, Bar bool
	Of         []diagnose.Check // the checks whose figures are written into a blank, none where no set file has them
}

func cell(text string) CheckCell    { return CheckCell{Text: text} }
func barCell(text string) CheckCell { return CheckCell{Text: text, Bar: true} }

// readCell is the cell of a figure to be read: a blank, or a bar while no hot check may be made.
func readCell(held bool, of ...diagnose.Check) CheckCell {
	if held {
		return barCell("not yet")
	}
	return CheckCell{Text: blank, Blank: true, Of: of}
}

func (s *CheckSection) say(text string) { s.Blocks = append(s.Blocks, CheckBlock{Text: text}) }

func (s *CheckSection) bar(strong, text string) {
	s.Blocks = append(s.Blocks, CheckBlock{Strong: strong, Text: text})
}

// table puts a table into the section, captioned as the section is named.
func (s *CheckSection) table(columns ...CheckColumn) *CheckTable {
	t := &CheckTable{Caption: s.Title + ", " + s.About, Columns: columns}
	s.Blocks = append(s.Blocks, CheckBlock{Table: t})
	return t
}

func (t *CheckTable) row(cells ...CheckCell) { t.Rows = append(t.Rows, CheckRow{Cells: cells}) }

// below puts a line under the row written last.
func (t *CheckTable) below(text string) { t.note(CheckNote{Text: text}) }

// warn is below with a warning.
func (t *CheckTable) warn(text string) { t.note(CheckNote{Text: text, Warns: true}) }

func (t *CheckTable) note(n CheckNote) {
	last := &t.Rows[len(t.Rows)-1]
	last.Below = append(last.Below, n)
}

// inWordsOf tells a section in the words of a circuit's plug.
func (s *CheckSection) inWordsOf(c *analysis.Circuit) {
	tell(c, &s.Title, &s.About)
	for i := range s.Blocks {
		b := &s.Blocks[i]
		if tell(c, &b.Strong, &b.Text); b.Table != nil {
			b.Table.inWordsOf(c)
		}
	}
}

// inWordsOf tells a table in the words of a circuit's plug.
func (t *CheckTable) inWordsOf(c *analysis.Circuit) {
	tell(c, &t.Caption)
	for _, row := range t.Rows {
		for j := range row.Cells {
			tell(c, &row.Cells[j].Text)
		}
		for j := range row.Below {
			tell(c, &row.Below[j].Text)
		}
	}
}

// tell puts texts into the words of a circuit's plug.
func tell(c *analysis.Circuit, texts ...*string) {
	for _, text := range texts {
		*text = phrase.InWordsOf(c, *text)
	}
}

// section writes a section of the checklist.
func (p *Page) section(s *CheckSection) {
	p.Title(strings.TrimSpace(s.Title + "  " + s.About))
	for _, b := range s.Blocks {
		if b.Table != nil {
			p.checkTable(b.Table)
			continue
		}
		p.Para("", p.paint(red, b.Strong)+b.Text)
	}
}

// checkTable writes a table in columns that are alike all the way down, a row's further lines
// across all of them.
func (p *Page) checkTable(t *CheckTable) {
	table := &Table{}
	var under [][]CheckNote
	heads := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		table.Widths = append(table.Widths, c.width)
		if !c.unnamed {
			heads[i] = c.Name
		}
	}
	if slices.ContainsFunc(heads, func(head string) bool { return head != "" }) {
		table.Row(heads...)
		under = append(under, nil)
	}
	for _, row := range t.Rows {
		cells := make([]string, len(row.Cells))
		for i, c := range row.Cells {
			cells[i] = c.Text
		}
		table.Row(cells...)
		under = append(under, row.Below)
	}
	if (p.width < stackedBelow || !table.fits(t.indent, p.width)) && slices.ContainsFunc(t.Columns, func(c CheckColumn) bool { return c.begins }) {
		p.stacked(t)
		return
	}
	widths := table.widths(t.indent, p.width)
	for k, row := range table.rows {
		for _, line := range rowLines(row, widths, t.indent) {
			p.Line(line)
		}
		for _, note := range under[k] {
			p.Para("    ", note.Text)
		}
	}
}

// stackedBelow is the width below which two figures to be read stand below each other.
const stackedBelow = 72

// stacked writes a table row by row, each of its figures on a line of its own.
func (p *Page) stacked(t *CheckTable) {
	first := slices.IndexFunc(t.Columns, func(c CheckColumn) bool { return c.begins })
	for _, row := range t.Rows {
		var head []string
		for _, c := range row.Cells[:first] {
			if c.Text != "" {
				head = append(head, c.Text)
			}
		}
		p.Para("", strings.Join(head, ", "))
		table := &Table{Widths: []int{18, 22, 7}}
		for i := first; i < len(t.Columns); i += 2 {
			table.Row(t.Columns[i].Name, row.Cells[i].Text, row.Cells[i+1].Text)
		}
		p.Table(2, table)
		for _, note := range row.Below {
			p.Para("    ", note.Text)
		}
	}
}

// Bound is a text in which no line breaks between a figure and its unit, wherever it is laid out.
func Bound(text string) string {
	var b strings.Builder
	end := 0
	for _, t := range tokens(text) {
		b.WriteString(text[end:t.start] + strings.ReplaceAll(text[t.start:t.end], " ", "\u00a0"))
		end = t.end
	}
	return b.String() + text[end:]
}
