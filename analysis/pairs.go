package analysis

// PairResult is what a person finds between two touch points, hand to hand. Its worsts are nil
// where every state was cleared.
type PairResult struct {
	A, B             *TouchPoint
	Normal, OneFault *Worst
}

// pairedPoints is how many touch points are looked at in pairs: of more, the pairs are too many.
// pairedBeside is how many where a suspect part fails beside another one, for such sets are many.
const (
	pairedPoints = 64
	pairedBeside = 40
)

// pairProbes are the pairs of touch points, in the order of the file; none where the points are more
// than pairedPoints.
func (c *Circuit) pairProbes() []probe {
	if len(c.Points) > pairedPoints {
		return nil
	}
	var probes []probe
	for i := range c.Points {
		for j := i + 1; j < len(c.Points); j++ {
			probes = append(probes, probe{c.Points[i].port, c.Points[j].port})
		}
	}
	return probes
}

func (d *depthSearch) pairs() []*PairResult {
	var pairs []*PairResult
	k := len(d.touches)
	if len(d.probes) == k {
		return nil
	}
	for i := range d.c.Points {
		for j := i + 1; j < len(d.c.Points); j++ {
			pairs = append(pairs, &PairResult{A: &d.c.Points[i], B: &d.c.Points[j],
				Normal: d.normal[k].result(), OneFault: d.oneFault[k].result()})
			k++
		}
	}
	return pairs
}

// Bare lists the touch points that nothing keeps fingers off: no guard, or one that nobody
// vouches for.
func (c *Circuit) Bare() []*TouchPoint {
	var bare []*TouchPoint
	for k := range c.Points {
		if p := &c.Points[k]; p.GuardFault == nil || p.GuardFault.Cost == 0 {
			bare = append(bare, p)
		}
	}
	return bare
}

// together is the worst normal state with all bare points joined as by one hand, read to earth.
func (c *Circuit) together() *Worst {
	bare := c.Bare()
	if len(bare) < 2 {
		return nil
	}
	var most worst
	solver := newSolver(c)
	probes := []probe{{bare[0].port, -1}}
	var visit func(way Way, combo int, without bool)
	visit = func(way Way, combo int, without bool) {
		// The person's hand joins the points once the breaker has been judged without it.
		cleared := false
		solver.run(way, combo, nil, without, nil, probes, wanted{}, func(_ string, c bool, _ []thevenin) bool {
			cleared = c
			return false
		})
		if cleared {
			if c.hasShort && !without {
				visit(way, combo, true)
			}
			return
		}
		solver.run(way, combo, nil, without, c.joints, probes, everything, func(rectifier string, _ bool, at []thevenin) bool {
			most.add(at[0].reading(c.omega), plainnessOf(nil, rectifier, way), func() State {
				return State{Plug: way, Settings: c.combos[combo], Rectifier: rectifier, Without: without, combo: combo}
			})
			return true
		})
	}
	for _, way := range ways {
		for combo := range c.combos {
			visit(way, combo, false)
		}
	}
	return most.result()
}
