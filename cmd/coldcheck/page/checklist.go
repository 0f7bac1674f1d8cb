package page

import (
	"bufio"
	"html/template"
	"io"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/analysis/survey"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
)

// checklistView is what to measure of a set, ready for the template.
type checklistView struct {
	Sections []checkSection
	Promise  string
	Fold     bool // on a page with other things
	Left     bool // the set is too large for its checks to be laid out on a page
}

type checkSection struct {
	Key, Title, About string
	Blocks            []checkBlock
}

type checkBlock struct {
	Strong, Text string
	Table        *checkTable
}

// checkTable is a table with the name of its column beside every cell, for screens on which the
// cells stand below one another.
type checkTable struct {
	Caption string
	Columns []string
	Rows    []checkRow
	Long    bool // folded on a screen
}

type checkRow struct {
	Head  string
	Cells []checkCell
	Below []text.CheckNote
}

type checkCell struct {
	Column string
	text.CheckCell
}

// longTable is how many rows of a table a screen shows without being asked.
const longTable = 10

func newChecklist(c *analysis.Circuit) checklistView {
	if !survey.ChecklistFits(c) {
		return checklistView{Left: true, Fold: true}
	}
	v := laidOut(diagnose.Checks(c))
	v.Fold = true
	return v
}

// laidOut is a checklist that is laid out whatever its size.
func laidOut(l *diagnose.Checklist) checklistView {
	v := checklistView{Promise: text.ChecklistPromise}
	for _, s := range text.ChecklistSections(l) {
		section := checkSection{Key: s.Key, Title: s.Title, About: s.About}
		for _, b := range s.Blocks {
			block := checkBlock{Strong: b.Strong, Text: b.Text}
			if b.Strong == "" {
				block.Text = capital(b.Text)
			}
			if b.Table != nil {
				block.Table = newCheckTable(b.Table)
			}
			section.Blocks = append(section.Blocks, block)
		}
		v.Sections = append(v.Sections, section)
	}
	return v
}

// paper is a checklist by itself, to be printed: it has no script.
type paper struct {
	Policy                 string
	Style                  template.CSS
	ID, Name, Mains, Stage string
	Facts                  []string
	Checks                 string
	Checklist              checklistView
}

// Checklist writes a checklist to print and take to the bench.
func Checklist(w io.Writer, l *diagnose.Checklist) error {
	c := l.Circuit
	d := &paper{Policy: stylePolicy(), Style: template.CSS(styleText), ID: "set", Name: netlist.Visible(c.Set.Name), Mains: text.Mains(c.Set),
		Checks: sentence(capital(text.BenchChecks(c))), Checklist: laidOut(l)}
	d.Facts = append(d.Facts, text.Inventory(c))
	if on := text.OnBuildingEarth(c.Set); on != "" {
		d.Facts = append(d.Facts, on)
	}
	out := bufio.NewWriter(w)
	if err := pageTemplate().ExecuteTemplate(out, "paper", d); err != nil {
		return err
	}
	return out.Flush()
}

func newCheckTable(t *text.CheckTable) *checkTable {
	out := &checkTable{Caption: t.Caption, Long: len(t.Rows) > longTable}
	for _, c := range t.Columns {
		out.Columns = append(out.Columns, c.Name)
	}
	for _, r := range t.Rows {
		row := checkRow{Head: r.Cells[0].Text, Below: r.Below}
		for i, cell := range r.Cells[1:] {
			row.Cells = append(row.Cells, checkCell{t.Columns[i+1].Name, cell})
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}
