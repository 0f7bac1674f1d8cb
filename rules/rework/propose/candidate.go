package propose

import (
	"slices"
	"strings"

	"coldcheck/analysis/budget"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
	"coldcheck/rules/rework"
	"coldcheck/rules/rework/internal/examine"
)

// A candidate with more than manyFindings open takes workOfFinding for each above: the path that tells
// it is looked for among many.
const (
	manyFindings  = 20
	workOfFinding = 20_000
)

// candidate is the set with some remedies carried out, and what it still has.
type candidate struct {
	remedies []*remedy    // by rank
	set      *netlist.Set // nil where invalid
	// open are the findings of WARNING and more, each with the remedies that bear on it.
	open    []openFinding
	all     []*remedy    // the list of remedies for it, whatever they bear on
	invalid bool         // a remedy does not fit, or what comes out is no set
	harms   bool         // a point or a pair has come nearer to the line
	work    budget.Count // of examining it
}

// openFinding is a finding and the remedies that bear on it.
type openFinding struct {
	finding  rules.Finding
	remedies []*remedy
}

// effort is the tie-break order of plans of as many remedies.
func (c *candidate) effort() int {
	sum := 0
	for _, r := range c.remedies {
		sum += r.effort
	}
	return sum
}

// keyOf names a set of remedies, whatever their order.
func keyOf(remedies []*remedy) string {
	keys := make([]string, len(remedies))
	for i, r := range remedies {
		keys[i] = r.key
	}
	slices.Sort(keys)
	return strings.Join(keys, "\n")
}

// examine carries remedies out and looks what is left.
func (s *search) examine(remedies []*remedy) *candidate {
	s.checked.Add(1)
	c := &candidate{remedies: remedies}
	set, steps, ok := carryOut(s.set, remedies)
	if !ok || slices.ContainsFunc(steps, func(step plan.Step) bool { return slices.Contains(s.keep, step.Part) }) {
		c.invalid = true
		return c
	}
	c.set = set
	circuit := examine.Circuit(set)
	circuit.BeginFrom(s.from)
	report := examine.Full(circuit, examine.OneFailure)
	circuit.Forget() // many candidates are kept
	s.judge(c, report)
	c.harms = s.before != nil && nearer(s.before, report.Case.Result)
	c.work = examine.Work(circuit) + workOfFinding*budget.Count(max(0, len(c.open)-manyFindings))
	return c
}

// judge takes from a report what is open, and the remedies that bear on it.
func (s *search) judge(c *candidate, report *rules.Report) {
	for _, f := range report.Findings {
		if f.Signal < rules.Warning || rework.Match(s.ignored, f) != nil {
			continue
		}
		c.open = append(c.open, openFinding{finding: f})
	}
	if len(c.open) > 0 {
		s.findRemedies(c, report)
	}
}

// carryOut applies remedies in the order of their ranks and gives the set and the steps; false where
// one does not fit.
func carryOut(set *netlist.Set, remedies []*remedy) (*netlist.Set, []plan.Step, bool) {
	var all []plan.Step
	for _, r := range remedies {
		steps := r.steps(set)
		if len(steps) == 0 {
			return nil, nil, false
		}
		next, err := (&plan.Plan{Steps: steps}).ApplyAll(set)
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

// with gives the remedies of a candidate and one more, by rank; nil where it does not go with them.
func with(remedies []*remedy, more *remedy) []*remedy {
	if !goesWith(remedies, more) {
		return nil
	}
	all := append(slices.Clone(remedies), more)
	slices.SortFunc(all, byRank)
	return all
}

// goesWith reports whether one more remedy can stand in a plan with others.
func goesWith(remedies []*remedy, more *remedy) bool {
	return !slices.ContainsFunc(remedies, func(r *remedy) bool { return clash(r, more) })
}
