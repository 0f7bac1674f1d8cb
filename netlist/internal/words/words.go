package words

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

func Count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func Choices(words []string) string { return Join(words, ", ", " or ") }

func QuoteAll(words []string) string {
	const most = 12
	quoted := make([]string, 0, most)
	for i, w := range words {
		if i == most {
			return strings.Join(quoted, ", ") + fmt.Sprintf(" and %d more", len(words)-most)
		}
		quoted = append(quoted, Quote(w))
	}
	return Join(quoted, ", ", " or ")
}

func Shorten(s string) string {
	if utf8.RuneCountInString(s) <= maxQuoted {
		return s
	}
	return string([]rune(s)[:maxQuoted]) + "…"
}

// joinWords lists words: "a, b or c" with ", " and " or ".
func Join(words []string, between, last string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], between) + last + words[n-1]
	}
}

// hasControl reports whether a text has a control character in it.
func HasControl(s string) bool { return strings.ContainsFunc(s, unicode.IsControl) }

// someNames lists names, the first dozen of them.
func Some(names []string) string {
	const most = 12
	quoted := make([]string, 0, most)
	for _, n := range names[:min(most, len(names))] {
		quoted = append(quoted, Visible(Shorten(n)))
	}
	list := strings.Join(quoted, ", ")
	if len(names) > most {
		list += fmt.Sprintf(" and %d more", len(names)-most)
	}
	return list
}
