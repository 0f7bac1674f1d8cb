package overview

import (
	"strings"

	"coldcheck/rules"
)

// gistColumns is how much of a remedy is told beside others.
const gistColumns = 110

// RemedyOf is what a finding says to do, in a line or so: the steps that were tried and held, else the gist.
func RemedyOf(f *rules.Finding) string {
	if f.RemedySteps != "" {
		return f.RemedySteps
	}
	return Gist(f.Remedy)
}

// Gist is a remedy in a line or so: without what stands in brackets, and where it is long up to an
// alternative or a further step, which coldcheck why tells.
func Gist(remedy string) string {
	text := withoutBrackets(remedy)
	if len([]rune(text)) <= gistColumns {
		return strings.TrimSuffix(text, ".")
	}
	longest, first := -1, len(text)
	for i := range text {
		for _, boundary := range []string{"; ", ". ", ", or ", ": then "} {
			if !strings.HasPrefix(text[i:], boundary) {
				continue
			}
			if first = min(first, i); len([]rune(text[:i])) <= gistColumns {
				longest = i
			}
		}
	}
	if longest < 0 {
		longest = first
	}
	return strings.TrimSuffix(text[:longest], ".")
}

// withoutBrackets is a text without what stands in brackets.
func withoutBrackets(text string) string {
	var b strings.Builder
	depth := 0
	for _, r := range text {
		switch {
		case r == '(':
			depth++
		case r == ')' && depth > 0:
			depth--
		case depth == 0:
			b.WriteRune(r)
		}
	}
	return strings.NewReplacer("  ", " ", " ,", ",", " ;", ";", " .", ".", " :", ":").Replace(strings.TrimSpace(b.String()))
}
