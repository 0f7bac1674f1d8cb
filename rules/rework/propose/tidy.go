package propose

import (
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
)

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
func (s *search) cheaper(remedies []*remedy) []*remedy {
	for i, r := range remedies {
		if !strings.HasSuffix(r.key, " Y1") {
			continue
		}
		single := partRemedy(r.part, "Y2", r.measure, r.effort-1, func(b *builder, p *netlist.Part) { safety(b, p, "Y2") })
		tried := slices.Clone(remedies)
		tried[i] = single
		c := s.examine(tried)
		s.work.Spend(c.work)
		if !c.invalid && len(c.open) == 0 {
			remedies = tried
		}
	}
	return remedies
}
