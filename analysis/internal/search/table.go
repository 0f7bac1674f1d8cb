package search

import (
	"slices"
	"sync"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
	"coldcheck/analysis/internal/parallel"
)

// Row is one row of the table of states: the state, whether a breaker clears it, and what is read
// at each touch point, in the order of Circuit.Points. A cleared state's readings are those before
// the breaker opens.
type Row struct {
	State    circuit.State
	Cleared  bool
	Readings []nodal.Reading
}

// Filter narrows the table of states. The zero Filter lets every state through.
type Filter struct {
	Plug     circuit.Polarity  // "" for both
	Settings map[string]string // switches and controls that stand fixed
	Controls bool              // every position of the controls, not only those at rest
}

// lets reports whether a state is one of the table's. A control that is not asked for stands at rest.
func (f Filter) lets(c *circuit.Circuit, s circuit.State) bool {
	if f.Plug != "" && f.Plug != s.Plug {
		return false
	}
	stands := func(x circuit.Setting, otherwise bool) bool {
		if want, ok := f.Settings[x.Name]; ok {
			return want == x.At
		}
		return otherwise
	}
	for _, x := range s.Settings {
		if !stands(x, true) {
			return false
		}
	}
	for i, x := range s.Controls {
		if !stands(x, f.Controls || x.At == c.Controls[i].Positions[0]) {
			return false
		}
	}
	return true
}

// EachState visits every state with up to most faults, guards aside and suspect parts counted: by
// number of faults, then faults in the order of the file, plug polarity, switches, rectifier. Rows are
// handed out one at a time and are not kept; visit returns false to stop.
func EachState(n *nodal.Network, most int, filter Filter, visit func(Row) bool) {
	c := n.Circuit
	evaluators := make([]*nodal.Evaluator, len(c.Positions))
	row := Row{Readings: make([]nodal.Reading, len(c.Points))}
	set := make([]*circuit.Fault, 0, most)
	each := func() bool {
		for _, plug := range circuit.Polarities {
			for position := range c.Positions {
				if !filter.lets(c, c.StateAt(plug, position)) {
					continue
				}
				if evaluators[position] == nil {
					evaluators[position] = n.Evaluator(position)
				}
				more := true
				evaluators[position].Evaluate(set, nodal.Ask{Plugs: nodal.Only(plug)}, func(x *nodal.Evaluation) bool {
					row.State, row.Cleared = x.State(set), x.Cleared
					for k := range row.Readings {
						row.Readings[k] = x.Source(k, -1).Reading(c.Omega)
					}
					more = visit(row)
					return more
				})
				if !more {
					return false
				}
			}
		}
		return true
	}
	for size := 0; size <= most; size++ {
		if !eachSet(c.Faults, size, &set, each) {
			return
		}
	}
}

// eachSet calls each with every set of that many of the faults that can be together, appended to set.
func eachSet(faults []*circuit.Fault, size int, set *[]*circuit.Fault, each func() bool) bool {
	if size == 0 {
		return each()
	}
	for k := 0; k <= len(faults)-size; k++ {
		if !circuit.Compatible(*set, faults[k]) {
			continue
		}
		*set = append(*set, faults[k])
		more := eachSet(faults[k+1:], size-1, set, each)
		*set = (*set)[:len(*set)-1]
		if !more {
			return false
		}
	}
	return true
}

// Judge evaluates single states of a network, and keeps what it needs for the next. Many goroutines
// may use it.
type Judge struct {
	n     *nodal.Network
	lock  sync.Mutex
	spare map[int][]*nodal.Evaluator // by position: evaluators that no one is using
	first map[int]*nodal.Evaluator   // by position: the one that others are forked from
}

// NewJudge has none yet.
func NewJudge(n *nodal.Network) *Judge {
	return &Judge{n: n, spare: map[int][]*nodal.Evaluator{}, first: map[int]*nodal.Evaluator{}}
}

// Forget lets go of what it keeps.
func (j *Judge) Forget() {
	j.lock.Lock()
	defer j.lock.Unlock()
	clear(j.spare)
	clear(j.first)
}

// with lends an evaluator of a combination of switch positions.
func (j *Judge) with(position int, work func(*nodal.Evaluator)) {
	j.lock.Lock()
	var e *nodal.Evaluator
	switch spare := j.spare[position]; {
	case len(spare) > 0:
		e, j.spare[position] = spare[len(spare)-1], spare[:len(spare)-1]
	case j.first[position] != nil:
		e = j.first[position].Fork()
	default:
		e = j.n.Evaluator(position)
		j.first[position] = e
	}
	j.lock.Unlock()
	work(e)
	j.lock.Lock()
	j.spare[position] = append(j.spare[position], e)
	j.lock.Unlock()
}

// Judged lists what is read in every state with these faults, the cleared ones among them, then,
// where a failed part is what shorts the line, the state once more with every failed part's short
// left out.
func (j *Judge) Judged(faults ...*circuit.Fault) []Row {
	return j.JudgedAt(j.positions(), faults...)
}

// positions are the places of all the circuit's positions.
func (j *Judge) positions() []int {
	all := make([]int, len(j.n.Circuit.Positions))
	for k := range all {
		all[k] = k
	}
	return all
}

// JudgedAt is Judged for some of the circuit's positions alone.
func (j *Judge) JudgedAt(positions []int, faults ...*circuit.Fault) []Row {
	c := j.n.Circuit
	rows := make([]Row, 0, len(circuit.Polarities)*len(positions)*(1+len(c.Sections))) // about
	faults = slices.Clone(faults)
	for _, plug := range circuit.Polarities {
		for _, position := range positions {
			j.with(position, func(e *nodal.Evaluator) {
				e.Evaluate(faults, nodal.Ask{Plugs: nodal.Only(plug), Uncleared: true}, func(x *nodal.Evaluation) bool {
					row := Row{State: x.State(faults), Cleared: x.Cleared, Readings: make([]nodal.Reading, len(c.Points))}
					for k := range row.Readings {
						row.Readings[k] = x.Source(k, -1).Reading(c.Omega)
					}
					rows = append(rows, row)
					return true
				})
			})
		}
	}
	return rows
}

// JudgedEach is Judged for each of some faults alone, several at a time. Visit may be called from
// several goroutines at once, once for each place in the list.
func (j *Judge) JudgedEach(faults []*circuit.Fault, visit func(i int, rows []Row)) {
	parallel.Each(len(faults), func(i int) { visit(i, j.Judged(faults[i])) })
}

// WorstOf is the worst, at the point of that index in Points, of the rows that are not cleared and
// that keep lets through; nil where there is none. A nil keep lets all through.
func WorstOf(rows []Row, point int, keep func(Row) bool) *Worst {
	var w worst
	for _, row := range rows {
		if row.Cleared || keep != nil && !keep(row) {
			continue
		}
		w.add(row.Readings[point], tieBreakOf(row.State),
			func() circuit.State { return row.State })
	}
	return w.result()
}
