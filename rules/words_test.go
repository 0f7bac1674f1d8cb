package rules

import "testing"

// A name that is a plural takes the verb of several; one that only ends in s does not.
func TestThings(t *testing.T) {
	for name, want := range map[string]string{"extension sockets": "are", "cabinet screws": "are", "Guitar Strings": "are",
		"chassis": "is", "brass": "is", "bus": "is", "B-": "is", "antenna lead": "is"} {
		if got := be(things([]string{name})); got != want {
			t.Errorf("%s %s live", name, got)
		}
	}
	if be(things([]string{"chassis", "shaft"})) != "are" {
		t.Error("two points are told as one")
	}
}
