// Package text tells a person at a bench what the program found: plain words, lines of at most
// 100 columns, colours only where they are asked for.
//
// page.go and wrap.go are the paper, table.go the tables, path.go the phrases that
// no one else needs (coldcheck/rules/phrase has the others); then a file or two for each report.
package text

import (
	"io"
	"strings"
	"unicode/utf8"

	"coldcheck/analysis"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
)

// Width is how many columns a line has at most, LeastWidth the fewest that a page can be asked for.
const (
	Width      = 100
	LeastWidth = 60
)

// Page takes the lines of a report.
type Page struct {
	w      io.Writer
	colour bool
	width  int
	// plug is the circuit in the words of whose plug its polarity is told, nil for those of a marked one.
	plug  *analysis.Circuit
	named map[string]bool // lists of names that were told in full
}

// NewPage makes a page of so many columns, of LeastWidth to Width, that writes to w. An error of w is w's
// to remember.
func NewPage(w io.Writer, colour bool, width int) *Page {
	return &Page{w: w, colour: colour, width: min(max(width, LeastWidth), Width)}
}

// Line writes a line as it is.
func (p *Page) Line(s string) { io.WriteString(p.w, s+"\n") }

// Blank writes an empty line.
func (p *Page) Blank() { p.Line("") }

// Para writes a text behind a head, wrapped, its further lines indented to where the text began.
func (p *Page) Para(head, text string) { p.para(head, head, text) }

// indented writes a text wrapped, every line indented.
func (p *Page) indented(indent int, text string) { p.Para(blanks(indent), text) }

// para is Para with a head that prints other than it measures: in colour.
func (p *Page) para(head, shown, text string) {
	indent := columns(head)
	for i, line := range wrap(p.inWords(text), p.width-indent) {
		if i == 0 {
			p.Line(strings.TrimRight(shown+line, " "))
		} else {
			p.Line(strings.TrimRight(blanks(indent)+line, " "))
		}
	}
}

// inWords tells a text in the words of the plug that the page speaks of.
func (p *Page) inWords(text string) string {
	if p.plug == nil {
		return text
	}
	return phrase.InWordsOf(p.plug, text)
}

// both writes two texts on one line, the second at the right edge; where they do not fit, on two.
func (p *Page) both(left, right string) {
	gap := p.width - columns(left) - columns(right)
	if gap < 2 {
		p.Para("", left)
		p.Line(blanks(p.width-columns(right)) + right)
		return
	}
	p.Line(left + blanks(gap) + right)
}

// Title writes the heading of a section.
func (p *Page) Title(s string) {
	for _, line := range wrap(p.inWords(s), p.width) {
		p.Line(p.paint(bold, line))
	}
}

func blanks(n int) string { return strings.Repeat(" ", max(n, 0)) }

func columns(s string) int { return utf8.RuneCountInString(s) }

func padded(s string, n int) string { return s + blanks(n-columns(s)) }

// The safety colours of ISO 3864, as near as a terminal has them: each the ground of a word in its
// contrast colour, white on red and on blue, black on orange and on yellow. Headings are bold.
const (
	red    = "\x1b[1;97;41m"
	orange = "\x1b[1;30;48;5;208m"
	yellow = "\x1b[1;30;48;5;226m"
	blue   = "\x1b[1;97;44m"
	bold   = "\x1b[1m"
	plain  = "\x1b[0m"
)

var signalColours = map[rules.Signal]string{
	rules.Danger: red, rules.Warning: orange, rules.Caution: yellow, rules.Notice: blue,
}

func (p *Page) paint(colour, s string) string {
	if !p.colour || s == "" {
		return s
	}
	return colour + s + plain
}
