package text

import (
	"strings"
	"unicode"
)

// Wrap breaks a text into lines of at most width columns, at blanks. A word that is wider is cut. A
// figure and its unit stay together; blanks inside a line stay as they are, for they may belong to
// a name. There is always one line.
func Wrap(text string, width int) []string {
	width = max(width, 1)
	var lines []string
	for paragraph := range strings.SplitSeq(text, "\n") {
		lines = append(lines, wrapLine(paragraph, width)...)
	}
	return lines
}

func wrapLine(text string, width int) []string {
	var lines []string
	line, gap := "", ""
	for _, t := range tokens(text) {
		if line != "" && columns(line)+columns(gap)+columns(t.word) > width {
			lines = append(lines, line)
			line, gap = "", ""
		}
		word := []rune(t.word)
		for line == "" && len(word) > width {
			lines = append(lines, string(word[:width]))
			word = word[width:]
		}
		line += gap + string(word)
		gap = t.gap
	}
	return append(lines, line)
}

// token is what is not broken, and the blanks behind it.
type token struct{ word, gap string }

func tokens(text string) []token {
	var all []token
	for text != "" {
		end := strings.IndexByte(text, ' ')
		if end == 0 && len(all) == 0 { // leading blanks belong to the first word
			for end < len(text) && text[end] == ' ' {
				end++
			}
			if more := strings.IndexByte(text[end:], ' '); more >= 0 {
				end += more
			} else {
				end = len(text)
			}
		}
		if end < 0 {
			end = len(text)
		}
		t := token{word: text[:end]}
		text = text[end:]
		rest := strings.TrimLeft(text, " ")
		t.gap, text = text[:len(text)-len(rest)], rest
		if n := len(all); n > 0 && all[n-1].gap == " " && belongs(all[n-1].word, t.word) {
			all[n-1].word += " " + t.word
			all[n-1].gap = t.gap
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
