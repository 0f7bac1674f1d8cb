package page

import "math"

// How far a label reaches over and under its foot, and how far it stands from a vertical line.
const (
	labelHigh   = 9.0
	labelLow    = 3.0
	labelClear  = 4.0
	labelAstray = 34.0 // the farthest that a label stands from its joint
)

// upright is a vertical line of a drawing.
type upright struct{ x, top, low float64 }

// uprights are the vertical lines that cells and blades draw.
func (l *layout) uprights() []upright {
	var all []upright
	add := func(x, a, b float64) {
		if a != b {
			all = append(all, upright{x, min(a, b), max(a, b)})
		}
	}
	for _, c := range l.cells {
		if c.from.y != c.y && c.from.blade < 0 {
			add(c.from.x, c.from.y, c.y)
		}
		switch {
		case c.bridge:
			add(c.from.x+c.width, c.y, c.y+bridgeDrop)
		case c.to.y != c.y && !c.to.target:
			add(c.to.x, c.y, c.to.y)
		}
	}
	for _, j := range l.joints {
		if j.blade >= 0 {
			add(j.x, min(j.y, j.top), max(j.y, j.low))
		}
	}
	return all
}

// labelX is where the label of a joint is centred: over the joint, or a little beside it where a
// vertical line of another joint would run through its letters.
func labelX(lines []upright, x, y float64, letters int) float64 {
	half := letterWidth / 2 * float64(letters)
	crossed := func(at float64) bool {
		for _, u := range lines {
			if u.top < y+labelLow && u.low > y-labelHigh && math.Abs(u.x-at) < half+labelClear && u.x != x {
				return true
			}
		}
		return false
	}
	if !crossed(x) {
		return x
	}
	best, far := x, math.Inf(1)
	for _, u := range lines {
		for _, aside := range [2]float64{u.x - half - labelClear, u.x + half + labelClear} {
			if off := math.Abs(aside - x); off <= labelAstray && off < far && !crossed(aside) {
				best, far = aside, off
			}
		}
	}
	return best
}
