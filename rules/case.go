package rules

import (
	"iter"
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/lineside"
	"coldcheck/netlist"
)

// Case is one set on its bench, with what the search found and the metal that it has: what a report
// keeps.
type Case struct {
	Set     *netlist.Set
	Circuit *analysis.Circuit
	// Mains is the circuit on the bare mains: Circuit itself, unless a bench stands between.
	Mains  *analysis.Circuit
	Result *analysis.Result
	// Metals are the pieces of accessible metal, those with a bare point first.
	Metals []*Metal

	// grounded is the circuit on which the rules of metal that is live with nothing failed judge: Mains,
	// with its neutral earthed where the building earths nothing.
	grounded *analysis.Circuit
	fed      bool // something draws current from one blade of the plug to the other
}

// Facts are what the rules ask of a case. They are worked out before the first rule runs, and no rule
// changes them.
type Facts struct {
	*Case

	// normal are the normal states with all rectifiers blocking, solved whole, the cleared ones among
	// them; wirings are theirs, and judged are those that are not cleared.
	normal  []*analysis.Solution
	wirings []*analysis.Wiring
	judged  []*analysis.Solution

	line  *lineside.Side
	gaps  *lineside.Gaps                // round every piece of metal, with no part left out
	lives map[*Metal]*liveness          // of whole metals
	ones  map[*analysis.Fault]worstEach // of every fault that is judged alone
	soles []*sole
	pairs []*pair
}

func newCase(c *analysis.Circuit, result *analysis.Result) *Case {
	k := &Case{Set: c.Set, Circuit: c, Mains: c, Result: result, Metals: metalsOf(result, c.Metals())}
	if c.Bench.Isolated || len(c.Bench.Earthed) > 0 {
		k.Mains, _ = analysis.New(c.Set, analysis.Bench{}) // no bench, so no node to miss
	}
	k.grounded = k.Mains
	if k.earthedNowhere() {
		set := *c.Set
		set.Earthed = netlist.EarthedNeutral
		k.grounded, _ = analysis.New(&set, analysis.Bench{})
	}
	return k
}

// newFacts examines a circuit and works out what the rules ask.
func newFacts(c *analysis.Circuit, options analysis.Options) *Facts {
	k := &Facts{}
	// Rules ask for the set while it plays, which waits for nothing of the search: it is solved meanwhile.
	analysis.SideBySide(2, func(i int) {
		if i == 0 {
			k.Case = newCase(c, c.Examine(options))
			return
		}
		c.Playing()
	})
	for _, state := range c.Normal() {
		k.normal = append(k.normal, c.Solve(state))
		k.wirings = append(k.wirings, c.Wiring(state))
	}
	k.judged = notCleared(k.normal)
	// The graph is searched while the equations are solved: neither waits for the other.
	analysis.SideBySide(2, func(i int) {
		if i == 0 {
			k.line = lineside.Of(c)
			k.gaps = k.line.Gaps(k.foremostNodes())
			return
		}
		k.findLives()
		k.judgeOnes()
	})
	k.fed = k.line.Feeds()
	k.pairs = k.findPairs()
	k.soles = k.findSoles()
	return k
}

func notCleared(solutions []*analysis.Solution) []*analysis.Solution {
	return slices.DeleteFunc(slices.Clone(solutions), func(s *analysis.Solution) bool { return s.Cleared })
}

// How many times the most so far a figure must be to take its place, so that of states that differ by
// rounding the first is told. Currents in an earth or a leakage are compared more closely.
const (
	clearly = 1.001
	barely  = 1.0001
)

// mostOf is the most of a figure over some states, and where.
func mostOf(solutions []*analysis.Solution, slack float64, figure func(*analysis.Solution) float64) (most float64, at analysis.State) {
	for _, s := range solutions {
		if x := figure(s); x > most*slack {
			most, at = x, s.State
		}
	}
	return most, at
}

// details gives the parts of one kind with what is theirs alone, in the order of the file.
func details[Kind any](set *netlist.Set) iter.Seq2[*netlist.Part, Kind] {
	return func(yield func(*netlist.Part, Kind) bool) {
		for _, p := range set.Parts {
			if d, ok := p.Detail.(Kind); ok && !yield(p, d) {
				return
			}
		}
	}
}

// union joins two lists, each name once.
func union(a, b []string) []string {
	seen := make(map[string]bool, len(a)+len(b))
	for _, x := range a {
		seen[x] = true
	}
	all := append([]string{}, a...)
	for _, x := range b {
		if !seen[x] {
			seen[x] = true
			all = append(all, x)
		}
	}
	return all
}
