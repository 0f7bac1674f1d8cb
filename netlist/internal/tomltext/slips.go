package tomltext

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// remedy is how to go on after a slip.
type remedy struct {
	lines []int  // offsets in the lines to leave out for the rest to be read
	edits []edit // what puts it right in their place, where that is plain
	lost  string // what the edits put out of sight
	told  bool   // with the edits, the file's reader tells of it, and better
}

// syntaxProblems turns the decoder's error into what a person can act on, and says how to read the rest.
func syntaxProblems(ix *lineIndex, text string, err error) (netlist.Problems, remedy) {
	var pe toml.ParseError
	if !errors.As(err, &pe) {
		return netlist.Problems{{Pos: ix.pos(0), Text: err.Error()}}, remedy{}
	}
	if complaintOf(pe.Message) == keyTwice {
		if problems, lines := repeats(ix, text); len(problems) > 0 {
			return problems, remedy{lines: lines}
		}
	}
	s := newSlip(text, pe)
	at, what := s.diagnose()
	return netlist.Problems{{Pos: ix.pos(at), Text: what}}, remedy{[]int{s.lineOf}, s.edits, s.lost, s.told}
}

// slip is a place where the decoder stopped, with what stands around it.
type slip struct {
	text    string
	at      int    // where the decoder stopped
	message string // the decoder's
	says    complaint
	lastKey string
	edits   []edit // what puts the slip right, as its message says
	lost    string // what the edits put out of sight
	told    bool   // with the edits, the file's reader tells of it, and better

	start, end int // of the line
	lineOf     int // an offset in the line that is at fault
	line       string
	rest       string // of the line, from at on
	before     string // of the line, up to at
}

func newSlip(text string, pe toml.ParseError) *slip {
	s := &slip{text: text, at: max(0, min(pe.Position.Start, len(text))), message: pe.Message, says: complaintOf(pe.Message), lastKey: pe.LastKey}
	s.start = strings.LastIndexByte(text[:s.at], '\n') + 1
	s.end = len(text)
	if i := strings.IndexByte(text[s.at:], '\n'); i >= 0 {
		s.end = s.at + i
	}
	s.line, s.before = text[s.start:s.end], text[s.start:s.at]
	s.rest = strings.TrimRight(text[s.at:s.end], "\r")
	s.lineOf = s.at
	return s
}

// next is the character at which the decoder stopped, 0 at the end of the line.
func (s *slip) next() rune {
	if s.rest == "" {
		return 0
	}
	r, _ := utf8.DecodeRuneInString(s.rest)
	return r
}

// curlyQuotes are those that editors put in place of straight ones.
const curlyQuotes = "“”„‟‘’‚‛«»‹›″′`´"

// bareNumber is a number that TOML can read, right before the place where it could not go on.
var bareNumber = words.Pattern(`[=,\[]\s*([-+]?[0-9][0-9_.eE]*)\s*$`)

// diagnose gives the place and the text of the slip.
func (s *slip) diagnose() (int, string) {
	if s.next() != 0 && strings.ContainsRune(curlyQuotes, s.next()) {
		s.straighten()
		return s.at, "this quote is not a straight one; type the plain \" on both sides"
	}
	if at, what := s.inValue(); what != "" {
		return at, what
	}
	trimmed := strings.TrimSpace(s.line)
	switch {
	case s.start == 0 && strings.HasPrefix(trimmed, "{"):
		return s.at, "this is not a set file but something else (JSON?); a set file begins with [set]"
	case comment(trimmed):
		at := s.start + strings.Index(s.line, trimmed)
		s.mend(at, 0, "#")
		return at, "a remark begins with #; put # before it"
	case strings.HasPrefix(trimmed, "[") && s.says == badHeader:
		return s.at, s.header(trimmed)
	}
	switch s.says {
	case somethingBehind:
		return s.afterStatement()
	case noValue:
		return s.noValue()
	case noCommaInList:
		return s.noComma("]")
	case noCommaInTable:
		return s.noComma("}")
	case noKey:
		return s.badKey(trimmed)
	}
	return s.at, "this cannot be read (" + words.Visible(s.message) + "); look at the quotes, commas and brackets of this line"
}

// inValue gives the place and the text of a slip inside a number or a text, "" where it is none.
func (s *slip) inValue() (int, string) {
	number := s.token(s.at)
	switch s.says {
	case commaTooMany:
		if s.next() == ',' {
			s.mend(s.at, 1, "")
		}
		return s.at, "a comma too many; take it out"
	case pointFirst:
		return s.at, s.missingZero(number)
	case pointLast:
		if !strings.HasSuffix(number, ".") {
			return s.at, s.noNumber(number)
		}
		s.mend(s.at+len(number), 0, "0")
		return s.at, fmt.Sprintf("the number %s ends with its point; write %s0", words.Visible(number), words.Visible(number))
	case zeroFirst:
		s.quote(s.at, s.at+len(number))
		return s.at, fmt.Sprintf("a number does not begin with a zero; write %s, or %s in quotes if it is a name",
			words.Visible(strings.TrimLeft(number, "0")), words.Quote(number))
	case openText:
		return s.openQuote()
	case badEscape:
		return s.at, `a backslash means something else between double quotes; write / or \\ for it`
	case badNumber:
		return s.at, s.noNumber(number)
	}
	return s.at, ""
}

// noNumber tells of what begins like a number and is none, and has it read as a text.
func (s *slip) noNumber(number string) string {
	s.quote(s.at, s.at+len(number))
	if strings.ContainsFunc(number, unicode.IsLetter) {
		return fmt.Sprintf("the value %s has no quotes; write %s", words.Visible(words.Shorten(number)), words.Quote(number))
	}
	return fmt.Sprintf("%s is not a number that can be read; write one like 0.15, or put it in quotes", words.Quote(number))
}

// missingZero tells of .5 and its like.
func (s *slip) missingZero(number string) string {
	sign, digits := "", number
	if number != "" && strings.ContainsAny(number[:1], "+-") {
		sign, digits = number[:1], number[1:]
	}
	if strings.ContainsFunc(digits, func(r rune) bool { return unicode.IsLetter(r) || r == ' ' }) {
		s.quote(s.at, s.at+len(number))
		return fmt.Sprintf("the value %s has no quotes; write %s", words.Visible(number), words.Quote(number))
	}
	s.mend(s.at+len(sign), 0, "0")
	return fmt.Sprintf("a number begins with a digit; write %s0%s for %s", sign, words.Visible(digits), words.Visible(number))
}

// token is the text from an offset to the next comma, closing bracket, remark or line end.
func (s *slip) token(from int) string {
	rest := s.text[from:s.end]
	if i := strings.IndexAny(rest, ",]}#"); i >= 0 {
		rest = rest[:i]
	}
	return strings.TrimSpace(rest)
}

func comment(line string) bool {
	for _, mark := range []string{"//", "/*", ";", "--", "*", "!", "%", "'"} {
		if strings.HasPrefix(line, mark) && !(mark == "'" && strings.Count(line, "'") > 1) {
			return true
		}
	}
	return false
}

// openQuote finds the quote of this line that nothing closes.
func (s *slip) openQuote() (int, string) {
	if at := openTextAt(s.text); at >= 0 && (strings.HasPrefix(s.text[at:], `"""`) || strings.HasPrefix(s.text[at:], `'''`)) {
		return at, "this text begins with three quotes and does not end with three; put them at its end, or begin it with one"
	}
	open, mark := -1, byte(0)
	for i := 0; i < len(s.line); i++ {
		switch c := s.line[i]; {
		case mark != 0 && c == '\\' && mark == '"':
			i++
		case c == mark:
			mark = 0
		case mark == 0 && c == '#':
			i = len(s.line)
		case mark == 0 && (c == '"' || c == '\''):
			open, mark = i, c
		}
	}
	if mark == 0 || open < 0 {
		return s.at, "a text in quotes is not closed; put the closing quote at its end"
	}
	return s.start + open, "this quote is not closed on its line; put the closing quote at the end of the text"
}
