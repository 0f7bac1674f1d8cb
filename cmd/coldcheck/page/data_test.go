package page

import (
	"testing"

	"pgregory.net/rapid"
)

// TestPacked: states with their runs packed are the same states once spread out, and no longer than before.
func TestPacked(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		states := ""
		for range rapid.IntRange(0, 6).Draw(t, "runs") {
			letter := rapid.SampledFrom([]byte(".oxhblne!c0123")).Draw(t, "letter")
			for range rapid.IntRange(1, 70).Draw(t, "length") {
				states += string(letter)
			}
		}
		if got := unpacked(packed(states)); got != states {
			t.Errorf("%q is packed as %q and comes out as %q", states, packed(states), got)
		}
		if len(packed(states)) > len(states) {
			t.Errorf("%q is longer packed: %q", states, packed(states))
		}
	})
	if got := packed("00000000030303330300000"); got != "0I30303C030E" {
		t.Errorf("packed: %s", got)
	}
}
