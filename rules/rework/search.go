package rework

import (
	"slices"
	"strings"
	"sync/atomic"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
)

// Bounds of the search.
const (
	// DefaultCandidates is how many sets are examined for one kind of plan; kindMilliseconds is the
	// work that one kind may be, searchMilliseconds that of all kinds together, as candidate.work
	// reckons it. The sets with one edit are examined whatever the first kind takes.
	DefaultCandidates  = 1500
	kindMilliseconds   = 2500
	searchMilliseconds = 2500
	// together is how many sets are examined between two looks at the work done.
	together = 4
	// A candidate with more than manyFindings open takes findingMilliseconds for each above: the path
	// that tells it is looked for among many.
	manyFindings        = 20
	findingMilliseconds = 10
	// fewCandidates is from how few on no plan is looked for: none would be found among them.
	fewCandidates = 8
	// maxEdits is how many edits a plan has at most.
	maxEdits = 12
	// searchFaults is K while searching: a WARNING rests on one failure at most. It may rest on suspect
	// parts beside it, of which searchTogether lets in as many as a look for two failures does.
	searchFaults   = 1
	searchTogether = analysis.DefaultFaults + 1
)

// search looks for the smallest plans for one set.
type search struct {
	set   *netlist.Set
	amps  float64 // the fuse that suits the set
	limit int     // of candidates for one kind
	// workers is how many candidates are examined at a time.
	workers int
	slow    bool // few candidates can be afforded

	banned  map[measure]bool
	ignored []rules.Finding // which no edit of the list cures
	cache   map[string]*candidate
	used    int     // candidates examined for this kind
	spent   float64 // the work of all kinds so far, in milliseconds
	stopped bool
	checked atomic.Int64
}

// candidate is the set with some edits carried out, and what it still has.
type candidate struct {
	edits []*Edit // by rank
	set   *netlist.Set
	// open are the findings of WARNING and more, each with the edits that bear on it.
	open    []openFinding
	all     []*Edit // the list of edits for it, whatever they bear on
	invalid bool    // an edit does not fit, or what comes out is no set
	work    float64 // of examining it, in milliseconds, reckoned by counts
}

type openFinding struct {
	finding rules.Finding
	edits   []*Edit
}

func (c *candidate) effort() int {
	sum := 0
	for _, e := range c.edits {
		sum += e.effort
	}
	return sum
}

// keyOf names a set of edits, whatever their order.
func keyOf(edits []*Edit) string {
	keys := make([]string, len(edits))
	for i, e := range edits {
		keys[i] = e.key
	}
	slices.Sort(keys)
	return strings.Join(keys, "\n")
}

func newSearch(set *netlist.Set, limit int) *search {
	circuit := circuitOf(set)
	affordable := int(kindMilliseconds / milliseconds(circuit))
	limit = min(limit, max(fewCandidates, affordable))
	return &search{slow: affordable < fewCandidates, set: set, amps: fuseFor(circuit), limit: limit, workers: workersFor(set), banned: map[measure]bool{}, cache: map[string]*candidate{}}
}

// examine carries edits out and looks what is left.
func (s *search) examine(edits []*Edit) *candidate {
	s.checked.Add(1)
	c := &candidate{edits: edits}
	set, _, ok := carryOut(s.set, edits)
	if !ok {
		c.invalid = true
		return c
	}
	c.set = set
	circuit := circuitOf(set)
	report := rules.Check(circuit, options(searchFaults))
	circuit.Forget() // many candidates are kept
	s.judge(c, report)
	c.work = milliseconds(circuit) + findingMilliseconds*float64(max(0, len(c.open)-manyFindings))
	return c
}

// judge takes from a report what is open, and the edits that bear on it.
func (s *search) judge(c *candidate, report *rules.Report) {
	for _, f := range report.Findings {
		if f.Signal < rules.Warning || match(s.ignored, f) != nil {
			continue
		}
		c.open = append(c.open, openFinding{finding: f})
	}
	if len(c.open) > 0 {
		s.offer(c, report)
	}
}

// carryOut applies edits in the order of their ranks and gives the set and the steps; false where
// one does not fit.
func carryOut(set *netlist.Set, edits []*Edit) (*netlist.Set, []plan.Step, bool) {
	var all []plan.Step
	for _, e := range edits {
		steps := e.steps(set)
		if len(steps) == 0 {
			return nil, nil, false
		}
		plan := &plan.Plan{Steps: steps}
		next, err := plan.ApplyAll(set)
		if err != nil {
			return nil, nil, false
		}
		set = next
		for _, step := range steps {
			step.Number = len(all) + 1
			all = append(all, step)
		}
	}
	return set, all, true
}

// with gives the edits of a candidate and one more, by rank; nil where it does not go with them.
func with(edits []*Edit, more *Edit) []*Edit {
	if !goesWith(edits, more) {
		return nil
	}
	all := append(slices.Clone(edits), more)
	slices.SortFunc(all, byRank)
	return all
}

func goesWith(edits []*Edit, more *Edit) bool {
	return !slices.ContainsFunc(edits, func(e *Edit) bool { return clash(e, more) })
}

// allowed leaves out the edits that rest on a banned measure and those that clash.
func (s *search) allowed(c *candidate, edits []*Edit) []*Edit {
	var kept []*Edit
	for _, e := range edits {
		if !s.banned[e.measure] && goesWith(c.edits, e) {
			kept = append(kept, e)
		}
	}
	return kept
}

// least is a number of edits that what is open needs at least: findings of which no two can be
// cured by one edit.
func (s *search) least(c *candidate) int {
	n := 0
	taken := map[string]bool{}
	open := slices.Clone(c.open)
	slices.SortStableFunc(open, func(a, b openFinding) int { return len(a.edits) - len(b.edits) })
	for _, o := range open {
		edits := s.allowed(c, o.edits)
		if len(edits) == 0 {
			return maxEdits + 1
		}
		if slices.ContainsFunc(edits, func(e *Edit) bool { return taken[e.key] }) {
			continue
		}
		for _, e := range edits {
			taken[e.key] = true
		}
		n++
	}
	return n
}

// best looks for the smallest plans: all those of the least number of edits, the least effort
// first. It is empty where there is none within the bounds.
//
// Every plan that ends well has an edit that bears on each finding that is open, so that it is
// enough to follow, from each candidate, the edits that bear on one of them.
func (s *search) best() []*candidate {
	s.used, s.stopped = 0, false
	root := s.get([][]*Edit{nil})[0]
	for size := s.least(root); size <= maxEdits; size++ {
		seen := map[string]bool{}
		level := []*candidate{root}
		var found []*candidate
		for n := 0; n <= size && len(level) > 0; n++ {
			var next [][]*Edit
			for _, c := range level {
				if len(c.open) == 0 {
					found = append(found, c)
					continue
				}
				if n+s.least(c) > size {
					continue
				}
				for _, e := range s.branch(c) {
					edits := with(c.edits, e)
					if key := keyOf(edits); !seen[key] {
						seen[key] = true
						next = append(next, edits)
					}
				}
			}
			level = slices.DeleteFunc(s.get(next), func(c *candidate) bool { return c.invalid })
			if s.stopped {
				return nil
			}
		}
		if len(found) > 0 {
			slices.SortStableFunc(found, func(a, b *candidate) int { return a.effort() - b.effort() })
			return found
		}
	}
	return nil
}

// branch gives the edits that bear on the finding on which the fewest do.
func (s *search) branch(c *candidate) []*Edit {
	var fewest []*Edit
	for i, o := range c.open {
		if edits := s.allowed(c, o.edits); i == 0 || len(edits) < len(fewest) {
			fewest = edits
		}
	}
	return fewest
}

// get examines candidates, several at a time, and keeps what it found; the order is that of what
// was asked.
func (s *search) get(all [][]*Edit) []*candidate {
	out := make([]*candidate, len(all))
	var missing []int
	for i, edits := range all {
		if out[i] = s.cache[keyOf(edits)]; out[i] == nil {
			missing = append(missing, i)
		}
	}
	if s.used += len(missing); s.used > s.limit {
		s.stopped = true
		return nil
	}
	for now := range slices.Chunk(missing, together) {
		if s.exhausted() && !(len(s.banned) == 0 && len(all[now[0]]) <= 1) {
			s.stopped = true
			return nil
		}
		each(len(now), s.workers, func(k int) { out[now[k]] = s.examine(all[now[k]]) })
		for _, i := range now {
			s.cache[keyOf(all[i])] = out[i]
			s.spent += out[i].work
		}
	}
	return out
}

// exhausted tells that the kinds together were all the work that they may be.
func (s *search) exhausted() bool { return s.spent > searchMilliseconds }
