package words

import (
	"testing"

	"pgregory.net/rapid"
)

func TestNearest(t *testing.T) {
	words := []string{"chassis", "B-", "B+", "line 1", "line 2", "volume shaft", "guard_condition", "neutral", "L"}
	tests := []struct{ in, want string }{
		{"chasis", "chassis"}, {"Chassis", "chassis"}, {"chassiss", "chassis"}, {"hcassis", "chassis"},
		{"line1", "line 1"}, {"volum shaft", "volume shaft"}, {"guard-condition", "guard_condition"}, {"neut", "neutral"},
		{"b+", "B+"}, {"cathode", ""}, {"x", ""}, {"l", "L"}, {"", ""},
	}
	for _, tt := range tests {
		if got := Nearest(tt.in, words); got != tt.want {
			t.Errorf("nearest(%q) = %q, want %q", tt.in, got, tt.want)
		}
	}
}

// The distance is one: none to itself, the same both ways, never more than the longer word.
func TestSlipsBetween(t *testing.T) {
	word := rapid.SliceOfN(rapid.SampledFrom([]rune("abc")), 0, 7)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		d := slipsBetween(a, b)
		if back := slipsBetween(b, a); back != d {
			t.Fatalf("%d one way, %d the other", d, back)
		}
		if (d == 0) != (string(a) == string(b)) || d > max(len(a), len(b)) || d < abs(len(a)-len(b)) {
			t.Fatalf("slipsBetween(%q, %q) = %d", string(a), string(b), d)
		}
	})
}
