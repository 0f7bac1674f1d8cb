package netlist

import (
	"cmp"
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
func (p Problem) String() string {
	where := p.Pos
	where.File = Visible(where.File)
	return fmt.Sprintf("%s: %s", where, p.Text)
}

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

// sorted returns the problems by place, each once.
func (ps Problems) sorted() Problems {
	slices.SortStableFunc(ps, func(a, b Problem) int { return comparePos(a.Pos, b.Pos) })
	return slices.Compact(ps)
}

// maxProblems is how many problems of a file are told one by one. A file with more is not a set
// file with slips in it.
const maxProblems = 2000

// problemList gathers problems.
type problemList struct {
	problems Problems
	untold   int // how many came after the last that is told
}

func (l *problemList) addf(pos Pos, format string, args ...any) {
	if len(l.problems) >= maxProblems {
		l.untold++
		return
	}
	l.problems = append(l.problems, Problem{pos, fmt.Sprintf(format, args...)})
}

// count is how many problems there are, told or not.
func (l *problemList) count() int { return len(l.problems) + l.untold }

// all returns the problems, with a last one that counts the untold.
func (l *problemList) all(file string) Problems {
	if l.untold == 0 {
		return l.problems
	}
	return append(l.problems, Problem{Pos{File: file}, fmt.Sprintf("%d more problems of this file are not told; is it a set file?", l.untold)})
}

func comparePos(a, b Pos) int {
	return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Col, b.Col))
}
