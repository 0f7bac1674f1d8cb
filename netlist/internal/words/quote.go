package words

import (
	"fmt"
	"strings"
	"unicode"
)

// maxQuoted is how many characters of a word of the file a message repeats.
const maxQuoted = 70

// Quote puts a word of the file between quotes, visible and not too long.
func Quote(s string) string { return `"` + Visible(Shorten(s)) + `"` }

// Shorten cuts a word that is longer than a message repeats.
func Shorten(s string) string {
	count := 0
	for i := range s {
		if count == maxQuoted {
			return s[:i] + "…"
		}
		count++
	}
	return s
}

// maxListed is how many words of the file a message lists.
const maxListed = 12

// QuoteAll lists words in quotes: `"a", "b" or "c"`, the first dozen of many.
func QuoteAll(all []string) string {
	if len(all) > maxListed {
		return firstOf(all, Quote)
	}
	quoted := make([]string, len(all))
	for i, w := range all {
		quoted[i] = Quote(w)
	}
	return Choices(quoted)
}

// Some lists names as they are: "R1, R2, R3", the first dozen of many.
func Some(names []string) string {
	return firstOf(names, func(name string) string { return Visible(Shorten(name)) })
}

// firstOf lists the first dozen of some words, each shown so, and counts the others.
func firstOf(all []string, show func(string) string) string {
	shown := make([]string, 0, maxListed)
	for _, w := range all[:min(maxListed, len(all))] {
		shown = append(shown, show(w))
	}
	list := strings.Join(shown, ", ")
	if len(all) > maxListed {
		list += fmt.Sprintf(" and %d more", len(all)-maxListed)
	}
	return list
}

// HasControl reports whether a text has a control character in it.
func HasControl(s string) bool { return strings.ContainsFunc(s, unicode.IsControl) }
