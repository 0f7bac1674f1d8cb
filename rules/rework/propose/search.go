package propose

import (
	"slices"
	"sync/atomic"

	"coldcheck/analysis"
	"coldcheck/analysis/budget"
	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/rework/internal/examine"
)

const (
	// together is how many sets are examined between two looks at the work done.
	together = 4
	// fewCandidates is from how few on no plan is looked for: none would be found among them.
	fewCandidates = 8
	// maxRemedies is how many remedies a plan has at most.
	maxRemedies = 12
)

// search looks for the smallest plans for one set.
type search struct {
	set    *netlist.Set
	from   *analysis.Circuit // the set as it is
	amps   float64           // the fuse that suits the set
	draws  float64           // what the set draws from the line, A
	keep   []string          // parts to be left alone
	before *analysis.Result  // of the set as it is; nil where nothing is compared
	only   measure           // the kind that is asked for, anyKind for any
	atOnce int               // how many candidates are examined at a time
	// tooLarge reports whether fewer candidates than are worth a search fit the budget.
	tooLarge bool

	banned  map[measure]bool
	ignored []rules.Finding // which no remedy of the list cures
	cache   map[string]*candidate
	limit   budget.Count   // of candidates for one kind
	left    *budget.Budget // of candidates for this kind
	work    *budget.Budget // of all kinds
	stopped bool           // a budget ended the search for this kind
	checked atomic.Int64
}

func newSearch(set *netlist.Set, limit budget.Count) *search {
	circuit := examine.Circuit(set)
	draws, _ := circuit.LineAmps()
	affordable := budget.Plans.Fits(examine.Work(circuit))
	limit = max(1, min(limit, budget.Count(max(fewCandidates, affordable)))) // 1: the set as it is
	return &search{
		set: set, from: circuit, amps: rules.FuseFor(draws), draws: draws, only: anyKind, atOnce: examine.AtOnce(circuit), tooLarge: affordable < fewCandidates,
		banned: map[measure]bool{}, cache: map[string]*candidate{},
		limit: limit, left: budget.New(limit), work: budget.New(budget.Plans),
	}
}

// smallest looks for the smallest plans: all those of the least number of remedies, the least effort
// first. It is empty where there is none within the budget.
//
// Every plan that ends well has a remedy that bears on each finding that is open, so that it is
// enough to follow, from each candidate, the remedies that bear on one of them.
func (s *search) smallest() []*candidate {
	s.left, s.stopped = budget.New(s.limit), false
	root := s.examineAll([][]*remedy{nil})[0]
	for size := s.lowerBound(root); size <= maxRemedies && !s.stopped; size++ {
		if found := s.ofSize(root, size); len(found) > 0 {
			slices.SortStableFunc(found, func(a, b *candidate) int { return a.effort() - b.effort() })
			return found
		}
	}
	return nil
}

// ofSize looks for plans of so many remedies, level by level; a candidate that needs more of them is
// pruned.
func (s *search) ofSize(root *candidate, size int) (found []*candidate) {
	seen := map[string]bool{}
	level := []*candidate{root}
	for n := 0; n <= size && len(level) > 0; n++ {
		var next [][]*remedy
		for _, c := range level {
			switch {
			case len(c.open) == 0:
				if s.accepts(c) {
					found = append(found, c)
				}
			case n+s.lowerBound(c) <= size:
				for _, r := range s.branch(c) {
					remedies := with(c.remedies, r)
					if key := keyOf(remedies); !seen[key] {
						seen[key] = true
						next = append(next, remedies)
					}
				}
			}
		}
		level = slices.DeleteFunc(s.examineAll(next), func(c *candidate) bool { return c.invalid })
		if s.stopped {
			return nil
		}
	}
	return found
}

// anyKind asks for no kind of plan.
const anyKind measure = -1

// accepts reports whether a candidate that leaves nothing open is a plan: nothing has come nearer to the
// line, and it is of the kind that is asked for.
func (s *search) accepts(c *candidate) bool {
	return !c.harms && (s.only == anyKind || restsOn(c.remedies) == s.only)
}

// restsOn is the most invasive measure of some remedies.
func restsOn(remedies []*remedy) measure {
	m := switching
	for _, r := range remedies {
		m = min(m, r.measure)
	}
	return m
}

// branch gives the remedies that bear on the finding on which the fewest do.
func (s *search) branch(c *candidate) []*remedy {
	var fewest []*remedy
	for i, o := range c.open {
		if remedies := s.allowed(c, o.remedies); i == 0 || len(remedies) < len(fewest) {
			fewest = remedies
		}
	}
	return fewest
}

// allowed leaves out the remedies that rest on a banned measure and those that clash.
func (s *search) allowed(c *candidate, remedies []*remedy) []*remedy {
	var kept []*remedy
	for _, r := range remedies {
		if !s.banned[r.measure] && goesWith(c.remedies, r) {
			kept = append(kept, r)
		}
	}
	return kept
}

// lowerBound is a number of remedies that what is open needs at least: findings of which no two can be
// cured by one remedy.
func (s *search) lowerBound(c *candidate) int {
	n := 0
	taken := map[string]bool{}
	open := slices.Clone(c.open)
	slices.SortStableFunc(open, func(a, b openFinding) int { return len(a.remedies) - len(b.remedies) })
	for _, o := range open {
		remedies := s.allowed(c, o.remedies)
		if len(remedies) == 0 {
			return maxRemedies + 1
		}
		if slices.ContainsFunc(remedies, func(r *remedy) bool { return taken[r.key] }) {
			continue
		}
		for _, r := range remedies {
			taken[r.key] = true
		}
		n++
	}
	return n
}

// examineAll examines candidates, several at a time, and keeps what it found; the order is that of what
// was asked. It is empty where a budget does not let it.
func (s *search) examineAll(all [][]*remedy) []*candidate {
	out := make([]*candidate, len(all))
	var missing []int
	for i, remedies := range all {
		if out[i] = s.cache[keyOf(remedies)]; out[i] == nil {
			missing = append(missing, i)
		}
	}
	if !s.left.Take(budget.Count(len(missing))) {
		s.stopped = true
		return nil
	}
	for now := range slices.Chunk(missing, together) {
		// Sets with one remedy are examined whatever those of the first kind take.
		inAnyCase := len(s.banned) == 0 && len(all[now[0]]) <= 1
		if s.work.Exhausted() && !inAnyCase {
			s.stopped = true
			return nil
		}
		examine.SideBySide(len(now), s.atOnce, func(k int) { out[now[k]] = s.examine(all[now[k]]) })
		for _, i := range now {
			s.cache[keyOf(all[i])] = out[i]
			s.work.Spend(out[i].work)
		}
	}
	return out
}
