package budget

// Count is an amount of work, in state evaluations where nothing else is said. It is no integer: the
// fault sets of a large set are more than any integer type counts.
type Count float64

// Fits is how many pieces of work of one size, which is above 0, a limit lets in.
func (limit Count) Fits(each Count) int { return int(limit / each) }

// Budget is a limit and what has been spent of it. It is for one goroutine: work that is done side by
// side is spent in an order of its own, or what is left out would depend on which came first.
type Budget struct{ limit, spent Count }

// New is a budget of which nothing is spent.
func New(limit Count) *Budget { return &Budget{limit: limit} }

// Take spends n and reports whether it fits in what is left; what does not fit is not spent. Of an
// exhausted budget nothing fits, work of 0 neither.
func (b *Budget) Take(n Count) bool {
	if b.spent+n > b.limit {
		return false
	}
	b.spent += n
	return true
}

// Spend spends n whether it fits or not: work that is done in any case, or of which the size is known
// only when it is done.
func (b *Budget) Spend(n Count) { b.spent += n }

// Exhausted reports whether more than the limit was spent.
func (b *Budget) Exhausted() bool { return b.spent > b.limit }
