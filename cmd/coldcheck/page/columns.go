package page

import (
	"math"
	"unicode/utf8"

	"coldcheck/netlist"
)

// columns gives every joint its place from left to right: as far as the longest path to it, and off
// any other vertical.
func (l *layout) columns() {
	done := map[*joint]bool{}
	right := 0.0
	for len(done) < len(l.joints) {
		moved := false
		for _, j := range l.joints {
			if done[j] || j.target && len(done) < len(l.joints)-1 || !l.ready(j, done) {
				continue
			}
			j.x = leftMargin
			for _, c := range l.cells {
				if c.to == j && !c.bridge {
					j.x = max(j.x, c.from.x+c.width)
				}
			}
			if j.target {
				j.x = max(j.x, right+laneGap, l.bridgesEnd()+laneGap)
			} else if j.blade < 0 {
				for l.crowded(j, done) {
					j.x += laneGap
				}
			}
			right = max(right, j.x)
			done[j], moved = true, true
		}
		if !moved { // every joint left waits for another: place the first as it is
			for _, j := range l.joints {
				if !done[j] {
					done[j] = true
					break
				}
			}
		}
	}
	l.width = right
}

// bridgesEnd is how far to the right parts between the two blades reach.
func (l *layout) bridgesEnd() float64 {
	end := 0.0
	for _, c := range l.cells {
		if c.bridge {
			end = max(end, c.from.x+c.width)
		}
	}
	return end
}

func (l *layout) ready(j *joint, done map[*joint]bool) bool {
	for _, c := range l.cells {
		if c.to == j && !c.bridge && !done[c.from] {
			return false
		}
	}
	return true
}

// crowded reports whether a joint's vertical would be taken for another's.
func (l *layout) crowded(j *joint, done map[*joint]bool) bool {
	for _, o := range l.joints {
		if o != j && done[o] && o.blade < 0 && math.Abs(o.x-j.x) < laneGap && j.top <= o.low && o.top <= j.low {
			return true
		}
	}
	return false
}

// middle puts every symbol between its joints, clear of verticals that pass its row.
func (l *layout) middle() {
	for _, c := range l.cells {
		left, right := c.from.x, c.to.x
		if c.bridge {
			right = left + c.width
		}
		best := (left + right) / 2
		for step := 0.0; step < (right-left)/2-symbolHalf; step += 4 {
			if l.clear(c, best+step) {
				best += step
				break
			}
			if l.clear(c, best-step) {
				best -= step
				break
			}
		}
		c.x = best
	}
}

func (l *layout) clear(c *cell, x float64) bool {
	for _, j := range l.joints {
		if j != c.from && j != c.to && j.top < c.y && c.y < j.low && math.Abs(j.x-x) < clearOf {
			return false
		}
	}
	return true
}

func (l *layout) cellWidth(branches []int) float64 {
	e := l.s.branches[branches[0]]
	width := cellWidth
	if e.symbol() == "wire" {
		width = wireWidth
	}
	lines := append([]string{l.name(branches)}, e.says()...)
	for _, line := range lines {
		width = max(width, letterWidth*float64(utf8.RuneCountInString(line))+labelGap)
	}
	half := symbolHalf
	switch {
	case e.symbol() == "wire":
		half = 0
	case e.Safeguard():
		half = guardHalf
	}
	last := l.s.branches[branches[len(branches)-1]]
	for _, node := range []string{e.A, e.B, last.A, last.B} {
		letters := min(utf8.RuneCountInString(netlist.Visible(node)), nodeLetters)
		width = max(width, 2*half+letterWidth*float64(letters)+2)
	}
	return width
}
