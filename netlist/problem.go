package netlist

import (
	"fmt"
	"slices"
	"strings"
)

// Problem is one thing wrong in a file.
type Problem struct {
	Pos  Pos
	Text string // what is wrong; what would be right. Lower case, no full stop
}

// String gives "file:line:col: text". A text of several lines keeps them.
func (p Problem) String() string { return fmt.Sprintf("%s: %s", p.Pos, p.Text) }

// Problems are all the things wrong in a file, in the order of their places. It is never empty
// where it is an error.
type Problems []Problem

// Error gives one problem a line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

// Addf adds a problem.
func (ps *Problems) Addf(pos Pos, format string, args ...any) {
	*ps = append(*ps, Problem{pos, fmt.Sprintf(format, args...)})
}

// Sorted returns the problems by place, each once.
func (ps Problems) Sorted() Problems {
	slices.SortStableFunc(ps, func(a, b Problem) int { return a.Pos.Compare(b.Pos) })
	return slices.Compact(ps)
}
