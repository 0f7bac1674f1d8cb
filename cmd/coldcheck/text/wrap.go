package text

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// wrap breaks a text into lines of at most width columns, at blanks. A word that is wider is cut. A
// figure and its unit stay together; blanks inside a line stay as they are, for they may belong to
// a name. There is always one line.
func wrap(text string, width int) []string {
	width = max(width, 1)
	var lines []string
	for paragraph := range strings.SplitSeq(text, "\n") {
		lines = append(lines, wrapLine(paragraph, width)...)
	}
	return lines
}

func wrapLine(text string, width int) []string {
	if columns(text) <= width && !strings.HasSuffix(text, " ") {
		return []string{text}
	}
	var lines []string
	start, end, across := 0, 0, 0 // of the line at hand, and its columns
	for _, t := range tokens(text) {
		gap, word := t.start-end, columns(text[t.start:t.end])
		if end > start && across+gap+word > width {
			lines = append(lines, text[start:end])
			start, end, across, gap = t.start, t.start, 0, 0
		}
		for end == start && word > width {
			cut := end
			for range width {
				_, size := utf8.DecodeRuneInString(text[cut:])
				cut += size
			}
			lines = append(lines, text[end:cut])
			start, end, word = cut, cut, word-width
		}
		end, across = t.end, across+gap+word
	}
	return append(lines, text[start:end])
}

// token is what is not broken, by its bytes. Blanks follow it.
type token struct{ start, end int }

func tokens(text string) []token {
	var all []token
	blanks := func(at int) int { return at + len(text[at:]) - len(strings.TrimLeft(text[at:], " ")) }
	for at := 0; at < len(text); {
		end := at
		if len(all) == 0 { // leading blanks belong to the first word
			end = blanks(at)
		}
		if i := strings.IndexByte(text[end:], ' '); i >= 0 {
			end += i
		} else {
			end = len(text)
		}
		t := token{at, end}
		at = blanks(end)
		if n := len(all); n > 0 && t.start == all[n-1].end+1 && belongs(text[all[n-1].start:all[n-1].end], text[t.start:t.end]) {
			all[n-1].end = t.end
			continue
		}
		all = append(all, t)
	}
	return all
}

// units are what a line does not begin with behind a figure.
var units = map[string]bool{
	"V": true, "mV": true, "A": true, "mA": true, "µA": true, "W": true, "J": true, "mJ": true, "s": true, "Hz": true, "%": true,
	"Ω": true, "kΩ": true, "MΩ": true, "F": true, "µF": true, "nF": true, "pF": true, "H": true, "mH": true,
}

func belongs(figure, unit string) bool {
	last := strings.TrimLeft(figure, "(")
	if i := strings.LastIndexByte(last, ' '); i >= 0 {
		last = last[i+1:]
	}
	if last == "" || !unicode.IsDigit([]rune(last)[0]) {
		return false
	}
	return units[strings.TrimRight(unit, ",.;:)")]
}
