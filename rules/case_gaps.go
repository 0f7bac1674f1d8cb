package rules

import (
	"slices"

	"coldcheck/analysis"
)

// gaps answers which parts stand between the line and metal that a hand can reach.
type gaps struct {
	line   *lineSide
	passes func(analysis.Channel) bool // what is taken to let go beside what costs nothing
	sides  []gapSides
}

// gapSides are the two sides of the gap round one piece of metal in one position of the switches.
type gapSides struct {
	metal    *Metal
	w        *analysis.Wiring
	atLine   []string        // what conductors and loads join to either blade
	atMetal  []string        // what they join to the metal
	fromLine map[string]bool // what the line reaches through nothing that anyone vouches for
	fromHand map[string]bool // what the metal reaches likewise
}

// gapsWithout looks at every piece of metal that no conductor and no load joins to the line: round one
// that is joined there is no gap for a part to stand in. One part may be left out.
func (k *Facts) gapsWithout(without string) *gaps {
	return k.gapsPassing(func(analysis.Channel) bool { return false }, without)
}

// gapsPassing is gapsWithout where some channels that cost something are taken to let go too.
func (k *Facts) gapsPassing(passes func(analysis.Channel) bool, without string) *gaps {
	g := &gaps{line: k.line, passes: passes}
	free := func(ch analysis.Channel) bool { return passesFreely(ch) && ch.Part != without }
	for _, m := range k.Metals {
		var sides []gapSides
		joined := false
		for _, w := range k.sound {
			hot, neutral := k.line.hot.blade, k.line.neutral.blade
			s := gapSides{metal: m, w: w, atMetal: w.Reached(m.Node(), nil, free)}
			if slices.Contains(s.atMetal, hot) || slices.Contains(s.atMetal, neutral) {
				joined = true
				break
			}
			s.atLine = w.ReachedFrom([]string{hot, neutral}, nil, free)
			s.fromLine, s.fromHand = s.reach(hot, neutral, passes, without)
			sides = append(sides, s)
		}
		if !joined {
			g.sides = append(g.sides, sides...)
		}
	}
	return g
}

// reach is what either side comes to at no cost, one part left out.
func (s *gapSides) reach(hot, neutral string, passes func(analysis.Channel) bool, without string) (fromLine, fromHand map[string]bool) {
	free := func(ch analysis.Channel) bool { return (ch.Cost == 0 || passes(ch)) && ch.Part != without }
	fromLine = setOf(s.w.ReachedFrom([]string{hot, neutral}, s.atMetal, free))
	return fromLine, setOf(s.w.Reached(s.metal.Node(), s.atLine, free))
}

// around lists the pieces of metal that a part between two nodes keeps from the line: one end
// reached from a blade, the other from the metal, at no cost, in some state without the part.
func (g *gaps) around(part, a, b string) []*Metal {
	var metals []*Metal
	for i := range g.sides {
		s := &g.sides[i]
		across := func(line, hand map[string]bool) bool { return line[a] && hand[b] || line[b] && hand[a] }
		if slices.Contains(metals, s.metal) || !across(s.fromLine, s.fromHand) {
			continue
		}
		hot, neutral := g.line.hot.blade, g.line.neutral.blade
		if across(s.reach(hot, neutral, g.passes, part)) {
			metals = append(metals, s.metal)
		}
	}
	return metals
}
