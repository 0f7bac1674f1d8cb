package netlist

import (
	"cmp"
	"fmt"

	"coldcheck/netlist/internal/words"
)

// Pos is a place in a file. Line and Col count from 1; Col counts characters, not bytes.
// A zero Line means that the place is not known.
type Pos struct {
	File string
	Line int
	Col  int
}

// String gives "file:line:col", or the file alone where the line is not known, fit for a terminal.
func (p Pos) String() string {
	if p.Line == 0 {
		return words.Visible(p.File)
	}
	return fmt.Sprintf("%s:%d:%d", words.Visible(p.File), p.Line, p.Col)
}

// Compare orders places in one file.
func (p Pos) Compare(other Pos) int {
	return cmp.Or(cmp.Compare(p.Line, other.Line), cmp.Compare(p.Col, other.Col))
}
