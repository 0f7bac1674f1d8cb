package page

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html/template"
	"io"
	"path/filepath"
	"strings"
	"unicode/utf16"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/analysis/survey"
	"coldcheck/cmd/coldcheck/output"
	"coldcheck/cmd/coldcheck/reading"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
)

// checklistView is what to measure of a set, ready for the template.
type checklistView struct {
	Sections []checkSection
	Promise  string
	Fold     bool // on a page with other things
	Left     bool // the set is too large for its checks to be laid out on a page
	Data     *fieldData
}

// Fields is the data of the fields as JSON. Names stand in it as the set file has them; what of them does not show is
// written as escapes.
func (v checklistView) Fields() (template.JS, error) {
	data, err := json.Marshal(v.Data) // escapes what could end the script
	if err != nil {
		return "", err
	}
	var b strings.Builder
	for _, r := range string(data) {
		if s := string(r); netlist.Visible(s) == s {
			b.WriteString(s)
			continue
		}
		for _, half := range utf16.Encode([]rune{r}) {
			fmt.Fprintf(&b, "\\u%04x", half)
		}
	}
	return template.JS(b.String()), nil
}

// fieldData is what readings.js knows of a checklist: its fields, in the order of the page, and how figures are typed.
type fieldData struct {
	circuit   *analysis.Circuit
	Of        string                                 `json:"of"`   // the set, for what is kept in the browser
	Head      string                                 `json:"head"` // what is given out begins so
	Tied      string                                 `json:"tied"` // and so what a set file has no reading for
	Fields    []reading.Field                        `json:"fields"`
	Spellings map[diagnose.Quantity]reading.Spelling `json:"spellings"`
	Prefixes  map[string]float64                     `json:"prefixes"` // of units, in the case in which they are written
	Spelt     map[string]float64                     `json:"spelt"`    // those in words, in lower case
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
	Fields []placedField // of a blank
}

// placedField is a field, with its place in fieldData.
type placedField struct {
	reading.Field
	N int
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
	v := checklistView{Promise: text.ChecklistPromise, Data: newFieldData(l.Circuit)}
	for _, s := range text.ChecklistSections(l) {
		section := checkSection{Key: s.Key, Title: s.Title, About: s.About}
		for _, b := range s.Blocks {
			block := checkBlock{Strong: b.Strong, Text: b.Text}
			if b.Strong == "" {
				block.Text = capital(b.Text)
			}
			if b.Table != nil {
				block.Table = newCheckTable(b.Table)
				v.Data.of(block.Table)
			}
			section.Blocks = append(section.Blocks, block)
		}
		v.Sections = append(v.Sections, section)
	}
	v.Data.Spellings = reading.SpellingsOf(v.Data.Fields)
	return v
}

func newFieldData(c *analysis.Circuit) *fieldData {
	names := []string{c.Set.Name, text.Mains(c.Set), text.Inventory(c)}
	for _, p := range c.Points {
		names = append(names, p.Name)
	}
	sum := sha256.Sum256([]byte(strings.Join(names, "\x00")))
	return &fieldData{circuit: c, Of: hex.EncodeToString(sum[:8]), Head: reading.Head(c.Set), Tied: reading.TiedHead, Fields: []reading.Field{}, Prefixes: netlist.Prefixes(), Spelt: netlist.PrefixWords()}
}

// of gives the blanks of a table their fields. A check that no set file could have a reading of has none.
func (d *fieldData) of(t *checkTable) {
	for i := range t.Rows {
		for j := range t.Rows[i].Cells {
			cell := &t.Rows[i].Cells[j]
			for _, check := range cell.Of {
				f, err := reading.FieldOf(d.circuit, check)
				if err != nil {
					continue
				}
				if len(cell.Of) > 1 {
					f.To = netlist.Visible(check.B)
				}
				cell.Fields = append(cell.Fields, placedField{f, len(d.Fields)})
				d.Fields = append(d.Fields, f)
			}
		}
	}
}

// paper is a checklist by itself, to be printed; its script takes readings.
type paper struct {
	Policy                 string
	Style                  template.CSS
	Script                 template.JS
	ID, Name, Mains, Stage string
	Made                   string
	Facts                  []string
	Checks                 string
	Checklist              checklistView
}

// Checklist writes a checklist to print and take to the bench.
func Checklist(w io.Writer, l *diagnose.Checklist) error {
	c := l.Circuit
	d := &paper{Policy: policyOf("style-src "+hashOf(styleText), "script-src "+hashOf(readingsText())), Style: template.CSS(styleText), Script: template.JS(readingsText()),
		ID: "set", Made: madeOf(c.Set), Name: netlist.Visible(c.Set.Name), Mains: text.Mains(c.Set),
		Checks: sentence(capital(text.BenchChecks(c))), Checklist: laidOut(l)}
	d.Facts = append(d.Facts, text.Inventory(c))
	if on := text.OnBuildingEarth(c.Set); on != "" {
		d.Facts = append(d.Facts, on)
	}
	return execute(w, "paper", d)
}

// madeOf says on a paper of which file it is, and what made it.
func madeOf(set *netlist.Set) string {
	file := "standard input"
	if set.File != "-" {
		file = netlist.Visible(filepath.Base(set.File))
	}
	return file + ", " + output.Version()
}

func newCheckTable(t *text.CheckTable) *checkTable {
	out := &checkTable{Caption: t.Caption, Long: len(t.Rows) > longTable}
	for _, c := range t.Columns {
		out.Columns = append(out.Columns, c.Name)
	}
	for _, r := range t.Rows {
		row := checkRow{Head: r.Cells[0].Text, Below: r.Below}
		for i, cell := range r.Cells[1:] {
			row.Cells = append(row.Cells, checkCell{Column: t.Columns[i+1].Name, CheckCell: cell})
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}
