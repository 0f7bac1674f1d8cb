package sparse

import (
	"math/bits"
	"slices"
	"sync"
)

// sparse is a square system of nodal equations, row by row. gonum has neither a sparse nor a
// complex factorisation; this one is both, since a set's equations have some four entries a row
// however large it is.
type Matrix struct {
	n     int
	rows  [][]entry     // n, and more that a larger one had
	index []map[int]int // by row, where it is long: where each column's entry is
	left  elimination
}

type entry struct {
	col int
	val complex128
}

// longRow is from how many entries on a row has an index: a node that half the set hangs on.
const longRow = 64

// usualRow is how many entries most rows have at most.
const usualRow = 6

// spare are matrices that are used up. A set's equations are about as large in every position and mode, so that the
// room of one serves the next.
var spare = sync.Pool{New: func() any { return &Matrix{} }}

func New(n int) *Matrix {
	s := spare.Get().(*Matrix)
	s.n = n
	for i, row := range s.rows {
		s.rows[i] = row[:0]
	}
	clear(s.index)
	if more := n - len(s.rows); more > 0 {
		room := make([]entry, more*usualRow)
		for range more {
			s.rows, room = append(s.rows, room[:0:usualRow]), room[usualRow:]
		}
		s.index = make([]map[int]int, n)
	}
	return s
}

// find is where row i has its entry of column j, -1 for nowhere.
func (s *Matrix) find(i, j int) int {
	row := s.rows[i]
	if s.index[i] == nil && len(row) > longRow {
		s.index[i] = make(map[int]int, 2*len(row))
		for k, e := range row {
			s.index[i][e.col] = k
		}
	}
	if s.index[i] != nil {
		if k, ok := s.index[i][j]; ok {
			return k
		}
		return -1
	}
	for k := range row {
		if row[k].col == j {
			return k
		}
	}
	return -1
}

// push puts an entry that row i has not at its end.
func (s *Matrix) push(i int, e entry) {
	if s.index[i] != nil {
		s.index[i][e.col] = len(s.rows[i])
	}
	s.rows[i] = append(s.rows[i], e)
}

// drop takes the k-th entry out of row i; the last comes into its place.
func (s *Matrix) drop(i, k int) {
	row := s.rows[i]
	last := len(row) - 1
	if s.index[i] != nil {
		s.index[i][row[last].col] = k
		delete(s.index[i], row[k].col)
	}
	row[k] = row[last]
	s.rows[i] = row[:last]
}

// add adds v at row i, column j. A negative index is earth, the reference: nothing is added.
func (s *Matrix) Add(i, j int, v complex128) {
	if i < 0 || j < 0 {
		return
	}
	if k := s.find(i, j); k >= 0 {
		s.rows[i][k].val += v
		return
	}
	s.push(i, entry{j, v})
}

// stamp adds an admittance between two nodes.
func (s *Matrix) Stamp(a, b int, y complex128) {
	s.Add(a, a, y)
	s.Add(b, b, y)
	s.Add(a, b, -y)
	s.Add(b, a, -y)
}

// lu is a factored system: at step k, row[k] was subtracted from others to clear column col[k].
type LU struct {
	n     int
	row   []int        // the pivot's row at each step
	col   []int        // the pivot's column at each step
	per   []complex128 // the reciprocal of the pivot at each step
	upper [][]entry    // the rest of the pivot's row, by column
	lower [][]entry    // col is the row from which val times the pivot's row was taken
	work  []complex128

	// What inner needs.
	stepOfRow, stepOfCol []int
	left, right, at      []complex128
	steps                *stepSet
	reached              []int
}

// pivotThreshold: a pivot is at least this part of the largest entry of its row. A pivot small
// against its row would magnify rounding (threshold pivoting; Duff, Erisman and Reid, Direct Methods for
// Sparse Matrices, 1986). A larger part would keep more digits and fill the rows; a tenth is the usual
// bargain.
const pivotThreshold = 0.1

// factor eliminates in the order that keeps the rows short (Markowitz 1957: the pivot's row and
// column with the fewest other entries, so far as the threshold allows). It uses up s. A column
// that has nothing left, which the minimum conductance makes impossible for nodes, gets no pivot.
func (s *Matrix) Factor() *LU {
	n := s.n
	f := &LU{n: n, row: make([]int, 0, n), col: make([]int, 0, n), per: make([]complex128, 0, n),
		upper: make([][]entry, 0, n), lower: make([][]entry, 0, n), work: make([]complex128, n)}
	x := &s.left
	x.begin(s)
	for range n {
		i, j := s.choose(&x.order, x.count)
		if i < 0 {
			break
		}
		pivot, upper := x.take(i, j)
		lower := x.rests.take(x.count[j])
		for _, r := range x.holders[j] {
			if x.done[r] {
				continue
			}
			if at := s.find(r, j); at >= 0 {
				factor := s.rows[r][at].val / pivot
				s.drop(r, at)
				x.count[j]--
				x.subtract(r, factor, upper)
				lower = append(lower, entry{r, factor})
			}
		}
		x.holders[j] = nil
		f.row, f.col = append(f.row, i), append(f.col, j)
		f.per, f.upper, f.lower = append(f.per, 1/pivot), append(f.upper, upper), append(f.lower, lower)
	}
	x.rests = nil // the factors have them
	spare.Put(s)
	return f
}

// elimination is what factor knows of the rows and columns that are left.
type elimination struct {
	s       *Matrix
	holders [][]int // by column: rows that hold it; may have stale ones
	count   []int   // by column: how many rows hold it
	rests   entries
	order   byCount
	done    []bool // by row
	place   []int  // by column, less 1: the entry of the row at hand, where that is short
	room    []int  // for holders
}

func (x *elimination) begin(s *Matrix) {
	n := s.n
	x.s = s
	x.holders, x.count, x.done, x.place = resize(x.holders, n), resize(x.count, n), resize(x.done, n), resize(x.place, n)
	clear(x.count)
	clear(x.done)
	all := 0
	for _, row := range s.rows[:n] {
		for _, e := range row {
			x.count[e.col]++
		}
		all += len(row)
	}
	x.room = resize(x.room, 2*all)
	room := x.room
	for j, count := range x.count {
		x.holders[j], room = room[:0:2*count], room[2*count:]
	}
	for i, row := range s.rows[:n] {
		for _, e := range row {
			x.holders[e.col] = append(x.holders[e.col], i)
		}
	}
	x.order.begin(s.rows[:n])
}

func resize[T any](s []T, n int) []T { return slices.Grow(s[:0], n)[:n] }

// take takes the pivot's row out, and gives the pivot and the rest of the row.
func (x *elimination) take(i, j int) (pivot complex128, upper []entry) {
	x.done[i] = true
	x.order.remove(i)
	row := x.s.rows[i]
	upper = x.rests.take(len(row) - 1)
	for _, e := range row {
		x.count[e.col]--
		if e.col == j {
			pivot = e.val
		} else {
			upper = append(upper, e)
		}
	}
	return pivot, upper
}

// subtract takes factor times the rest of the pivot's row from row r, whose entry of the pivot's
// column is gone already. A short row's entries are found by place, a long one's by its index.
func (x *elimination) subtract(r int, factor complex128, upper []entry) {
	s := x.s
	row, long := s.rows[r], s.index[r] != nil
	if !long {
		for k := range row {
			x.place[row[k].col] = k + 1
		}
	}
	for _, e := range upper {
		k := x.place[e.col] - 1
		if long {
			k = s.find(r, e.col)
		}
		if k >= 0 {
			s.rows[r][k].val -= factor * e.val
			continue
		}
		s.push(r, entry{e.col, -factor * e.val})
		x.holders[e.col] = append(x.holders[e.col], r)
		x.count[e.col]++
	}
	if !long {
		for k := range row {
			x.place[row[k].col] = 0
		}
	}
	x.order.move(r, len(s.rows[r]))
}

// entries hands out room for entries out of larger pieces.
type entries []entry

// pieceOf is how many entries are made at once.
const pieceOf = 256

func (e *entries) take(n int) []entry {
	if len(*e) < n {
		*e = make([]entry, max(n, pieceOf))
	}
	taken := (*e)[:0:n]
	*e = (*e)[n:]
	return taken
}

// choose picks the next pivot: among the shortest rows the acceptable entry whose column is
// shortest.
func (s *Matrix) choose(order *byCount, colCount []int) (int, int) {
	bestRow, bestCol, best := -1, -1, int(^uint(0)>>1)
	looked := 0
	for count := order.least(); count < len(order.first); count++ {
		if bestRow >= 0 && (count-1)*(count-1) >= best || looked >= 8 && bestRow >= 0 {
			break
		}
		for i := order.first[count]; i >= 0; i = order.next[i] {
			largest := 0.0
			for _, e := range s.rows[i] {
				largest = max(largest, Size(e.val))
			}
			if largest == 0 {
				continue
			}
			for _, e := range s.rows[i] {
				if Size(e.val) < pivotThreshold*largest {
					continue
				}
				fill := (count - 1) * (colCount[e.col] - 1)
				if fill < best || fill == best && (i < bestRow || i == bestRow && e.col < bestCol) {
					bestRow, bestCol, best = i, e.col, fill
				}
			}
			looked++
			if looked >= 8 && bestRow >= 0 {
				break
			}
		}
	}
	return bestRow, bestCol
}

// Size is a cheap measure of a complex number, within a factor of √2 of its modulus.
func Size(v complex128) float64 {
	re, im := real(v), imag(v)
	if re < 0 {
		re = -re
	}
	if im < 0 {
		im = -im
	}
	return re + im
}

// solve solves in place: b, by row, becomes x, by column.
func (f *LU) Solve(b []complex128) {
	for k, i := range f.row {
		v := b[i]
		if v == 0 {
			continue
		}
		for _, e := range f.lower[k] {
			b[e.col] -= e.val * v
		}
	}
	x := f.work
	clear(x)
	for k := len(f.row) - 1; k >= 0; k-- {
		v := b[f.row[k]]
		for _, e := range f.upper[k] {
			v -= e.val * x[e.col]
		}
		x[f.col[k]] = v * f.per[k]
	}
	copy(b, x)
}

// Terminals are one or two unknowns with a sign each.
type Terminals struct {
	n    int
	at   [2]int
	sign [2]float64
}

func (t *Terminals) Add(at int, sign float64) {
	t.at[t.n], t.sign[t.n] = at, sign
	t.n++
}

// inner is v·A⁻¹·u for two sparse vectors: L⁻¹u times U⁻ᵀv. Each visits only the steps that it
// reaches, which are few where the elimination keeps the rows short.
func (f *LU) Inner(u, v Terminals) complex128 {
	f.prepare()
	for i := range u.n {
		f.left[u.at[i]] += complex(u.sign[i], 0)
		f.steps.add(f.stepOfRow[u.at[i]])
	}
	f.reached = f.reached[:0]
	for k := f.steps.pop(); k >= 0; k = f.steps.pop() {
		i := f.row[k]
		y := f.left[i]
		f.left[i] = 0
		if y == 0 {
			continue
		}
		for _, e := range f.lower[k] {
			f.left[e.col] -= e.val * y
			f.steps.add(f.stepOfRow[e.col])
		}
		f.reached = append(f.reached, k)
		f.at[k] = y
	}
	for i := range v.n {
		f.right[v.at[i]] += complex(v.sign[i], 0)
		f.steps.add(f.stepOfCol[v.at[i]])
	}
	sum := complex(0, 0)
	for k := f.steps.pop(); k >= 0; k = f.steps.pop() {
		j := f.col[k]
		z := f.right[j] * f.per[k]
		f.right[j] = 0
		if z == 0 {
			continue
		}
		for _, e := range f.upper[k] {
			f.right[e.col] -= e.val * z
			f.steps.add(f.stepOfCol[e.col])
		}
		sum += z * f.at[k]
	}
	for _, k := range f.reached {
		f.at[k] = 0
	}
	return sum
}

// prepare makes the room that inner needs, once.
func (f *LU) prepare() {
	if f.stepOfRow != nil {
		return
	}
	f.stepOfRow, f.stepOfCol = make([]int, f.n), make([]int, f.n)
	for k := range f.row {
		f.stepOfRow[f.row[k]], f.stepOfCol[f.col[k]] = k, k
	}
	f.left, f.right, f.at = make([]complex128, f.n), make([]complex128, f.n), make([]complex128, f.n)
	f.steps = newStepSet(f.n)
}

// stepSet is a set of steps that gives its least one first.
type stepSet struct {
	words []uint64
	low   int
}

func newStepSet(n int) *stepSet { return &stepSet{words: make([]uint64, n/64+1)} }

func (s *stepSet) add(k int) {
	s.words[k/64] |= 1 << (k % 64)
	s.low = min(s.low, k/64)
}

// pop takes the least step out, -1 where there is none.
func (s *stepSet) pop() int {
	for ; s.low < len(s.words); s.low++ {
		if w := s.words[s.low]; w != 0 {
			k := bits.TrailingZeros64(w)
			s.words[s.low] &^= 1 << k
			return s.low*64 + k
		}
	}
	s.low = 0
	return -1
}

// byCount keeps the rows in lists by their length.
type byCount struct {
	first      []int // the first row of each length, -1 for none
	next, prev []int
	count      []int
	low        int
}

func (o *byCount) begin(rows [][]entry) {
	n := len(rows)
	o.first, o.next, o.prev, o.count = resize(o.first, n+2), resize(o.next, n), resize(o.prev, n), resize(o.count, n)
	o.low = 1
	for i := range o.first {
		o.first[i] = -1
	}
	for i := n - 1; i >= 0; i-- {
		o.insert(i, len(rows[i]))
	}
}

func (o *byCount) insert(i, count int) {
	o.count[i] = count
	o.prev[i], o.next[i] = -1, o.first[count]
	if o.first[count] >= 0 {
		o.prev[o.first[count]] = i
	}
	o.first[count] = i
	o.low = min(o.low, count)
}

func (o *byCount) remove(i int) {
	if o.prev[i] >= 0 {
		o.next[o.prev[i]] = o.next[i]
	} else {
		o.first[o.count[i]] = o.next[i]
	}
	if o.next[i] >= 0 {
		o.prev[o.next[i]] = o.prev[i]
	}
}

func (o *byCount) move(i, count int) {
	if o.count[i] != count {
		o.remove(i)
		o.insert(i, count)
	}
}

func (o *byCount) least() int {
	for o.low < len(o.first)-1 && o.first[o.low] < 0 {
		o.low++
	}
	return o.low
}
