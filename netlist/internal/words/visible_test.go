package words

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestVisible(t *testing.T) {
	tests := []struct{ name, in, want string }{
		{"plain", "B+ line 1", "B+ line 1"},
		{"letters", "Größe µ Ω 語", "Größe µ Ω 語"},
		{"escape", "a\x1b[31mb", `a\u001b[31mb`},
		{"line-end", "a\nb\tc", `a\u000ab\u0009c`},
		{"right-to-left", "a\u202eb", `a\u202eb`},
		{"isolate", "a\u2066b\u2069", `a\u2066b\u2069`},
		{"zero-width", "a\u200bb\u200d", `a\u200bb\u200d`},
		{"soft-hyphen", "a\u00adb", `a\u00adb`},
		{"hard-blank", "a\u00a0b", `a\u00a0b`},
		{"line-separator", "a\u2028b", `a\u2028b`},
		{"c1", "a\u009bb", `a\u009bb`},
		{"tags", "a\U000e0041b", `a\U000e0041b`},
		{"variation", "a\ufe0fb", `a\ufe0fb`},
		{"filler", "a\u3164b", `a\u3164b`},
		{"broken", "a\xffb", `a\xffb`},
		{"replacement", "a\ufffdb", "a\ufffdb"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := Visible(tt.in); got != tt.want {
				t.Errorf("Visible(%q) = %q, want %q", tt.in, got, tt.want)
			}
		})
	}
}

// Nothing that Visible returns is acted upon by a terminal, and it changes no more once applied.
func TestVisibleIsVisible(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.String().Draw(t, "in")
		out := Visible(in)
		if strings.ContainsFunc(out, Invisible) {
			t.Fatalf("Visible(%q) = %q", in, out)
		}
		if again := Visible(out); again != out {
			t.Fatalf("Visible(%q) = %q", out, again)
		}
	})
}
