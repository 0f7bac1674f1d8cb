package lineside

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// Gaps answers which parts stand between the line and pieces of metal that a hand can reach.
type Gaps struct {
	side   *Side
	metals []string                    // a node of each piece of metal
	passes func(analysis.Channel) bool // what is taken to let go beside what costs nothing
	gaps   []gap
}

// gap is the gap round one piece of metal in one position of the switches.
type gap struct {
	metal    int // its place in Gaps.metals
	node     string
	w        *analysis.Wiring
	atLine   []string        // what conductors and loads join to either blade
	atMetal  []string        // what they join to the metal
	fromLine map[string]bool // what the line reaches through nothing that anyone vouches for
	fromHand map[string]bool // what the metal reaches likewise
}

// Gaps looks at every piece of metal, each by a node of it, that no conductor and no load joins to the line:
// round one that is joined there is no gap for a part to stand in.
func (s *Side) Gaps(metals []string) *Gaps { return s.GapsWithout(metals, "") }

// GapsWithout is Gaps with one part left out.
func (s *Side) GapsWithout(metals []string, part string) *Gaps {
	return s.findGaps(metals, func(analysis.Channel) bool { return false }, part)
}

// GapsPassing is Gaps where some channels that cost something are taken to let go too.
func (s *Side) GapsPassing(metals []string, passes func(analysis.Channel) bool) *Gaps {
	return s.findGaps(metals, passes, "")
}

func (s *Side) findGaps(metals []string, passes func(analysis.Channel) bool, without string) *Gaps {
	g := &Gaps{side: s, metals: metals, passes: passes}
	free := func(ch analysis.Channel) bool { return ch.Free() && ch.Part != without }
	hot, neutral := s.Hot.Blade, s.Neutral.Blade
	for i, node := range metals {
		var gaps []gap
		joined := false
		for _, w := range s.wirings {
			x := gap{metal: i, node: node, w: w, atMetal: w.Reached(node, nil, free)}
			if slices.Contains(x.atMetal, hot) || slices.Contains(x.atMetal, neutral) {
				joined = true
				break
			}
			x.atLine = w.ReachedFrom([]string{hot, neutral}, nil, free)
			x.fromLine, x.fromHand = x.reach(hot, neutral, passes, without)
			gaps = append(gaps, x)
		}
		if !joined {
			g.gaps = append(g.gaps, gaps...)
		}
	}
	return g
}

// reach is what either side comes to at no cost, one part left out.
func (x *gap) reach(hot, neutral string, passes func(analysis.Channel) bool, without string) (fromLine, fromHand map[string]bool) {
	free := func(ch analysis.Channel) bool { return (ch.Cost == 0 || passes(ch)) && ch.Part != without }
	fromLine = setOf(x.w.ReachedFrom([]string{hot, neutral}, x.atMetal, free))
	return fromLine, setOf(x.w.Reached(x.node, x.atLine, free))
}

// Around lists the pieces of metal, by their places among those looked at, that a part between two nodes keeps
// from the line: one end reached from a blade, the other from the metal, at no cost, in some state without the
// part.
func (g *Gaps) Around(part, a, b string) []int {
	var metals []int
	for i := range g.gaps {
		x := &g.gaps[i]
		across := func(line, hand map[string]bool) bool { return line[a] && hand[b] || line[b] && hand[a] }
		if slices.Contains(metals, x.metal) || !across(x.fromLine, x.fromHand) {
			continue
		}
		if across(x.reach(g.side.Hot.Blade, g.side.Neutral.Blade, g.passes, part)) {
			metals = append(metals, x.metal)
		}
	}
	return metals
}

// throughCapacitors are the gaps round the same metal with all capacitors but one taken to let go.
func (g *Gaps) throughCapacitors(but string) *Gaps {
	return g.side.GapsPassing(g.metals, func(ch analysis.Channel) bool { return ch.Sort == analysis.Capacitive && ch.Part != but })
}

// ThroughCapacitors are the gaps round the same metal with all capacitors taken to let go.
func (g *Gaps) ThroughCapacitors() *Gaps { return g.throughCapacitors("") }

// SeriesPartners are, of each capacitor of several in series between the line and a hand, the others of
// its path, and all of them in the order of the file: when one shorts, each of the rest stands the whole.
func (g *Gaps) SeriesPartners() (partners map[string][]string, shorted []string) {
	partners = map[string][]string{}
	all := g.ThroughCapacitors()
	var chained []*netlist.Part
	for _, p := range g.side.circuit.Set.Parts {
		c, ok := p.Detail.(*netlist.Capacitor)
		if ok && len(all.Around(p.Name, c.Ends[0], c.Ends[1])) > len(g.Around(p.Name, c.Ends[0], c.Ends[1])) {
			chained = append(chained, p)
		}
	}
	for _, other := range chained {
		fewer := g.throughCapacitors(other.Name)
		for _, p := range chained {
			c := p.Detail.(*netlist.Capacitor)
			if p != other && len(fewer.Around(p.Name, c.Ends[0], c.Ends[1])) < len(all.Around(p.Name, c.Ends[0], c.Ends[1])) {
				partners[p.Name] = append(partners[p.Name], other.Name)
			}
		}
	}
	for _, p := range chained {
		if slices.ContainsFunc(chained, func(o *netlist.Part) bool { return slices.Contains(partners[o.Name], p.Name) }) {
			shorted = append(shorted, p.Name)
		}
	}
	return partners, shorted
}
