package page

import (
	"math"
	"slices"
	"unicode/utf8"

	"coldcheck/netlist"
)

// Sizes of a drawing, in its own units, which are CSS pixels at full size.
const (
	rowHeight   = 108.0
	topMargin   = 52.0
	leftMargin  = 96.0
	cellWidth   = 112.0
	wireWidth   = 72.0
	symbolHalf  = 20.0 // half the width of every symbol
	guardHalf   = 29.0 // half the width of the frame round a safeguard
	letterWidth = 6.6  // of a label
	labelGap    = 16.0 // between the labels of neighbours
	nodeLetters = 15   // of a node's name; the rest is in its title
	laneGap     = 14.0 // between verticals that must not be taken for one
	clearOf     = 34.0 // between a symbol's middle and a vertical that passes
	bridgeDrop  = 68.0 // below its row, where a part between the two blades comes back
	foldFrom    = 3    // heaters in a row that are drawn as one
)

// joint is a node in the drawing.
type joint struct {
	node     string
	x, y     float64
	top, low float64 // how far its vertical reaches
	blade    int     // 0 or 1 for a blade, else -1
	target   bool
	band     band // of the row on which it stands
	born     int  // the ear that brought it, -1 for none
}

// cell is a symbol with its two leads, from a joint on its left to one on its right.
type cell struct {
	edges    []int // several where they are folded
	from, to *joint
	x, y     float64
	width    float64
	bridge   bool // between the two blades, its last
}

// band is where an ear stands from top to bottom.
type band int

const (
	firstBlade band = iota
	betweenBlades
	secondBlade
)

// ear is a stretch of a way on a row of its own, between two joints that stand already.
type ear struct {
	cells []*cell
	band  band
}

// layout is where everything stands.
type layout struct {
	s      *scene
	fold   bool
	joints []*joint
	cells  []*cell
	all    []*ear
	target *joint
	rows   int
	byNode map[string]*joint
	byCell map[int]*cell // by the least of its edges
	width  float64
	height float64
}

// newLayout places the ways of a scene. Each part is drawn once: a further way is drawn where it
// leaves those that stand already.
func newLayout(s *scene, fold bool) *layout {
	l := &layout{s: s, fold: fold, byNode: map[string]*joint{}, byCell: map[int]*cell{}}
	for i, node := range s.blades() {
		if node != s.target {
			l.joint(node).blade = i
		}
	}
	l.target = l.joint(s.target)
	l.target.target = true
	for _, r := range s.routes {
		for _, pieces := range l.ears(r) {
			l.add(pieces)
		}
	}
	l.stack()
	l.reach()
	l.columns()
	l.middle()
	return l
}

func (l *layout) joint(node string) *joint {
	j := l.byNode[node]
	if j == nil {
		j = &joint{node: node, blade: -1, born: -1, y: math.NaN(), top: math.Inf(1), low: math.Inf(-1)}
		l.byNode[node] = j
		l.joints = append(l.joints, j)
	}
	return j
}

// piece is a cell to be, with the nodes between which the way goes through it.
type piece struct {
	edges    []int
	from, to string
}

// pieces folds the runs of a way.
func (l *layout) pieces(r *route) []piece {
	var pieces []piece
	for i := 0; i < len(r.edges); {
		n := l.run(r, i)
		pieces = append(pieces, piece{r.edges[i : i+n], r.nodes[i], r.nodes[i+n]})
		i += n
	}
	return pieces
}

// run counts the edges from i that are drawn as one: wires behind one another, and heaters where
// the drawing is folded.
func (l *layout) run(r *route, i int) int {
	alike := func(k int) bool {
		a, b := l.s.edges[r.edges[i]], l.s.edges[r.edges[k]]
		return a.heater() && b.heater() && l.fold || a.symbol() == "wire" && b.symbol() == "wire"
	}
	n := 1
	for i+n < len(r.edges) && alike(i+n) && l.plain(r.nodes[i+n]) {
		n++
	}
	if l.s.edges[r.edges[i]].heater() && n < foldFrom {
		return 1
	}
	return n
}

// plain tells a node at which nothing else is drawn than the two parts of one way.
func (l *layout) plain(node string) bool {
	if slices.Contains(l.s.blades(), node) || node == l.s.target {
		return false
	}
	degree := 0
	for _, e := range l.s.edges {
		if e.a == node || e.b == node {
			degree++
		}
	}
	return degree == 2
}

// ears gives the stretches of a way that are not drawn yet, each between two joints that are.
func (l *layout) ears(r *route) [][]piece {
	var ears [][]piece
	var ear []piece
	for _, p := range l.pieces(r) {
		if l.byCell[slices.Min(p.edges)] != nil {
			ear = nil
			continue
		}
		ear = append(ear, p)
		if l.byNode[p.to] != nil {
			ears = append(ears, ear)
			ear = nil
		}
	}
	return ears
}

// add makes an ear of cells from left to right.
func (l *layout) add(pieces []piece) {
	from, to := l.byNode[pieces[0].from], l.byNode[pieces[len(pieces)-1].to]
	if from.target || to.blade >= 0 && from.blade < 0 || to.blade == 0 || l.reaches(to, from) {
		turned := make([]piece, 0, len(pieces))
		for _, p := range slices.Backward(pieces) {
			edges := slices.Clone(p.edges)
			slices.Reverse(edges)
			turned = append(turned, piece{edges, p.to, p.from})
		}
		pieces, from, to = turned, to, from
	}
	e := &ear{band: from.band}
	switch {
	case from.blade >= 0 && to.blade >= 0:
		e.band = betweenBlades
	case from.blade == 0:
		e.band = firstBlade
	case from.blade == 1:
		e.band = secondBlade
	}
	for _, p := range pieces {
		for _, node := range []string{p.from, p.to} {
			if j := l.byNode[node]; j == nil {
				j = l.joint(node)
				j.band, j.born = e.band, len(l.all)
			}
		}
		c := &cell{edges: p.edges, from: l.joint(p.from), to: l.joint(p.to), width: l.cellWidth(p.edges)}
		e.cells = append(e.cells, c)
		l.cells = append(l.cells, c)
		l.byCell[slices.Min(p.edges)] = c
	}
	if from.blade >= 0 && to.blade >= 0 {
		e.cells[len(e.cells)-1].bridge = true
	}
	l.all = append(l.all, e)
}

// stack gives every ear its row: those of the first blade, those between the two, those of the
// second.
func (l *layout) stack() {
	for b := firstBlade; b <= secondBlade; b++ {
		for i, e := range l.all {
			if e.band != b {
				continue
			}
			y := topMargin + rowHeight*float64(l.rows)
			l.rows++
			for _, c := range e.cells {
				c.y = y
				for _, j := range []*joint{c.from, c.to} {
					if j.born == i || j.blade >= 0 && j == c.from && math.IsNaN(j.y) {
						j.y = y
					}
				}
			}
		}
	}
}

// reaches tells whether a way from left to right goes from one joint to another.
func (l *layout) reaches(from, to *joint) bool {
	switch {
	case from == to:
		return true
	case from.blade >= 0 && to.blade >= 0:
		return from.blade < to.blade
	case to.blade >= 0 || from.target:
		return false
	}
	for _, c := range l.cells {
		if c.from == from && !c.bridge && (c.to == to || l.reaches(c.to, to)) {
			return true
		}
	}
	return false
}

// reach works out how far each joint's vertical goes.
func (l *layout) reach() {
	touch := func(j *joint, y float64) { j.top, j.low = min(j.top, y), max(j.low, y) }
	for _, c := range l.cells {
		touch(c.from, c.y)
		if c.bridge {
			touch(c.to, c.y+bridgeDrop)
		} else {
			touch(c.to, c.y)
		}
	}
	for _, j := range l.joints {
		if math.IsInf(j.top, 1) { // nothing is drawn at it: a blade without a way
			j.y = topMargin + rowHeight*float64(l.rows)
			l.rows++
			j.top, j.low = j.y, j.y
		}
		if math.IsNaN(j.y) {
			j.y = j.top
		}
	}
	l.height = topMargin + rowHeight*float64(max(l.rows, 1))
}

// columns gives every joint its place from left to right: as far as the longest way to it, and off
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

// crowded tells whether a joint's vertical would be taken for another's.
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

func (l *layout) cellWidth(edges []int) float64 {
	e := l.s.edges[edges[0]]
	width := cellWidth
	if e.symbol() == "wire" {
		width = wireWidth
	}
	lines := append([]string{l.name(edges)}, e.says()...)
	for _, line := range lines {
		width = max(width, letterWidth*float64(utf8.RuneCountInString(line))+labelGap)
	}
	half := symbolHalf
	switch {
	case e.symbol() == "wire":
		half = 0
	case e.barrier():
		half = guardHalf
	}
	last := l.s.edges[edges[len(edges)-1]]
	for _, node := range []string{e.a, e.b, last.a, last.b} {
		letters := min(utf8.RuneCountInString(netlist.Visible(node)), nodeLetters)
		width = max(width, 2*half+letterWidth*float64(letters)+2)
	}
	return width
}
