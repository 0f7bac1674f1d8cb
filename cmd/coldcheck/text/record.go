package text

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/overview"
	"coldcheck/rules/phrase"
	"coldcheck/rules/record"
)

// RecordSheet is a record in words: what the text, and any other form of it, lays out in its own way.
type RecordSheet struct {
	Name, Mains string
	Job         []string // what it was done for
	Sections    []RecordSection
	Blanks      []RecordBlank // what is written in by hand at its end
}

// RecordBlank is a label and room to write behind it, in columns.
type RecordBlank struct {
	Label string
	Room  int
}

// recordBlanks are beside each other on a page of full width.
var recordBlanks = []RecordBlank{{"Date", 10}, {"Name", 22}, {"License, where local rules ask for one", 14}}

// RecordSection is a part of a record under a heading of its own.
type RecordSection struct {
	Key   string // one word, for addresses
	Title string
	About string
	Lines []RecordLine
	// Tables stand behind the lines.
	Tables []*CheckTable
}

// RecordLine is a line of a record, behind a head where it has one.
type RecordLine struct {
	Head string
	ShortLine
}

// Record tells a job on a set on one sheet.
func (p *Page) Record(r *record.Record) {
	s := RecordWords(r)
	p.heading(s.Name, s.Mains)
	for _, line := range s.Job {
		p.Para("", line)
	}
	for i := range s.Sections {
		p.Blank()
		p.recordSection(&s.Sections[i])
	}
	p.Blank()
	p.blanks(s.Blanks)
}

func (p *Page) recordSection(s *RecordSection) {
	p.Title(s.Title)
	if s.About != "" {
		p.indented(rowIndent, s.About)
	}
	width := 0
	for _, l := range s.Lines {
		width = max(width, columns(l.Head))
	}
	for _, l := range s.Lines {
		switch {
		case l.Head != "":
			p.Para(blanks(rowIndent)+padded(l.Head, width+2), l.Text)
		case s.signals():
			p.word(l.Signal, l.Found, l.Text)
		default:
			p.Para(blanks(rowIndent), l.Text)
		}
	}
	for _, t := range s.Tables {
		t.indent = rowIndent
		p.checkTable(t)
	}
}

// signals reports whether lines of a section stand behind signal words.
func (s *RecordSection) signals() bool {
	return slices.ContainsFunc(s.Lines, func(l RecordLine) bool { return l.Found }) || s.Key == "found" || s.Key == "now"
}

// blanks are lines to write on by hand: beside each other where there is room.
func (p *Page) blanks(blanks []RecordBlank) {
	all := make([]string, len(blanks))
	for i, b := range blanks {
		all[i] = b.Label + " " + strings.Repeat("_", b.Room)
	}
	for len(all) > 0 {
		line, n := all[0], 1
		for n < len(all) && columns(line)+2+columns(all[n]) <= p.width {
			line, n = line+"  "+all[n], n+1
		}
		p.Line(line)
		all = all[n:]
	}
}

// RecordWords puts a record into words.
func RecordWords(r *record.Record) *RecordSheet {
	before, now := r.Before.Case, r.After.Case
	s := &RecordSheet{Name: netlist.Visible(now.Set.Name), Mains: Mains(now.Set), Job: jobWords(r), Blanks: recordBlanks}
	add := func(c *analysis.Circuit, section RecordSection) {
		section.inWordsOf(c)
		s.Sections = append(s.Sections, section)
	}
	add(before.Circuit, RecordSection{Key: "found", Title: "As found, in short: " + tally(r.Before), Lines: shortLinesOf(r.AsFound)})
	add(now.Circuit, doneSection(r))
	if taken := takenSection(r, true); taken != nil {
		add(before.Circuit, *taken)
	}
	if taken := takenSection(r, false); taken != nil {
		add(now.Circuit, *taken)
	}
	add(now.Circuit, hotSection(r))
	add(now.Circuit, RecordSection{Key: "now", Title: "Now, in short: " + tally(r.After), Lines: shortLinesOf(r.Now)})
	add(now.Circuit, leftSection(r))
	add(now.Circuit, RecordSection{Key: "owner", Title: "What the owner has to know", Lines: bullets(r.Owner)})
	add(now.Circuit, RecordSection{Key: "care", Title: "For who works on it", Lines: []RecordLine{{ShortLine: ShortLine{Text: strings.Join(r.Cautions, " ")}}}})
	return s
}

// jobWords tells what the job was.
func jobWords(r *record.Record) []string {
	steps := phrase.Counted(len(r.Steps), "step")
	if r.Plan == nil {
		return []string{fmt.Sprintf("Record of a job, by %s as found and %s as it is now (%s)", netlist.Visible(r.Before.Case.Set.File), netlist.Visible(r.After.Case.Set.File), phrase.Counted(len(r.Steps), "difference"))}
	}
	words := []string{fmt.Sprintf("Record of a job: %s (%s)", netlist.Visible(r.Plan.Name), steps)}
	if other := r.OtherSet(); other != "" {
		words = append(words, fmt.Sprintf("The plan's title speaks of %s: is it the plan for this set?", netlist.Visible(other)))
	}
	return words
}

func shortLinesOf(o *overview.Overview) []RecordLine {
	var lines []RecordLine
	for _, l := range ShortLines(o) {
		lines = append(lines, RecordLine{ShortLine: l})
	}
	return lines
}

// bullets are texts that stand each for itself.
func bullets(texts []string) []RecordLine {
	var lines []RecordLine
	for _, text := range texts {
		lines = append(lines, RecordLine{"-", ShortLine{Text: text}})
	}
	return lines
}

func doneSection(r *record.Record) RecordSection {
	s := RecordSection{Key: "done", Title: "Done"}
	if len(r.Steps) == 0 {
		s.About = "Nothing: both files have the same wiring."
	}
	for _, d := range r.Done() {
		s.Lines = append(s.Lines, RecordLine{stepRange(d.First, d.Last), ShortLine{Text: d.Text}})
	}
	return s
}

// takenSection tells the readings that a file has, nil where it has none.
func takenSection(r *record.Record, asFound bool) *RecordSection {
	s := &RecordSection{Key: "readings", Title: "Readings taken on the set as it is now"}
	if asFound {
		s.Key, s.Title = "readings-found", "Readings taken on the set as found"
	}
	t := &CheckTable{Caption: s.Title, Columns: []CheckColumn{{Name: "at", width: 54}, {Name: "expect", width: 12}, {Name: "read", width: 12}, {Name: "verdict", unnamed: true, width: 12}}}
	for i := range r.Readings {
		x := &r.Readings[i]
		if !x.Taken || x.AsFound != asFound {
			continue
		}
		verdict := cell("as expected")
		if !x.Agrees() {
			verdict = barCell("DIFFERS")
		}
		t.row(cell(phrase.Measurement(x.Measurement)), cell(phrase.Meter(x.Quantity, x.Expect)), cell(phrase.Meter(x.Quantity, x.Read)), verdict)
	}
	if len(t.Rows) == 0 {
		return nil
	}
	s.Tables = []*CheckTable{t}
	return s
}

// hotSection lays out the hot check of the set as it is now, both ways of the plug, with blanks.
func hotSection(r *record.Record) RecordSection {
	c := r.After.Case.Circuit
	s := RecordSection{Key: "hot", Title: "Readings to earth, both ways of the plug",
		About: "Volts to a tested earth across 1.5 kΩ with 0.15 µF beside it, switches and controls where it reads most; 0.75 V is 0.5 mA. " +
			"Only after the cold checks: coldcheck checklist has them, and what is still right."}
	if r.Unlaid {
		s.About = "The set is too large for them to be laid out here: coldcheck checklist has them all."
		return s
	}
	one, other := phrase.PlugOf(c, analysis.AsMarked), phrase.PlugOf(c, analysis.Reversed)
	t := &CheckTable{Caption: s.Title, Columns: []CheckColumn{{Name: "metal", width: 34}, {Name: one, width: 18, begins: true}, {Name: "read", width: 8}, {Name: other, width: 18, begins: true}, {Name: "read", width: 8}}}
	metals := map[string]string{}
	for _, m := range r.Now.Metals {
		for _, node := range m.Nodes() {
			metals[node] = phrase.Few(phrase.Visible(m.Nodes()), namesInTable)
		}
	}
	for i := 0; i+1 < len(r.Readings); i++ {
		marked, reversed := &r.Readings[i], &r.Readings[i+1]
		if !marked.HotCheck() || !reversed.HotCheck() || marked.Plug != analysis.AsMarked {
			continue
		}
		cells := append([]CheckCell{cell(metals[marked.A])}, hotCells(marked)...)
		t.row(append(cells, hotCells(reversed)...)...)
	}
	if len(t.Rows) == 0 {
		s.About = "The file has no metal to read at."
		return s
	}
	s.Tables = []*CheckTable{t}
	return s
}

// namesInTable is how many names of a piece of metal a table has room for.
const namesInTable = 2

// hotCells are what is to be expected of a hot check, and a blank; or why it must not be made.
func hotCells(x *record.Reading) []CheckCell {
	switch x.Bar {
	case record.NoBar:
	case record.ReadingsDiffer:
		return []CheckCell{barCell("not yet"), cell("")}
	default:
		return []CheckCell{barCell("DO NOT: " + string(x.Bar)), cell("")}
	}
	words := phrase.Meter(diagnose.VoltsRead, x.Expect)
	if x.Expect > analysis.HotCheckVolts {
		words += ", startles"
	}
	return []CheckCell{cell(words), {Text: blank, Blank: true}}
}

// leftSection tells what was found of the set as it is now, alike notices in a line.
func leftSection(r *record.Record) RecordSection {
	s := RecordSection{Key: "left", Title: "What remains"}
	var notices []string
	for _, i := range r.Left {
		text := i.Message
		if i.Was > i.Signal {
			text += " (it was " + i.Was.String() + ")"
		}
		if i.Signal == rules.Notice {
			notices = append(notices, text)
			continue
		}
		s.Lines = append(s.Lines, RecordLine{"", ShortLine{i.Signal, true, text}})
	}
	if len(notices) > 0 {
		s.Lines = append(s.Lines, RecordLine{"", ShortLine{rules.Notice, true, phrase.FewOf(notices, noticesTold, "; ", "more")}})
	}
	if len(s.Lines) == 0 {
		s.About = strings.ToUpper(nothingFound[:1]) + nothingFound[1:] + "."
	}
	return s
}

// inWordsOf tells a section in the words of a circuit's plug.
func (s *RecordSection) inWordsOf(c *analysis.Circuit) {
	tell(c, &s.Title, &s.About)
	for i := range s.Lines {
		tell(c, &s.Lines[i].Text)
	}
	for _, t := range s.Tables {
		t.inWordsOf(c)
	}
}
