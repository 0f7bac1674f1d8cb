package analysis

import (
	"fmt"
	"slices"
)

// What a search may take. Beyond it the search looks at fewer failures at once, and says so.
const (
	// mostLooks is how many states with a set of faults are looked at, some 200 ns each at a set of few
	// touch points.
	mostLooks = 20e6
	// mostBytes is what the equations of all switch positions may take together.
	mostBytes = 250 << 20
	// mostPositions is how many switch positions there may be, times the parts: each is laid out and
	// solved whole.
	mostPositions = 100000
	// mostColumns is how many bytes of the ports' columns are kept at once.
	mostColumns = 192 << 20
	// fewColumns is how many bytes of them are kept also where not all are read.
	fewColumns = 16 << 20
)

// Reduced says that a search was asked to look at more failures at once than it can finish.
type Reduced struct {
	Asked    int     // the K that was asked for
	Suspects int     // how many suspect parts are tried together, suspectsTogether in full
	Looks    float64 // how many states with a set of faults there are
}

// bounded lowers what is looked at at once to what can be finished: suspect parts together first,
// then K, then suspect parts beside other failures. Single failures are always looked at.
func (c *Circuit) bounded(asked Options) (o Options, suspects int, reduced *Reduced) {
	o, suspects = asked, suspectsTogether
	plain := c.States() * c.sets(o, suspects)
	for c.looks(o, suspects) > mostLooks || o.Faults > 1 && c.columnBytes() > mostColumns {
		switch {
		case suspects > 2 && c.looks(o, suspects-1) < c.looks(o, suspects):
			suspects--
		case o.Faults > 1:
			o.Faults--
		case o.Together > o.Faults+1:
			o.Together--
		case suspects > 1:
			suspects--
		default:
			return o, suspects, &Reduced{asked.Faults, suspects, plain}
		}
	}
	if o != asked || suspects < suspectsTogether {
		reduced = &Reduced{asked.Faults, suspects, plain}
	}
	return o, suspects, reduced
}

// looks estimates what a search up to K takes, in looks at a state of a set with few touch points.
func (c *Circuit) looks(o Options, suspects int) float64 {
	return c.States() * (c.sets(o, suspects)*c.lookCost() + c.afresh(o.Faults)*float64(len(c.Set.Nodes)+c.branches))
}

// States counts the states with no fault, each rectifier conducting in one of them.
func (c *Circuit) States() float64 {
	return float64(len(ways) * len(c.combos) * (1 + len(c.Rectifiers)))
}

// CountFaults counts the faults that cost nothing and those that cost a safeguard.
func (c *Circuit) CountFaults() (free, costly float64) {
	for _, f := range c.Faults {
		if f.Cost == 0 {
			free++
		} else {
			costly++
		}
	}
	return free, costly
}

// sets counts the sets of faults that a search goes through, so many suspect parts together.
func (c *Circuit) sets(o Options, suspects int) float64 {
	free, costly := c.CountFaults()
	choose := func(n float64, k int) float64 {
		ways := 1.0
		for i := range k {
			ways *= max(n-float64(i), 0) / float64(i+1)
		}
		return ways
	}
	sets := 0.0
	for k := range suspects + 1 {
		for paid := range o.Faults + 1 {
			if k+paid <= o.Together || paid == 0 {
				sets += choose(free, k) * choose(costly, paid)
			}
		}
	}
	return sets
}

// afresh counts the sets of faults up to K for which the equations are written afresh, at about one
// look an unknown: those with two that make one node of two, or two of one; and such a one beside one
// that costs nothing, which is read to the last digit.
func (c *Circuit) afresh(limit int) float64 {
	joins := map[int]bool{}
	for _, e := range c.elements {
		joins[e.openPort] = e.sort == link
	}
	n := 0.0
	for _, f := range c.Faults {
		n += float64(flag(slices.ContainsFunc(f.ports, func(p int) bool { return c.ports[p].joins || joins[p] })))
	}
	free, _ := c.CountFaults()
	switch pairs := n * (n - 1) / 2; limit {
	case 0, 1:
		return free * n
	case 2:
		return free*n + pairs
	default:
		return free*n + pairs*float64(len(c.Faults))
	}
}

// Milliseconds estimates what it takes to examine the circuit at single failures and to judge it:
// the same on every machine, so that what rests on it is too.
func (c *Circuit) Milliseconds() float64 {
	const base, perPart, perPoint, perPosition, perLook, mostSeen = 2, 0.15, 0.7, 0.5, 0.5e-3, 1e6
	return base + perPart*float64(len(c.Set.Parts)) + perPoint*float64(len(c.Points)) + perPosition*float64(len(c.combos)) +
		perLook*min(c.looks(Options{Faults: 1, Together: DefaultFaults + 1}, suspectsTogether), mostSeen)
}

// lookCost is what one look takes against one at a set of few touch points: of many, each look is a
// solution of its own, read at every point.
func (c *Circuit) lookCost() float64 {
	n := float64(len(c.Points))
	if n > bitsOfPoints {
		return 50 + n/2
	}
	return 1 + n*n/400 // each look judges them, and few are ruled out where they are many
}

// columnBytes is what the columns of all ports take that the search of larger sets keeps.
func (c *Circuit) columnBytes() float64 {
	ports := float64(len(c.ports))
	bases := len(c.combos) * (1 + flag(c.hasShort)) * (flag(c.sources) + (1+flag(len(c.sections) > 0))*(1+flag(c.Bench.Isolated)))
	return 16 * ports * ports * float64(bases)
}

// TooLarge is the error of a set whose switch positions are too many for its size.
type TooLarge struct{ Positions, Parts int }

func (e *TooLarge) Error() string {
	return fmt.Sprintf("%d switch positions on %d parts are more than can be looked through; give a selector that is set with a tool "+
		"its fixed position, or leave out switches that have no part in the line side", e.Positions, e.Parts)
}

// Fits gives a TooLarge error for a set whose equations would not fit, else nil.
func (c *Circuit) Fits() error {
	if n := len(c.combos); n > 1 && (n*len(c.Set.Parts) > mostPositions || c.Bytes() > mostBytes) {
		return &TooLarge{n, len(c.Set.Parts)}
	}
	return nil
}

// Bytes estimates what the equations of all switch positions take. An unknown takes some 380 bytes
// once factored; a port 42 bytes, and 16 more for each port that is watched.
func (c *Circuit) Bytes() float64 {
	unknowns := float64(len(c.Set.Nodes) + c.branches)
	watched := float64(len(c.Points) + len(c.sides) + 2*len(c.sections) + len(c.joints))
	return float64(len(c.combos)*c.modes()) * (unknowns*380 + float64(len(c.ports))*(42+16*watched))
}

// modes is how many sets of equations a switch position has.
func (c *Circuit) modes() int { return 1 + flag(c.sources) + flag(len(c.sections) > 0) }
