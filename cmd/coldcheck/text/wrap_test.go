package text

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		name, text string
		width      int
		want       []string
	}{
		{"empty", "", 10, []string{""}},
		{"fits", "as it is", 8, []string{"as it is"}},
		{"breaks-at-blank", "one two three", 7, []string{"one two", "three"}},
		{"figure-keeps-unit", "about 60.4 mA", 10, []string{"about", "60.4 mA"}},
		{"figure-keeps-unit-before-comma", "up to 120 V, open", 9, []string{"up to", "120 V,", "open"}},
		{"word-is-no-unit", "the 3 Volts", 5, []string{"the 3", "Volts"}},
		{"wide-word-is-cut", "abcdefgh ij", 3, []string{"abc", "def", "gh", "ij"}},
		{"own-line-ends", "a\nb c", 10, []string{"a", "b c"}},
		{"blanks-of-a-name", "node a  b", 20, []string{"node a  b"}},
		{"leading-blanks", "  in", 10, []string{"  in"}},
		{"counts-characters", "ΩΩΩ µµµ", 3, []string{"ΩΩΩ", "µµµ"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if diff := cmp.Diff(c.want, wrap(c.text, c.width)); diff != "" {
				t.Errorf("wrap(%q, %d) (-want +got):\n%s", c.text, c.width, diff)
			}
		})
	}
}

// TestWrapKeepsAll: no line is too wide, and nothing but blanks at a break is lost.
func TestWrapKeepsAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.RuneFrom([]rune("ab1 ,Ω mAV"))).Draw(t, "text")
		width := rapid.IntRange(1, 30).Draw(t, "width")
		lines := wrap(text, width)
		for _, line := range lines {
			if columns(line) > width {
				t.Fatalf("line %q is wider than %d", line, width)
			}
		}
		bare := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if got := bare(strings.Join(lines, "")); got != bare(text) {
			t.Fatalf("lines hold %q, want %q", got, bare(text))
		}
	})
}
