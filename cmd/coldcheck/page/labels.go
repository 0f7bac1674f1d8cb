package page

import (
	"math"
	"slices"

	"coldcheck/analysis/survey"
)

// How far a label reaches over and under its foot, and how far it stands from a vertical line.
const (
	labelHigh   = 9.0
	labelLow    = 3.0
	labelClear  = 4.0
	labelAstray = 34.0 // the farthest that a label stands from its joint
)

// upright is a vertical line of a drawing.
type upright struct {
	x, top, low float64
	cell        *cell // nil for a blade's
}

// uprights are the vertical lines that cells and blades draw.
func (l *layout) uprights() []upright {
	var all []upright
	add := func(c *cell, x, a, b float64) {
		if a != b {
			all = append(all, upright{x, min(a, b), max(a, b), c})
		}
	}
	for _, c := range l.cells {
		if c.from.y != c.y && c.from.blade < 0 {
			add(c, c.from.x, c.from.y, c.y)
		}
		switch {
		case c.bridge:
			add(c, c.from.x+c.width, c.y, c.y+l.m.drop)
		case c.to.y != c.y && !c.to.target:
			add(c, c.to.x, c.y, c.to.y)
		}
	}
	for _, j := range l.joints {
		if j.blade >= 0 {
			add(nil, j.x, min(j.y, j.top), max(j.y, j.low))
		}
	}
	return all
}

// besideJoint are the lines that are ever shown with a joint.
func (l *layout) besideJoint(j *joint, lines []upright) []upright {
	return slices.DeleteFunc(slices.Clone(lines), func(u upright) bool {
		return u.cell != nil && !slices.ContainsFunc(l.cells, func(c *cell) bool { return (c.from == j || c.to == j) && l.together(c, u.cell) })
	})
}

// together reports whether two cells are ever shown in one state.
func (l *layout) together(a, b *cell) bool {
	shown := func(c *cell, pattern []survey.Level) bool {
		return !c.seldom || slices.ContainsFunc(c.branches, func(i int) bool { return pattern[i] > 0 })
	}
	return slices.ContainsFunc(l.s.patterns, func(p []survey.Level) bool { return shown(a, p) && shown(b, p) })
}

// labelX is where the label of a joint is centred: over the joint, or a little beside it where a
// vertical line of another joint would run through its letters; and whether it is clear there.
func labelX(lines []upright, x, y float64, letters int) (at float64, clear bool) {
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
		return x, true
	}
	best, far := x, math.Inf(1)
	for _, u := range lines {
		for _, aside := range [2]float64{u.x - half - labelClear, u.x + half + labelClear} {
			if off := math.Abs(aside - x); off <= labelAstray && off < far && !crossed(aside) {
				best, far = aside, off
			}
		}
	}
	return best, !math.IsInf(far, 1)
}
