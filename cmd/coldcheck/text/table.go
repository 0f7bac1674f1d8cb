package text

import "strings"

// Table lays out cells in columns. A cell that is wider than its column goes on below itself.
type Table struct {
	Widths []int // in columns; the last one may run to the edge
	Names  bool  // the first column names things, in bold
	rows   [][]string
}

// tableGap stands between two columns.
const tableGap = 2

// Row adds a row of cells, one a column.
func (t *Table) Row(cells ...string) { t.rows = append(t.rows, cells) }

// lines gives the table's lines, indented, in so many columns.
func (t *Table) lines(indent, room int) []string {
	widths := t.widths(indent, room)
	var lines []string
	for _, row := range t.rows {
		lines = append(lines, rowLines(row, widths, indent)...)
	}
	return lines
}

// rowLines are the lines of one row in columns of given widths.
func rowLines(row []string, widths []int, indent int) []string {
	folded, height := make([][]string, len(row)), 1
	for i, cell := range row {
		folded[i] = wrap(cell, widths[i])
		height = max(height, len(folded[i]))
	}
	lines := make([]string, height)
	for y := range lines {
		var b strings.Builder
		b.WriteString(blanks(indent))
		for i := range row {
			cell := ""
			if y < len(folded[i]) {
				cell = folded[i][y]
			}
			b.WriteString(padded(cell, widths[i]+tableGap))
		}
		lines[y] = strings.TrimRight(b.String(), " ")
	}
	return lines
}

// fitted makes columns no wider than their widest cell.
func (t *Table) fitted() []int {
	widths := make([]int, len(t.Widths))
	for _, row := range t.rows {
		for i, cell := range row {
			for _, line := range wrap(cell, t.Widths[i]) {
				widths[i] = max(widths[i], columns(line))
			}
		}
	}
	return widths
}

// widths are those of the columns, indented, in so many columns of the page.
func (t *Table) widths(indent, room int) []int {
	widths := t.fitted()
	room -= indent + tableGap*(len(widths)-1)
	narrow(widths, t.words(widths), room)
	narrow(widths, nil, room)
	return widths
}

// fits reports whether no word has to be cut for the table to have room.
func (t *Table) fits(indent, room int) bool {
	widths := t.fitted()
	sum := indent + tableGap*(len(widths)-1)
	for _, w := range t.words(widths) {
		sum += w
	}
	return sum <= room
}

// words are the columns of the longest word in each column of the table, no more than it has.
func (t *Table) words(widths []int) []int {
	longest := make([]int, len(widths))
	for _, row := range t.rows {
		for i, cell := range row {
			for _, word := range tokens(cell) {
				longest[i] = min(max(longest[i], columns(cell[word.start:word.end])), widths[i])
			}
		}
	}
	return longest
}

// leastColumn is how narrow a column may become.
const leastColumn = 6

// narrow takes from the widest columns what there is no room for, from none more than leaves it its floor.
func narrow(widths, floors []int, room int) {
	sum := 0
	for _, w := range widths {
		sum += w
	}
	for ; sum > room; sum-- {
		widest := -1
		for i, w := range widths {
			if (floors == nil || w > floors[i]) && w > leastColumn && (widest < 0 || w > widths[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			return
		}
		widths[widest]--
	}
}

// Table writes a table.
func (p *Page) Table(indent int, t *Table) {
	told := &Table{Widths: t.Widths, Names: t.Names}
	for _, row := range t.rows {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = p.inWords(cell)
		}
		told.Row(cells...)
	}
	first := 0
	if told.Names && len(told.rows) > 0 {
		first = indent + told.widths(indent, p.width)[0]
	}
	for _, line := range told.lines(indent, p.width) {
		name, rest := line, ""
		if runes := []rune(line); len(runes) > first {
			name, rest = string(runes[:first]), string(runes[first:])
		}
		if !told.Names || strings.TrimSpace(name) == "" {
			p.Line(line)
			continue
		}
		bare := strings.TrimSpace(name)
		p.Line(strings.Replace(name, bare, p.paint(bold, bare), 1) + rest)
	}
}
