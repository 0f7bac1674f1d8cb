package page

import (
	"cmp"
	"math"
	"slices"

	"coldcheck/analysis/survey"
)

// Sizes of a drawing, in its own units, which are CSS pixels at full size.
const (
	symbolHalf  = 20.0 // half the width of every symbol
	guardHalf   = 29.0 // half the width of the frame round a safeguard
	letterWidth = 6.6  // of a label
	labelGap    = 16.0 // between the labels of neighbours
	nodeLetters = 15   // of a node's name; the rest is in its title
	laneGap     = 14.0 // between verticals that must not be taken for one
	clearOf     = 34.0 // between a symbol's middle and a vertical that passes
	bridgeExtra = 36.0 // that a row is higher for a part between the two blades
	foldFrom    = 3    // heaters in a row that are drawn as one
)

// metrics are the sizes that differ between a wide drawing, whose lines run from left to right, and a
// tall one, that of a phone, in which they run down.
type metrics struct {
	row         float64 // from one row to the next
	top, left   float64 // margins beside the first row, and before the blades
	cell, wire  float64 // of a cell along its row, at least
	before      float64 // of a row, before its middle
	drop        float64 // beside its row, where a part between the two blades comes back
	bottomSpare float64 // of the last row
}

var (
	wideMetrics = metrics{row: 108, top: 52, left: 96, cell: 112, wire: 72, before: 52, drop: 82, bottomSpare: 24}
	tallMetrics = metrics{row: 104, top: 30, left: 66, cell: 72, wire: 46, before: 20, drop: 112, bottomSpare: 0}
)

// form is how a scene is drawn.
type form struct {
	fold  bool // runs of heaters as one
	tall  bool // from top to bottom
	whole bool // of the whole line side: hands are in it, and it ends at the earth
}

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
	branches []int // several where they are folded
	from, to *joint
	x, y     float64
	width    float64
	bridge   bool // between the two blades, its last
	seldom   bool // shown where it brings current alone
}

// band is where an ear stands from top to bottom.
type band int

const (
	firstBlade band = iota
	betweenBlades
	secondBlade
)

// ear is a stretch of a path on a row of its own, between two joints that stand already.
type ear struct {
	cells  []*cell
	band   band
	seldom bool
	active map[int]bool // patterns of the scene in which it brings current
}

// meets reports whether two stretches bring current in one state.
func (e *ear) meets(o *ear) bool {
	for i := range e.active {
		if o.active[i] {
			return true
		}
	}
	return false
}

// layout is where everything stands.
type layout struct {
	s *scene
	form
	m      metrics
	rare   bool // what is added is shown where it brings current alone
	joints []*joint
	cells  []*cell
	all    []*ear
	target *joint
	below  float64   // where the next row begins, below the margin
	rows   []float64 // where rows are
	byNode map[string]*joint
	byCell map[int]*cell // by the least of its branches
	width  float64
	height float64
}

// newLayout places the paths of a scene. Each part is drawn once: a further path is drawn where it
// leaves those that stand already.
func newLayout(s *scene, f form) *layout {
	l := &layout{s: s, form: f, m: wideMetrics, byNode: map[string]*joint{}, byCell: map[int]*cell{}}
	if f.tall {
		l.m = tallMetrics
	}
	for i, node := range s.Blades() {
		if node != s.Node {
			l.joint(node).blade = i
		}
	}
	l.target = l.joint(s.Node)
	l.target.target = true
	for _, l.rare = range []bool{false, true} {
		for i, r := range s.Paths {
			if l.isRare(i) != l.rare {
				continue
			}
			l.joint(r.From)
			for _, pieces := range l.ears(r) {
				l.add(pieces)
			}
		}
	}
	l.stack()
	l.reach()
	l.columns()
	l.middle()
	if l.whole { // the figures of the hands stand over lines that pass
		slices.SortStableFunc(l.cells, func(c, d *cell) int { return cmp.Compare(l.hands(c), l.hands(d)) })
	}
	return l
}

// hands counts the hands in a cell.
func (l *layout) hands(c *cell) (n int) {
	for _, i := range c.branches {
		if l.s.branches[i].Class == survey.Hand {
			n++
		}
	}
	return n
}

// isRare reports whether a path is shown where it brings current alone: in a tall drawing, which has
// little room, all but the first from each blade.
func (l *layout) isRare(path int) bool {
	p := l.s.Paths[path]
	return p.Seldom || l.tall && path > 0 && l.s.Paths[path-1].From == p.From
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

// piece is a cell to be, with the nodes between which the path goes through it.
type piece struct {
	branches []int
	from, to string
}

// pieces folds the runs of a path.
func (l *layout) pieces(r *survey.Path) []piece {
	var pieces []piece
	for i := 0; i < len(r.Branches); {
		n := l.run(r, i)
		pieces = append(pieces, piece{r.Branches[i : i+n], r.Nodes[i], r.Nodes[i+n]})
		i += n
	}
	return pieces
}

// run counts the branches from i that are drawn as one: wires behind one another, and heaters where
// the drawing is folded.
func (l *layout) run(r *survey.Path, i int) int {
	alike := func(k int) bool {
		a, b := l.s.branches[r.Branches[i]], l.s.branches[r.Branches[k]]
		return a.heater() && b.heater() && l.fold || a.symbol() == "wire" && b.symbol() == "wire"
	}
	n := 1
	for i+n < len(r.Branches) && alike(i+n) && l.plain(r.Nodes[i+n]) {
		n++
	}
	if l.s.branches[r.Branches[i]].heater() && n < foldFrom {
		return 1
	}
	return n
}

// plain tells a node at which nothing else is drawn than the two parts of one path.
func (l *layout) plain(node string) bool {
	if slices.Contains(l.s.Blades(), node) || node == l.s.Node {
		return false
	}
	degree := 0
	for _, e := range l.s.branches {
		if e.A == node || e.B == node {
			degree++
		}
	}
	return degree == 2
}

// ears gives the stretches of a path that are not drawn yet, each between two joints that are.
func (l *layout) ears(r *survey.Path) [][]piece {
	var ears [][]piece
	var ear []piece
	for _, p := range l.pieces(r) {
		if l.byCell[slices.Min(p.branches)] != nil {
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
			branches := slices.Clone(p.branches)
			slices.Reverse(branches)
			turned = append(turned, piece{branches, p.to, p.from})
		}
		pieces, from, to = turned, to, from
	}
	e := &ear{band: from.band, seldom: l.rare, active: map[int]bool{}}
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
		c := &cell{branches: p.branches, from: l.joint(p.from), to: l.joint(p.to), width: l.cellWidth(p.branches), seldom: l.rare}
		for i, pattern := range l.s.patterns {
			e.active[i] = e.active[i] || slices.ContainsFunc(p.branches, func(b int) bool { return pattern[b] > 0 })
		}
		e.cells = append(e.cells, c)
		l.cells = append(l.cells, c)
		l.byCell[slices.Min(p.branches)] = c
	}
	for i, on := range e.active {
		if !on {
			delete(e.active, i)
		}
	}
	if from.blade >= 0 && to.blade >= 0 {
		e.cells[len(e.cells)-1].bridge = true
	}
	l.all = append(l.all, e)
}

// stack gives every ear its row: those of the first blade, those between the two, those of the
// second. Ears that are seldom shown share rows, where none of them is shown with another.
func (l *layout) stack() {
	for b := firstBlade; b <= secondBlade; b++ {
		type shared struct {
			y    float64
			ears []*ear
		}
		var rows []*shared
		for i, e := range l.all {
			if e.band != b {
				continue
			}
			bridge := slices.ContainsFunc(e.cells, func(c *cell) bool { return c.bridge })
			k := slices.IndexFunc(rows, func(r *shared) bool {
				return e.seldom && !bridge && !slices.ContainsFunc(r.ears, e.meets)
			})
			y := 0.0
			if k >= 0 {
				y = rows[k].y
				rows[k].ears = append(rows[k].ears, e)
			} else {
				y = l.row()
				if e.seldom && !bridge {
					rows = append(rows, &shared{y, []*ear{e}})
				}
			}
			l.place(e, i, y)
		}
	}
}

// place puts an ear on a row.
func (l *layout) place(e *ear, number int, y float64) {
	for _, c := range e.cells {
		c.y = y
		if c.bridge {
			l.below += bridgeExtra
		}
		for _, j := range []*joint{c.from, c.to} {
			if j.born == number || j.blade >= 0 && j == c.from && math.IsNaN(j.y) {
				j.y = y
			}
		}
	}
}

// reaches reports whether a path from left to right goes from one joint to another.
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

// row begins a new row and gives its height.
func (l *layout) row() float64 {
	y := l.m.top + l.below
	l.below += l.m.row
	l.rows = append(l.rows, y)
	return y
}

// reach works out how far each joint's vertical goes.
func (l *layout) reach() {
	touch := func(j *joint, y float64) { j.top, j.low = min(j.top, y), max(j.low, y) }
	for _, c := range l.cells {
		touch(c.from, c.y)
		if c.bridge {
			touch(c.to, c.y+l.m.drop)
		} else {
			touch(c.to, c.y)
		}
	}
	for _, j := range l.joints {
		if math.IsInf(j.top, 1) { // nothing is drawn at it: a blade without a path
			j.y = l.row()
			j.top, j.low = j.y, j.y
		}
		if math.IsNaN(j.y) {
			j.y = j.top
		}
	}
	l.height = l.m.top + max(l.below, l.m.row) - l.m.bottomSpare
}
