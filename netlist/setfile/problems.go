package setfile

import (
	"strings"

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
	l.problems.Addf(pos, format, args...)
}

// count is how many problems there are, told or not.
func (l *problemList) count() int { return len(l.problems) + l.untold }

// all returns the problems, with a last one that counts the untold.
func (l *problemList) all(file string) netlist.Problems {
	all := l.problems
	if l.untold > 0 {
		all.Addf(netlist.Pos{File: file}, "%d more problems of this file are not told; is it a set file?", l.untold)
	}
	return all
}

// unread is what a file says that did not come into its document. What it says is not known, and
// nothing that it may have said is missed.
type unread struct {
	lost    string          // the lines that could not be read
	aside   string          // the texts of sections that are not known
	refused map[string]bool // sections that are not what they should be
}

// hides reports whether a name may stand for what the lines say that could not be read. An empty one stands for nothing.
func (u *unread) hides(name string) bool { return name != "" && strings.Contains(u.lost, name) }

// any reports whether anything was left out of the document.
func (u *unread) any() bool { return u.lost != "" || u.aside != "" || len(u.refused) > 0 }

// unreadableKind stands for a kind that has been complained of already.
const unreadableKind = "\x00"
