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
	roundHalf   = 10.0 // half of what a symbol, most are round, takes where a label stands
	labelAstray = 44.0 // the farthest that the middle of a label stands from its joint, unless its edge is nearer
)

// upright is a vertical line of a drawing, or a symbol, which is wider.
type upright struct {
	x, top, low float64
	cell        *cell   // nil for a blade's
	half        float64 // how far a symbol reaches to either side
}

// uprights are the vertical lines that cells and blades draw, and the symbols of cells.
func (l *layout) uprights() []upright {
	var all []upright
	add := func(c *cell, x, a, b float64) {
		if a != b {
			all = append(all, upright{x: x, top: min(a, b), low: max(a, b), cell: c})
		}
	}
	for _, c := range l.cells {
		if l.s.branches[c.branches[0]].symbol() != "wire" {
			all = append(all, upright{x: c.x, top: c.y - symbolHalf, low: c.y + symbolHalf, cell: c, half: roundHalf})
		}
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
// vertical line would run through its letters, or a symbol stand on them; and whether it is clear there.
func labelX(lines []upright, x, y float64, letters int) (at float64, clear bool) {
	half := letterWidth / 2 * float64(letters)
	crossed := func(at float64) bool {
		for _, u := range lines {
			if u.top < y+labelLow && u.low > y-labelHigh && math.Abs(u.x-at) < half+labelClear+u.half {
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
		for _, aside := range [2]float64{u.x - half - labelClear - u.half, u.x + half + labelClear + u.half} {
			if off := math.Abs(aside - x); off <= max(labelAstray, half+labelClear) && off < far && !crossed(aside) {
				best, far = aside, off
			}
		}
	}
	return best, !math.IsInf(far, 1)
}
