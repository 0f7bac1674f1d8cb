package unionfind

import (
	"testing"

	"pgregory.net/rapid"
)

// A partition by unions is that by flooding: two members are in one set just where a chain of unions
// leads from one to the other, and a set is named by its first member.
func TestAgainstFlooding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		s := New(n)
		label := make([]int, n)
		for i := range label {
			label[i] = i
		}
		for range rapid.IntRange(0, 15).Draw(t, "unions") {
			a, b := rapid.IntRange(0, n-1).Draw(t, "a"), rapid.IntRange(0, n-1).Draw(t, "b")
			two := label[a] != label[b]
			if s.Union(a, b) != two {
				t.Fatalf("union of %d and %d reports %v", a, b, !two)
			}
			from, to := max(label[a], label[b]), min(label[a], label[b])
			for i := range label {
				if label[i] == from {
					label[i] = to
				}
			}
		}
		for i, first := range s.Firsts() {
			if first != label[i] {
				t.Fatalf("%d is with %d, want %d", i, first, label[i])
			}
			for j := range label {
				if s.Same(i, j) != (label[i] == label[j]) {
					t.Fatalf("%d and %d: %v", i, j, s.Same(i, j))
				}
			}
		}
	})
}
