package page

import (
	"html/template"
	"io"

	"coldcheck/cmd/coldcheck/text"
	"coldcheck/rules/record"
)

// recordDocument is the sheet of a job, to be printed: it has no script.
type recordDocument struct {
	Policy   string
	Style    template.CSS
	Made     string // of which file, by what
	Sheet    *text.RecordSheet
	Sections []recordSection
}

type recordSection struct {
	text.RecordSection
	Tables []*checkTable
}

// Record writes the sheet of a job on a set.
func Record(w io.Writer, r *record.Record) error {
	d := &recordDocument{Policy: stylePolicy(), Style: template.CSS(styleText), Made: madeOf(r.Before.Case.Set), Sheet: text.RecordWords(r)}
	for _, s := range d.Sheet.Sections {
		section := recordSection{RecordSection: s}
		for _, t := range s.Tables {
			section.Tables = append(section.Tables, newCheckTable(t))
		}
		d.Sections = append(d.Sections, section)
	}
	return execute(w, "record", d)
}
