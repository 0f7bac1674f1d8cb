package page

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"coldcheck/analysis/survey"
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
			j.x = l.m.left
			if j.blade == 1 && l.passesFirstBlade() {
				j.x -= laneGap
			}
			for _, c := range l.cells {
				if c.to == j && !c.bridge {
					j.x = max(j.x, c.from.x+c.width)
				}
			}
			if j.target {
				l.clearBridges()
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

// passesFirstBlade reports whether a way comes back to the second blade beside the vertical of the first.
func (l *layout) passesFirstBlade() bool {
	for _, c := range l.cells {
		if !c.bridge || c.to.blade != 1 {
			continue
		}
		if slices.ContainsFunc(l.joints, func(j *joint) bool { return j.blade == 0 && j.low > c.y+l.m.drop }) {
			return true
		}
	}
	return false
}

// clearBridges moves where parts between the two blades come back off the verticals of joints, for which they
// would be taken.
func (l *layout) clearBridges() {
	for _, c := range l.cells {
		if !c.bridge {
			continue
		}
		for slices.ContainsFunc(l.joints, func(j *joint) bool {
			return !j.target && j.blade < 0 && j != c.from && math.Abs(j.x-(c.from.x+c.width)) < laneGap && j.top <= c.y+l.m.drop && c.y <= j.low
		}) {
			c.width += laneGap
		}
	}
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
		if o != j && done[o] && o.blade < 0 && !l.apart(j, o) && math.Abs(o.x-j.x) < laneGap && j.top <= o.low && o.top <= j.low {
			return true
		}
	}
	return false
}

// apart reports whether two joints are never shown at once, or have no vertical to be taken for one.
func (l *layout) apart(j, o *joint) bool {
	if j.born < 0 || o.born < 0 || j.born == o.born {
		return false
	}
	a, b := l.all[j.born], l.all[o.born]
	return a.seldom && b.seldom && !a.meets(b)
}

// middle puts every symbol between its joints, clear of verticals that pass its row.
func (l *layout) middle() {
	for _, c := range l.cells {
		left, right := c.from.x, c.to.x
		if c.bridge {
			right = left + c.width
		}
		c.x = (left + right) / 2
		words := l.wordsHalf(c)
		for _, room := range []struct {
			apart float64
			ends  bool
		}{{words, true}, {words * narrowWords, true}, {words, false}, {clearOf, false}} {
			if x, ok := l.clearPlace(c, left, right, room.apart, room.ends); ok {
				c.x = x
				break
			}
		}
	}
}

// narrowWords is how much of wordsHalf words take where their letters are narrow, as most are.
const narrowWords = 0.85

// wordsHalf is how far the words of a cell reach to either side of its middle, and a little more.
func (l *layout) wordsHalf(c *cell) float64 {
	if l.tall {
		return clearOf
	}
	half := clearOf
	switch {
	case l.s.branches[c.branches[0]].Class == survey.Hand:
		half = figureHalf
	case len(c.branches) > 1:
		half = pulledHalf
	}
	for _, line := range append([]string{l.name(c.branches)}, l.s.branches[c.branches[0]].says()...) {
		half = max(half, letterWidth/2*float64(utf8.RuneCountInString(line))+4)
	}
	return half
}

// clearPlace is the place nearest to the middle at which a cell is so far from verticals that pass its row,
// those of its ends among them or not.
func (l *layout) clearPlace(c *cell, left, right, apart float64, ends bool) (x float64, ok bool) {
	middle := (left + right) / 2
	for step := 0.0; step < (right-left)/2-symbolHalf || step == 0; step += 4 {
		for _, x := range [2]float64{middle + step, middle - step} {
			if l.clear(c, x, apart, ends) {
				return x, true
			}
		}
	}
	return 0, false
}

func (l *layout) clear(c *cell, x, apart float64, ends bool) bool {
	for _, j := range l.joints {
		if (ends || j != c.from && j != c.to) && j.top < c.y && c.y < j.low && math.Abs(j.x-x) < apart {
			return false
		}
	}
	return true
}

// longestFigure is as long as what passes through a hand may be told.
const longestFigure = "0.068 mA AC and 0.004 mA DC"

// Half of what it takes, for its letters are bold; and of what "1 of 5 pulled" takes, in capitals.
const (
	figureHalf = 7.6 / 2 * float64(len(longestFigure))
	pulledHalf = 60.0
)

// cellWidth is how much of its row a cell takes.
func (l *layout) cellWidth(branches []int) float64 {
	e := l.s.branches[branches[0]]
	width := l.m.cell
	if e.symbol() == "wire" {
		width = l.m.wire
	}
	if l.tall {
		return max(width, lineHeight*float64(len(l.beside(branches)))+nodeSpace)
	}
	lines := append([]string{l.name(branches)}, e.says()...)
	switch {
	case e.Class == survey.Hand:
		width = max(width, 2*figureHalf+labelGap)
	case len(branches) > 1:
		width = max(width, 2*pulledHalf)
	}
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

// Of a tall drawing: from one line of words beside a symbol to the next, how much of a cell the name of a
// node needs, and how many letters go on a line.
const (
	lineHeight  = 12.0
	nodeSpace   = 36.0
	lineLetters = 12
	nameLetters = 8 // of a name, which is bold
)

// beside are the words beside a symbol of a tall drawing, its name first.
func (l *layout) beside(branches []int) []string {
	e := l.s.branches[branches[0]]
	words := broken(l.name(branches), nameLetters)
	if guard := e.guardWords(); guard != "" && len(branches) == 1 {
		words = append(words, guard)
	}
	if len(branches) > 1 && e.heater() {
		return append(words, fmt.Sprintf("%d heaters", len(branches)), "")
	}
	for _, line := range e.says() {
		words = append(words, broken(line, lineLetters)...)
	}
	return append(words, "") // for its state
}

// broken breaks a text into lines, at blanks where it can.
func broken(s string, letters int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		for utf8.RuneCountInString(word) > letters {
			if line != "" {
				lines, line = append(lines, line), ""
			}
			r := []rune(word)
			lines, word = append(lines, string(r[:letters])), string(r[letters:])
		}
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) <= letters:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	return append(lines, line)
}
