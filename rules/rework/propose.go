package rework

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
)

// maxProposals is how many plans are proposed, different in kind, and maxKinds how many kinds are
// looked for.
const (
	maxProposals = 3
	maxKinds     = 4
)

// Proposal is a plan that leaves no DANGER and no WARNING but what no edit of the list cures; or, in
// Partial proposals, the least.
type Proposal struct {
	Plan  *plan.Plan
	Kind  string // what it rests on
	Edits int
	rests measure
	// Comparison is of the set as it is and as it will be, without the stages between.
	Comparison *Comparison
}

// Proposals are what the search found.
type Proposals struct {
	Report *rules.Report // of the set as it is
	Plans  []Proposal    // the fewest edits first, then the least effort
	// Beyond are the findings of WARNING and more that no edit of the list cures.
	Beyond []rules.Finding
	// Partial tells that no plan was found, and that the one in Plans leaves the least of all that were
	// examined.
	Partial bool
	// Checked is how many sets were examined. Stopped tells that a bound ended the search for one kind
	// of plan or more; Unproved that it ended the search for the first.
	Checked           int
	Stopped, Unproved bool
}

// Propose searches the edits of trade practice for the smallest plans that leave no DANGER and no
// WARNING. limit is how many sets are examined for one kind of plan at most: fewer of a set that takes
// long. watch, if not nil, gives how
// many were examined so far, while the search runs.
func Propose(set *netlist.Set, limit int, watch func(func() int)) *Proposals {
	s := newSearch(set, limit)
	if watch != nil {
		watch(func() int { return int(s.checked.Load()) })
	}
	out := &Proposals{Report: check(set, analysis.DefaultFaults)}
	s.findBeyond(out)
	kinds := maxKinds
	if s.slow {
		kinds, out.Stopped, out.Unproved = 0, true, true
	}
	for kind := 0; kind < kinds; kind++ {
		found := s.best()
		if s.stopped {
			out.Stopped = true
			out.Unproved = out.Unproved || kind == 0
			// The measure that comes first may be what makes the search long: the next may do without.
			if m, ok := s.firstNotBanned(); ok {
				s.banned[m] = true
				continue
			}
			break
		}
		if len(found) == 0 || len(found[0].edits) == 0 {
			break
		}
		proposal, m := s.proposal(out.Report, found[0])
		out.Plans = append(out.Plans, proposal)
		s.banned[m] = true
	}
	out.Plans = fewest(out.Plans)
	if len(out.Plans) == 0 {
		if c := s.leastLeft(); c != nil {
			proposal, _ := s.proposal(out.Report, c)
			out.Plans, out.Partial = []Proposal{proposal}, true
		}
	}
	out.Checked = int(s.checked.Load())
	return out
}

// leastLeft is the candidate that leaves the fewest findings at DANGER, then at WARNING, with the
// fewest edits; nil where none leaves less than the set as it is.
func (s *search) leastLeft() *candidate {
	worth := func(c *candidate) []int {
		danger := 0
		for _, o := range c.open {
			if o.finding.Signal == rules.Danger {
				danger++
			}
		}
		return []int{danger, len(c.open), len(c.edits), c.effort()}
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

// fewest leaves out what is too many: the plan of guards first, which cure nothing behind them. The
// first plan stays: none has fewer edits.
func fewest(plans []Proposal) []Proposal {
	for i := len(plans) - 1; i > 0 && len(plans) > maxProposals; i-- {
		if plans[i].rests == guarding {
			plans = slices.Delete(plans, i, i+1)
		}
	}
	return plans[:min(len(plans), maxProposals)]
}

func (s *search) firstNotBanned() (measure, bool) {
	for m := isolating; m <= guarding; m++ {
		if !s.banned[m] {
			return m, true
		}
	}
	return 0, false
}

// findBeyond sets aside what no edit of the list bears on.
func (s *search) findBeyond(out *Proposals) {
	root := s.asItIs(out.Report)
	for _, o := range root.open {
		if len(s.allowed(root, o.edits)) == 0 {
			s.ignored = append(s.ignored, o.finding)
		}
	}
	for _, f := range out.Report.Findings {
		if match(s.ignored, f) != nil {
			out.Beyond = append(out.Beyond, f)
		}
	}
}

// asItIs is the set with no edit. What its report at two failures finds at WARNING and above rests on
// one, as what is searched for does, unless its search was cut down.
func (s *search) asItIs(report *rules.Report) *candidate {
	if report.Case.Result.Reduced != nil && !s.slow {
		return s.examine(nil)
	}
	s.checked.Add(1)
	c := &candidate{set: s.set}
	s.judge(c, report)
	return c
}

// proposal makes a plan out of what was found.
func (s *search) proposal(before *rules.Report, c *candidate) (Proposal, measure) {
	edits := c.edits
	if len(c.open) == 0 && !s.exhausted() {
		edits = s.cheaper(edits)
	}
	after, steps, _ := carryOut(s.set, edits)
	steps = onePlug(steps)
	m := edits[0].measure
	for _, e := range edits {
		m = min(m, e.measure)
	}
	plan := &plan.Plan{Name: fmt.Sprintf("%s: proposal with %s", s.set.Name, measureWords[m]), Steps: steps}
	circuit := circuitOf(after)
	comparison := Compare(before, checkCircuit(circuit, failuresFor(circuit)))
	comparison.Plan = plan
	return Proposal{plan, measureWords[m], len(edits), m, comparison}, m
}

// onePlug takes out of a plan the polarized plug that a later step replaces by a grounding one: no one
// fits two plugs one after the other.
func onePlug(steps []plan.Step) []plan.Step {
	style := func(step plan.Step) string {
		for _, e := range step.As.Entries {
			if word, ok := e.Value.Data.(string); ok && e.Key == "style" {
				return word
			}
		}
		return ""
	}
	grounding := ""
	var kept []plan.Step
	for _, step := range slices.Backward(steps) {
		if step.Do == "change" {
			switch {
			case style(step) == "grounding":
				grounding = step.Part
			case grounding == step.Part && style(step) == "polarized":
				step.As = &netlist.Table{Entries: slices.DeleteFunc(slices.Clone(step.As.Entries), func(e netlist.Entry) bool { return e.Key == "style" })}
				step.Why = "The hot lead goes to the fuse and nowhere else; the other goes straight on. The plug itself comes last."
			}
		}
		kept = append(kept, step)
	}
	slices.Reverse(kept)
	return kept
}

// cheaper takes class Y2 where class Y1 is not needed: where another safeguard stands beside it.
func (s *search) cheaper(edits []*Edit) []*Edit {
	for i, e := range edits {
		if !strings.HasSuffix(e.key, " Y1") {
			continue
		}
		single := *e
		single.key, single.effort = e.part+" Y2", e.effort-1
		single.steps = func(set *netlist.Set) []plan.Step {
			p := set.Part(e.part)
			if p == nil {
				return nil
			}
			b := newBuilder(set)
			safety(b, p, "Y2")
			return b.steps
		}
		tried := slices.Clone(edits)
		tried[i] = &single
		c := s.examine(tried)
		s.spent += c.work
		if !c.invalid && len(c.open) == 0 {
			edits = tried
		}
	}
	return edits
}
