package analysis

// Row is one row of the table of states: the state, whether a breaker clears it, and what is read
// at each touch point, in the order of Circuit.Points. A cleared state's readings are those before
// the breaker opens.
type Row struct {
	State    State
	Cleared  bool
	Readings []Reading
}

// Filter narrows the table of states. The zero Filter lets every state through.
type Filter struct {
	Plug     Way               // "" for both
	Settings map[string]string // controls that stand fixed
}

func (f Filter) lets(way Way, settings []Setting) bool {
	if f.Plug != "" && f.Plug != way {
		return false
	}
	for _, s := range settings {
		if want, ok := f.Settings[s.Control]; ok && want != s.At {
			return false
		}
	}
	return true
}

// EachState visits every state with up to n faults, guards aside and suspect parts counted: by
// number of faults, then faults in the order of the file, plug way, switches, rectifier. Rows are
// handed out one at a time and are not kept; visit returns false to stop.
func (c *Circuit) EachState(n int, filter Filter, visit func(Row) bool) {
	s := newSolver(c)
	probes := c.touchProbes()
	row := Row{Readings: make([]Reading, len(probes))}
	set := make([]*Fault, 0, n)
	each := func() bool {
		for _, way := range ways {
			for combo, settings := range c.combos {
				if !filter.lets(way, settings) {
					continue
				}
				more := true
				s.run(way, combo, set, false, nil, probes, everything, func(rectifier string, cleared bool, at []thevenin) bool {
					row.State = State{Plug: way, Settings: settings, Rectifier: rectifier, Faults: set, combo: combo}
					row.Cleared = cleared
					for k, t := range at {
						row.Readings[k] = t.reading(c.omega)
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
	for size := 0; size <= n; size++ {
		if !c.eachSet(size, 0, &set, each) {
			return
		}
	}
}

// eachSet calls each with every set of that many faults from c.Faults[from:] appended to set.
func (c *Circuit) eachSet(size, from int, set *[]*Fault, each func() bool) bool {
	if size == 0 {
		return each()
	}
	for k := from; k <= len(c.Faults)-size; k++ {
		if !compatible(*set, c.Faults[k]) {
			continue
		}
		*set = append(*set, c.Faults[k])
		more := c.eachSet(size-1, k+1, set, each)
		*set = (*set)[:len(*set)-1]
		if !more {
			return false
		}
	}
	return true
}

func compatible(set []*Fault, f *Fault) bool {
	for _, g := range set {
		if contradictory(f, g) {
			return false
		}
	}
	return true
}

func (c *Circuit) touchProbes() []probe {
	probes := make([]probe, len(c.Points))
	for k, p := range c.Points {
		probes[k] = probe{p.port, -1}
	}
	return probes
}
