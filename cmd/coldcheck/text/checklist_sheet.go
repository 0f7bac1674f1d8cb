package text

import "strings"

// sheet is a table in which a row may have a line of its own below it, across all columns.
type sheet struct {
	table Table
	under map[int][]string // by row
}

func newSheet(widths ...int) *sheet {
	return &sheet{table: Table{Widths: widths}, under: map[int][]string{}}
}

func (s *sheet) row(cells ...string) { s.table.Row(cells...) }

// below puts a line under the row written last.
func (s *sheet) below(text string) {
	k := len(s.table.rows) - 1
	s.under[k] = append(s.under[k], text)
}

// sheet writes the rows in columns that are alike all the way down.
func (p *Page) sheet(s *sheet) {
	widths := s.table.fitted()
	for k, row := range s.table.rows {
		folded, height := make([][]string, len(row)), 1
		for i, cell := range row {
			folded[i] = Wrap(cell, widths[i])
			height = max(height, len(folded[i]))
		}
		for y := range height {
			var b strings.Builder
			for i := range row {
				cell := ""
				if y < len(folded[i]) {
					cell = folded[i][y]
				}
				b.WriteString(padded(cell, widths[i]+tableGap))
			}
			p.Line(strings.TrimRight(b.String(), " "))
		}
		for _, text := range s.under[k] {
			p.Para("    ", text)
		}
	}
}
