package setfile

import (
	"fmt"

	"coldcheck/netlist"
)

// maxProblems is how many problems of a file are told one by one. A file with more is not a set
// file with slips in it.
const maxProblems = 2000

// problemList gathers problems.
type problemList struct {
	problems netlist.Problems
	untold   int // how many came after the last that is told
}

func (l *problemList) addf(pos netlist.Pos, format string, args ...any) {
	if len(l.problems) >= maxProblems {
		l.untold++
		return
	}
	l.problems = append(l.problems, netlist.Problem{Pos: pos, Text: fmt.Sprintf(format, args...)})
}

// count is how many problems there are, told or not.
func (l *problemList) count() int { return len(l.problems) + l.untold }

// all returns the problems, with a last one that counts the untold.
func (l *problemList) all(file string) netlist.Problems {
	if l.untold == 0 {
		return l.problems
	}
	return append(l.problems, netlist.Problem{Pos: netlist.Pos{File: file}, Text: fmt.Sprintf("%d more problems of this file are not told; is it a set file?", l.untold)})
}
