package slip

import "testing"

func TestNearest(t *testing.T) {
	known := []string{"inspect", "states", "trace", "example", "part", "why", "help"}
	for _, c := range []struct{ word, want string }{
		{"inspct", "inspect"}, {"INSPECT", "inspect"}, {"sates", "states"}, {"tarce", "trace"}, {"exam", "example"},
		{"xyzzy", ""}, {"", ""}, {"h", ""},
	} {
		if got := Nearest(c.word, known); got != c.want {
			t.Errorf("Nearest(%q) = %q, want %q", c.word, got, c.want)
		}
	}
}
