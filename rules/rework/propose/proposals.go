package propose

import (
	"cmp"
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/budget"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
	"coldcheck/rules/rework"
	"coldcheck/rules/rework/internal/examine"
)

// maxProposals is how many plans are proposed, different in kind, and maxKinds how many kinds are
// looked for.
const (
	maxProposals = 3
	maxKinds     = 5
)

// Wish says what is asked of plans.
type Wish struct {
	Kind  string           // one of Kinds, "" for any
	Keep  []string         // parts to be left alone
	Watch func(func() int) // if not nil, it is given how many sets were examined so far, while the search runs
}

// Proposal is a plan that leaves no DANGER and no WARNING but what no remedy of the list cures; or, in
// Partial proposals, the least.
type Proposal struct {
	Plan     *plan.Plan
	Kind     string // what it rests on
	Remedies int    // how many of the list it has
	rests    measure
	// OneByOne says that a budget ended the search for the smallest plan of its kind, and that this one was
	// put together remedy by remedy.
	OneByOne bool
	// Comparison is of the set as it is and as it will be, without the stages between.
	Comparison *rework.Comparison
}

// Proposals are what the search found.
type Proposals struct {
	Report *rules.Report // of the set as it is
	Plans  []Proposal    // the least invasive first, each with the fewest remedies of its kind
	// Beyond are the findings of WARNING and more that no remedy of the list cures.
	Beyond []rules.Finding
	// Partial says that no plan was found, and that the one in Plans leaves the least of all that were
	// examined.
	Partial bool
	// Checked is how many sets were examined. Stopped says that a budget ended the search for one kind
	// of plan or more; Unproved that it ended the search for the first.
	Checked           int
	Stopped, Unproved bool
}

// Search searches the remedies of trade practice for the smallest plans that leave no DANGER and no
// WARNING, by which nothing comes nearer to the line. limit is how many sets are examined for one kind of
// plan at most (budget.Candidates): fewer of a set that takes long.
func Search(set *netlist.Set, limit budget.Count, wish Wish) *Proposals {
	s := newSearch(set, limit)
	if wish.Watch != nil {
		wish.Watch(func() int { return int(s.checked.Load()) })
	}
	s.keep = wish.Keep
	for m, word := range kindWords {
		if word == wish.Kind {
			s.only = m
		}
	}
	for m := isolating; m < s.only; m++ {
		s.banned[m] = true
	}
	out := &Proposals{Report: examine.Report(set, analysis.DefaultFaults)}
	s.before = out.Report.Case.Result
	s.findBeyond(out)
	if s.tooLarge {
		out.Stopped, out.Unproved = true, true
	} else {
		s.findPlans(out)
	}
	out.Plans = ranked(out.Plans)
	if len(out.Plans) == 0 {
		if c := s.leastLeft(); c != nil {
			out.Plans, out.Partial = []Proposal{s.proposal(out.Report, c)}, true
		}
	}
	out.Checked = int(s.checked.Load())
	return out
}

// findPlans finds a plan of each kind, the one with the fewest remedies first, by banning the measure
// that each rests on; of the kind that is asked for, one.
func (s *search) findPlans(out *Proposals) {
	oneByOne := false
	for kind := range maxKinds {
		if s.only != anyKind && kind > 0 {
			return
		}
		found := s.smallest()
		if s.stopped {
			out.Stopped = true
			out.Unproved = out.Unproved || kind == 0
			if !oneByOne {
				oneByOne = true
				s.addOneByOne(out)
			}
			// The measure that comes first may be what makes the search long: the next may do without.
			m, ok := s.firstAllowed()
			if !ok {
				return
			}
			s.banned[m] = true
			continue
		}
		if len(found) == 0 || len(found[0].remedies) == 0 {
			return
		}
		s.banned[restsOn(found[0].remedies)] = true
		for _, c := range found {
			proposal := s.proposal(out.Report, c)
			// For as many failures as the report looked for, what is further in shows too.
			if !nearer(out.Report.Case.Result, proposal.Comparison.After.Case.Result) {
				out.Plans = append(out.Plans, proposal)
				break
			}
		}
	}
}

// addOneByOne adds a plan that is put together remedy by remedy, unless there is one of its kind already.
func (s *search) addOneByOne(out *Proposals) {
	c := s.oneByOne()
	if c == nil || len(c.remedies) == 0 || slices.ContainsFunc(out.Plans, func(p Proposal) bool { return p.rests == restsOn(c.remedies) }) {
		return
	}
	p := s.proposal(out.Report, c)
	p.OneByOne = true
	if !nearer(out.Report.Case.Result, p.Comparison.After.Case.Result) {
		out.Plans = append(out.Plans, p)
		s.banned[p.rests] = true
	}
}

// ranked puts the least invasive plan first, of equals the one with fewer remedies, and leaves out what is
// too many: the plan of guards first, which cure nothing behind them.
func ranked(plans []Proposal) []Proposal {
	slices.SortStableFunc(plans, func(a, b Proposal) int {
		return cmp.Or(cmp.Compare(b.rests, a.rests), cmp.Compare(a.Remedies, b.Remedies))
	})
	if len(plans) > maxProposals {
		plans = slices.DeleteFunc(plans, func(p Proposal) bool { return p.rests == guarding })
	}
	return plans[:min(len(plans), maxProposals)]
}

// firstAllowed is the first measure that stands for a kind of plan and is not banned, if any.
func (s *search) firstAllowed() (measure, bool) {
	for m := isolating; m <= earthing; m++ {
		if !s.banned[m] {
			return m, true
		}
	}
	return 0, false
}

// findBeyond sets aside what no remedy of the list bears on.
func (s *search) findBeyond(out *Proposals) {
	root := s.asItIs(out.Report)
	for _, o := range root.open {
		if len(s.allowed(root, o.remedies)) == 0 {
			s.ignored = append(s.ignored, o.finding)
		}
	}
	for _, f := range out.Report.Findings {
		if rework.Match(s.ignored, f) != nil {
			out.Beyond = append(out.Beyond, f)
		}
	}
}

// asItIs is the set with no remedy. What its report at two failures finds at WARNING and above rests on
// one, as what is searched for does, unless its search was cut down.
func (s *search) asItIs(report *rules.Report) *candidate {
	if report.Case.Result.Reduced != nil && !s.tooLarge {
		return s.examine(nil)
	}
	s.checked.Add(1)
	c := &candidate{set: s.set}
	s.judge(c, report)
	return c
}

// proposal makes a plan out of what was found.
func (s *search) proposal(before *rules.Report, c *candidate) Proposal {
	remedies := c.remedies
	if len(c.open) == 0 && !s.work.Exhausted() {
		remedies = s.cheaper(remedies)
	}
	after, steps, _ := carryOut(s.set, remedies)
	steps = onePlug(steps)
	m := restsOn(remedies)
	proposed := &plan.Plan{Name: fmt.Sprintf("%s: proposal with %s", s.set.Name, measureWords[m]), Steps: steps}
	circuit := examine.Circuit(after)
	comparison := rework.Compare(before, examine.Slim(circuit, examine.OutcomeFaults(circuit)))
	comparison.Plan = proposed
	return Proposal{Plan: proposed, Kind: measureWords[m], Remedies: len(remedies), rests: m, Comparison: comparison}
}

// leastLeft is the candidate that leaves the fewest findings at DANGER, then at WARNING, with the
// fewest remedies; nil where none leaves less than the set as it is.
func (s *search) leastLeft() *candidate {
	worth := func(c *candidate) []int {
		danger := 0
		for _, o := range c.open {
			if o.finding.Signal == rules.Danger {
				danger++
			}
		}
		return []int{danger, len(c.open), len(c.remedies), c.effort()}
	}
	keys := make([]string, 0, len(s.cache))
	for key := range s.cache {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	root := s.cache[""]
	best := root
	for _, key := range keys {
		if c := s.cache[key]; !c.invalid && slices.Compare(worth(c), worth(best)) < 0 {
			best = c
		}
	}
	if best == root || root == nil || slices.Compare(worth(best)[:2], worth(root)[:2]) >= 0 {
		return nil
	}
	return best
}
