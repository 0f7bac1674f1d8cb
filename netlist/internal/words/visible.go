package words

import (
	"fmt"
	"strconv"
	"strings"
)

// blankGlyphs print as nothing, or change the glyph before them, though they count as printable: all but
// U+2800, the empty pattern of Braille, have the property Default_Ignorable_Code_Point of Unicode.
const blankGlyphs = "\u034f\u115f\u1160\u17b4\u17b5\u2800\u3164\uffa0"

// Visible returns s with every character spelt out that a terminal would act upon or would not
// show: control characters, those that turn the direction of writing, zero-width ones, blanks
// other than the common one. A name is printed through it, always.
func Visible(s string) string {
	if !strings.ContainsFunc(s, Invisible) && validText(s) {
		return s
	}
	var b strings.Builder
	for i, r := range s {
		switch {
		case r == '\uFFFD' && !strings.HasPrefix(s[i:], "\uFFFD"):
			fmt.Fprintf(&b, `\x%02x`, s[i])
		case !Invisible(r):
			b.WriteRune(r)
		case r <= 0xFFFF:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			fmt.Fprintf(&b, `\U%08x`, r)
		}
	}
	return b.String()
}

func validText(s string) bool { return strings.ToValidUTF8(s, "") == s }

// Invisible reports whether a terminal would act upon a character or would not show it.
func Invisible(r rune) bool {
	variation := r >= 0xFE00 && r <= 0xFE0F || r >= 0xE0100 && r <= 0xE01EF
	return variation || !strconv.IsPrint(r) || strings.ContainsRune(blankGlyphs, r)
}
