package words

import (
	"strings"
	"unicode"
)

// foldWord makes words alike that a person would read alike: letter case, blanks, hyphens and
// underscores do not count.
func FoldWord(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || r == '-' || r == '_' || r == '.' || unicode.Is(unicode.Cf, r) {
			return -1
		}
		return unicode.ToLower(r)
	}, s)
}

// foldName makes names alike that differ in letter case, in blanks or in what does not show.
func FoldName(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || unicode.Is(unicode.Cf, r) {
			return -1
		}
		return unicode.ToLower(r)
	}, s)
}
