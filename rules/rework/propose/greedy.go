package propose

import (
	"coldcheck/rules"
	"coldcheck/rules/rework"
)

// mostSteps is how many remedies are tried for one finding when a plan is put together remedy by remedy.
const mostSteps = 6

// oneByOne puts a plan together of remedies for the parts, the metal and the line side, each the nearest
// that cures the finding at hand, where a budget ended the search for the smallest. It is nil where that
// leads to none.
func (s *search) oneByOne() *candidate {
	c := s.examine(nil)
	for range maxRemedies {
		if len(c.open) == 0 {
			break
		}
		if c = s.further(c); c == nil {
			return nil
		}
	}
	if len(c.open) > 0 || !s.accepts(c) {
		return nil
	}
	return c
}

// further is a candidate with one remedy more, which cures one of what is open, nil where none does.
func (s *search) further(c *candidate) *candidate {
	for i := range c.open {
		o := &c.open[i]
		tried := 0
		for _, r := range nearest(s.allowed(c, o.remedies), &o.finding) {
			if r.measure < bridging || tried == mostSteps {
				continue
			}
			tried++
			next := s.examine(with(c.remedies, r))
			s.work.Spend(next.work)
			if !next.invalid && !next.leaves(o) {
				return next
			}
		}
	}
	return nil
}

// leaves reports whether a candidate still has a finding.
func (c *candidate) leaves(o *openFinding) bool {
	var open []rules.Finding
	for i := range c.open {
		open = append(open, c.open[i].finding)
	}
	return rework.Match(open, o.finding) != nil
}
