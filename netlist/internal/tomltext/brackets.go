package tomltext

import "strings"

// depthAt is how many brackets are open at an offset of text that is in order so far.
func depthAt(text string, offset int) int {
	depth := 0
	scan(text[:offset], func(at int, c byte) bool {
		switch c {
		case '[', '{':
			depth++
		case ']', '}':
			depth--
		}
		return true
	})
	return depth
}

// openTextAt is where the string begins that does not end, -1 where all do.
func openTextAt(text string) int { return scan(text, func(int, byte) bool { return true }) }

// scan visits the bytes of text outside strings and comments, until visit returns false or a
// string does not end; then it returns where that string begins, else -1.
func scan(text string, visit func(at int, c byte) bool) (open int) {
	l := &locator{text: text}
	for l.more() {
		switch c := text[l.at]; c {
		case '"', '\'':
			start := l.at
			if _, ok := l.quoted(); !ok {
				return start
			}
		case '#':
			end := strings.IndexByte(l.rest(), '\n')
			if end < 0 {
				return -1
			}
			l.at += end
		default:
			if !visit(l.at, c) {
				return -1
			}
			l.at++
		}
	}
	return -1
}

// Bounds on how deep values may stand in one another. The format needs four; the decoder calls
// itself for each, and would run out of stack on a file of brackets alone.
const (
	maxNesting = 32
	maxDots    = 16
)

// tooDeep finds the place where values nest deeper than any set file needs.
func tooDeep(text string) (where int, what string) {
	depth, dots := 0, 0
	scan(text, func(at int, c byte) bool {
		switch c {
		case '[', '{':
			depth, dots = depth+1, 0
		case ']', '}':
			depth, dots = depth-1, 0
		case '=', ',', '\n':
			dots = 0
		case '.':
			dots++
		}
		switch {
		case depth > maxNesting:
			where, what = at, "too many brackets stand inside one another; close each [ and { where its list or table ends"
		case dots > maxDots:
			where, what = at, "too many dots in one name; a key is one word"
		}
		return what == ""
	})
	return where, what
}
