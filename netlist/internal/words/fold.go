package words

import (
	"strings"
	"unicode"
)

// FoldWord makes words alike that a person would read alike: letter case, blanks, hyphens, points and
// underscores do not count.
func FoldWord(s string) string {
	return fold(s, func(r rune) bool { return r == '-' || r == '_' || r == '.' })
}

// Apart gives the words of a text that blanks, hyphens and underscores part.
func Apart(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(" _-", r) })
}

// FoldName makes names alike that differ in letter case, in blanks or in what does not show.
func FoldName(s string) string { return fold(s, func(rune) bool { return false }) }

// fold leaves out blanks, what does not show (category Cf of Unicode) and what else is said, in small
// letters.
func fold(s string, leaveOut func(rune) bool) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.Is(unicode.Cf, r) || leaveOut(r) {
			return -1
		}
		return unicode.ToLower(r)
	}, s)
}
