package propose

import (
	"coldcheck/analysis"
	"coldcheck/rules/rework/internal/examine"
)

// What may grow by so much through rounding and is not told as more current: over both.
const (
	moreShare     = 1.02
	moreMilliamps = 0.02 // mA
)

// nearer reports whether any point or pair of pieces of metal has a lower depth, or passes more current.
// What passes once a part has failed counts where it startles, and where no failure more stands between
// than before.
func nearer(before, after *analysis.Result) bool {
	for _, p := range before.Points {
		if q := after.Point(p.Name); q != nil && of(p).nearer(of(q)) {
			return true
		}
	}
	for _, p := range before.Between {
		if q := after.Pair(p.A.Name, p.B.Name); q != nil && ofPair(p).nearer(ofPair(q)) {
			return true
		}
	}
	return false
}

// further says which points and pairs a look further in than one failure can still find nearer than before: those
// that one failure leaves alone, where before more stood between than the one failure more, or less current passed.
// What one failure shows the look for it has shown.
func further(before, oneFailure *analysis.Result) analysis.Sought {
	return func(a, b *analysis.TouchPoint) bool {
		if b == nil {
			p, q := before.Point(a.Name), oneFailure.Point(a.Name)
			return p != nil && (q == nil || of(p).mayComeNearer(of(q)))
		}
		p, q := before.Pair(a.Name, b.Name), oneFailure.Pair(a.Name, b.Name)
		return p != nil && (q == nil || ofPair(p).mayComeNearer(ofPair(q)))
	}
}

// exposure is how far metal is from the line, and what passes there.
type exposure struct {
	depth, asMarked  int
	normal, oneFault *analysis.Worst
}

func of(p *analysis.PointResult) exposure {
	return exposure{p.Depth, p.DepthAsMarked, p.Normal, p.OneFault}
}

// ofPair is of, hand to hand, where the way that the plug is marked is not asked for.
func ofPair(p *analysis.PairResult) exposure {
	return exposure{p.Depth, p.Depth, p.Normal, p.OneFault}
}

// nearer reports whether the metal is nearer to the line than it was, or passes more.
func (was exposure) nearer(is exposure) bool {
	return lower(was.depth, is.depth) || lower(was.asMarked, is.asMarked) || more(was.normal, is.normal) ||
		is.depth == was.depth && startlesMore(was.oneFault, is.oneFault)
}

// mayComeNearer reports whether a look further in than one failure, which gave is, can find the metal nearer.
func (was exposure) mayComeNearer(is exposure) bool {
	const next = examine.OneFailure + 1
	may := func(was, is int) bool { return is == analysis.None && (was == analysis.None || was > next) }
	return may(was.depth, is.depth) || may(was.asMarked, is.asMarked) ||
		is.depth == analysis.None && was.depth != analysis.None && startlesMore(was.oneFault, is.oneFault)
}

// lower reports whether a depth is less than it was.
func lower(was, is int) bool { return is != analysis.None && (was == analysis.None || is < was) }

// more reports whether a body passes more than it did. Where every state was cleared it passed nothing.
func more(was, is *analysis.Worst) bool {
	if is == nil {
		return false
	}
	var ac, dc float64
	if was != nil {
		ac, dc = was.Milliamps, was.MilliampsDC
	}
	over := func(was, is float64) bool { return is > was*moreShare && is > was+moreMilliamps }
	return over(ac, is.Milliamps) || over(dc, is.MilliampsDC)
}

// startlesMore is more of what exceeds ES1.
func startlesMore(was, is *analysis.Worst) bool {
	return is != nil && is.Class() >= analysis.Startles && more(was, is)
}
