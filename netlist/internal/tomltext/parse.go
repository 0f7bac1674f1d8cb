package tomltext

import (
	"fmt"
	"strings"

	"github.com/BurntSushi/toml"

	"coldcheck/netlist"
)

// Parsed is a TOML file as read.
type Parsed struct {
	Root     *netlist.Table // nil where too little could be read to go on
	Problems netlist.Problems
	// Lost is the text of the lines that could not be read. What they say is not known, and nothing
	// that they may have said is missed.
	Lost string
}

// Parse reads TOML into a table with every place known. What is no TOML is told and, where it is plain what was
// meant, read as that; else its line is left out, where it plainly is a line by itself, so that the rest is
// checked in the same go.
func Parse(file string, data []byte) Parsed {
	text, problems := plainText(file, data)
	if problems != nil {
		return Parsed{Problems: problems}
	}
	ix := indexLines(file, text)
	if at, what := tooDeep(text); what != "" {
		return Parsed{Problems: netlist.Problems{{Pos: ix.pos(at), Text: what}}}
	}
	var p Parsed
	mendedAt := map[netlist.Pos]bool{}
	for passes := maxPasses(text); ; passes-- {
		var content map[string]any
		places := placesOf(text)
		err := decode(text, &content)
		if err == nil {
			p.Root = joinTable(ix, places(), content)
			p.Problems = p.Problems.Sorted()
			return p
		}
		found, how := syntaxProblems(ix, text, err)
		more := passes > 1
		mend := len(how.edits) > 0 && !mendedAt[found[0].Pos] // an edit that does not help is not tried again
		if !(mend && more && how.told) {
			p.Problems = append(p.Problems, found...)
		}
		if mend {
			mendedAt[found[0].Pos] = true
			text, ix = mended(ix, text, how.edits)
			if how.lost != "" {
				p.Lost += how.lost + "\n"
			}
			_, deep := tooDeep(text)
			more = more && deep == ""
		} else {
			more = more && p.leaveOut(&text, how.lines)
		}
		if passes <= 1 && len(p.Problems) > 1 {
			p.Problems.Addf(found[0].Pos, "the file has more slips than are read in one go; put right those up to here, and those below are told next")
		}
		if !more {
			p.Problems = p.Problems.Sorted()
			return p
		}
	}
}

// leaveOut takes lines out of a text and keeps what they say as lost. It reports whether it could.
func (p *Parsed) leaveOut(text *string, lines []int) bool {
	for _, at := range lines {
		rest, line, ok := withoutLine(*text, at)
		if !ok {
			return false
		}
		*text, p.Lost = rest, p.Lost+line+"\n"
	}
	return len(lines) > 0
}

// shortText is how long a text is that is not worth a second processor.
const shortText = 2000

// placesOf finds where everything in a text stands: of a longer one while it is decoded.
func placesOf(text string) func() *spot {
	if len(text) < shortText {
		return func() *spot { return locate(text) }
	}
	found := make(chan *spot, 1)
	go func() { found <- locate(text) }()
	return func() *spot { return <-found }
}

// maxPasses bounds the work on a large file that is wrong all through.
func maxPasses(text string) int { return max(1, min(400, (2<<20)/(len(text)+1))) }

// decode calls the decoder. It panics on text that it has not foreseen; that is told as an error.
func decode(text string, into *map[string]any) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("the file cannot be read: %v", r)
		}
	}()
	_, err = toml.Decode(text, into)
	return err
}

// withoutLine blanks the line at an offset, if it is a statement by itself: nothing open before it,
// and a new statement after it.
func withoutLine(text string, at int) (rest, line string, ok bool) {
	start := strings.LastIndexByte(text[:at], '\n') + 1
	end := len(text)
	if i := strings.IndexByte(text[at:], '\n'); i >= 0 {
		end = at + i
	}
	line = text[start:end]
	trimmed := strings.TrimSpace(line)
	if trimmed == "" || trimmed[0] == '[' || strings.HasSuffix(trimmed, "]") && !strings.Contains(trimmed, "=") ||
		depthAt(text, start) != 0 || strings.Contains(line, `"""`) || strings.Contains(line, `'''`) || !newStatement(text[end:]) {
		return text, "", false
	}
	return text[:start] + strings.Repeat(" ", len(line)) + text[end:], line, true
}

// newStatement reports whether the text that follows a line begins with a statement of its own.
func newStatement(rest string) bool {
	for line := range strings.Lines(rest) {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		if line[0] == '[' {
			return true
		}
		key, _, found := strings.Cut(line, "=")
		return found && !strings.ContainsAny(key, "]},")
	}
	return true
}
