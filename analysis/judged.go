package analysis

import "slices"

// Judged lists what is read in every state with these faults, the cleared ones among them, then,
// where a failed part is what shorts the line, the state once more with every failed part's short
// left out.
func (c *Circuit) Judged(faults ...*Fault) []Row {
	var rows []Row
	s, ok := c.solvers.Get().(*solver)
	if !ok {
		s = newSolver(c)
	}
	defer c.solvers.Put(s)
	probes := c.touchProbes()
	var run func(way Way, combo int, without bool)
	run = func(way Way, combo int, without bool) {
		shorted := false
		s.run(way, combo, faults, without, nil, probes, everything, func(rectifier string, cleared bool, at []thevenin) bool {
			row := Row{State: State{Plug: way, Settings: c.combos[combo], Rectifier: rectifier, Faults: slices.Clone(faults),
				Without: without, combo: combo}, Cleared: cleared, Readings: make([]Reading, 0, len(at))}
			for _, t := range at {
				row.Readings = append(row.Readings, t.reading(c.omega))
			}
			rows = append(rows, row)
			shorted = shorted || cleared
			return true
		})
		if shorted && c.hasShort && !without {
			run(way, combo, true)
		}
	}
	for _, way := range ways {
		for combo := range c.combos {
			run(way, combo, false)
		}
	}
	return rows
}

// JudgedEach is Judged for each of some faults alone, several at a time where the equations are only
// read. Visit may be called from several goroutines at once, once for each place in the list.
func (c *Circuit) JudgedEach(faults []*Fault, visit func(i int, rows []Row)) {
	if !c.keepsColumns {
		for i, f := range faults {
			visit(i, c.Judged(f))
		}
		return
	}
	SideBySide(len(faults), func(i int) { visit(i, c.Judged(faults[i])) })
}

// WorstOf is the worst, at the point of that index in Points, of the rows that are not cleared and
// that keep lets through; nil where there is none. A nil keep lets all through.
func WorstOf(rows []Row, point int, keep func(Row) bool) *Worst {
	var w worst
	for _, row := range rows {
		if row.Cleared || keep != nil && !keep(row) {
			continue
		}
		w.add(row.Readings[point], plainnessOf(row.State.Faults, row.State.Rectifier, row.State.Plug),
			func() State { return row.State })
	}
	return w.result()
}
