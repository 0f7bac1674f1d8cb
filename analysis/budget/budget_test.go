package budget

import "testing"

// TestTake: what fits to the last is taken; what does not is refused and leaves the rest for less.
func TestTake(t *testing.T) {
	b := New(10)
	for _, c := range []struct {
		n    Count
		fits bool
	}{{4, true}, {7, false}, {6, true}, {0, true}, {0.001, false}} {
		if got := b.Take(c.n); got != c.fits {
			t.Errorf("%g is taken: %v", c.n, got)
		}
	}
	if b.Exhausted() {
		t.Error("a budget spent to the last is told as exhausted")
	}
}

// TestSpend: what is spent over the limit exhausts a budget, and nothing fits any more, not even 0.
func TestSpend(t *testing.T) {
	b := New(10)
	b.Spend(10)
	if b.Exhausted() || !b.Take(0) {
		t.Error("spent to the last is told as exhausted")
	}
	b.Spend(1)
	if !b.Exhausted() || b.Take(0) {
		t.Error("spent over the limit is not told as exhausted")
	}
	if b := New(0); b.Take(1) || b.Exhausted() {
		t.Error("a budget of 0 lets work in, or is exhausted by none")
	}
}

// TestFits counts pieces: whole ones only, none of a piece above the limit.
func TestFits(t *testing.T) {
	for _, c := range []struct {
		each Count
		n    int
	}{{1, 10}, {3, 3}, {10, 1}, {11, 0}, {0.5, 20}} {
		if n := Count(10).Fits(c.each); n != c.n {
			t.Errorf("of %g each, %d fit, want %d", c.each, n, c.n)
		}
	}
}
