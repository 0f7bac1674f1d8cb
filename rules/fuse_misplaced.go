package rules

import (
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// FuseMisplaced finds a fuse where it does not protect what it should.
var FuseMisplaced = &Rule{
	Name:    "fuse-misplaced",
	Signal:  Caution,
	Signals: "CAUTION",
	Looks:   "a fuse in the neutral leg, behind the switch, behind a part that draws current, or in one branch of the hot leg alone",
	Why: "A blown fuse in the neutral leg leaves the whole set on the hot one, dead to the eye and live to the hand. A fuse behind " +
		"the switch or behind a part does not cover a short in what comes before it.",
	Blind:   "A second fuse that the file does not name; fuses deeper in the set, such as one in a heater winding.",
	Source:  "the order plug, fuse, switch, load in the hot leg: trade practice",
	Remedy:  "Put the fuse first in the hot leg: narrow blade of a polarized plug, fuse, switch, load. Leave the neutral without a fuse; a pole of a two-pole switch may stay in it.",
	Caution: "A set with a blown fuse is not a dead set: unplug it and measure before touching. Check again cold and hot after the change.",
	Subject: OfLine,
	Run: func(k *Facts) []Finding {
		side := k.line
		var findings []Finding
		uncovered := map[string]bool{} // parts that are said to stand before the fuse
		for _, name := range union(side.hot.fuses, side.neutral.fuses) {
			where := ""
			switch inHot, inNeutral := slices.Contains(side.hot.fuses, name), slices.Contains(side.neutral.fuses, name); {
			case side.bothHot() != "" && !(len(side.hot.fuses) > 0 && len(side.neutral.fuses) > 0):
				where = side.inOneOfTwo(inHot)
			case inHot:
				where = side.hot.comesBefore(k, name, uncovered)
			case side.bothHot() != "" && inNeutral:
				where = side.neutral.comesBefore(k, name, uncovered)
			default:
				where = side.inNeutral()
			}
			if where != "" {
				findings = append(findings, Finding{Signal: Caution, Parts: []string{name}, Remedy: side.fuseRemedy(), Message: fmt.Sprintf("fuse %s stands %s", name, where)})
			}
		}
		bare := slices.DeleteFunc(slices.Clone(side.hot.unfused), func(part string) bool { return uncovered[part] })
		if fuses := side.hot.fuses; len(fuses) > 0 && len(bare) > 0 {
			findings = append(findings, Finding{
				Signal: Caution, Parts: slices.Clone(fuses), Remedy: side.fuseRemedy(),
				Message: fmt.Sprintf("%s %s a branch alone: %s %s on the %s with no fuse ahead",
					fuseNames(fuses), phrase.Verb(len(fuses), "cover"), phrase.Few(bare, 4), phrase.Verb(len(bare), "hang"), side.hotLeg()),
			})
		}
		return findings
	},
}

func fuseNames(fuses []string) string {
	if len(fuses) == 1 {
		return "fuse " + fuses[0]
	}
	return "fuses " + phrase.List(fuses)
}

// hotLeg names the conductor written as hot.
func (s *lineSide) hotLeg() string {
	if s.bothHot() != "" {
		return s.leg(s.hot)
	}
	return fmt.Sprintf("hot leg (%s)", s.hot.at())
}

// fuseRemedy is where fuses go where both legs are hot, "" else.
func (s *lineSide) fuseRemedy() string {
	if s.bothHot() == "" {
		return ""
	}
	return legRemedy
}

// inOneOfTwo tells what a fuse in one leg alone does where both are hot.
func (s *lineSide) inOneOfTwo(inHot bool) string {
	l := s.neutral
	if inHot {
		l = s.hot
	}
	return fmt.Sprintf("in one leg alone (%s), and %s: blown, it leaves the set on the other (%s), in which there is none", l.at(), s.bothHot(), l.other.at())
}

// inNeutral tells what a fuse in the neutral leg does.
func (s *lineSide) inNeutral() string {
	blade := s.neutral.at()
	switch {
	case !s.plain:
		return fmt.Sprintf("in the neutral leg (%s): blown, it leaves the set on the hot one", blade)
	case len(s.hot.fuses) > 0:
		return fmt.Sprintf("in the leg that the file calls neutral (%s); with a plain plug no one knows which leg that is, and blown alone "+
			"it leaves the set on the other", blade)
	}
	return fmt.Sprintf("in the leg that the file calls neutral (%s); with a plain plug no one knows which leg that is, and with "+
		"one fuse alone the other leg has none", blade)
}

// comesBefore tells what stands between the blade and a fuse of its leg, "" where nothing does, or
// another fuse. What hangs there is put down as uncovered.
func (l *lineConductor) comesBefore(k *Facts, fuse string, uncovered map[string]bool) string {
	f := k.Set.Part(fuse).Detail.(*netlist.Fuse)
	before := setOf(k.sound[0].Reached(l.blade, nil, func(ch analysis.Channel) bool { return k.line.beforeSwitch(ch) && !k.line.isFuse(ch.Part) }))
	if before[f.Ends[0]] || before[f.Ends[1]] {
		parts := k.line.hanging(l, before)
		if len(parts) == 0 {
			return ""
		}
		for _, part := range parts {
			uncovered[part] = true
		}
		return fmt.Sprintf("behind %s, which %s straight on the line: a short there is not covered", phrase.Few(parts, 3), phrase.Verb(len(parts), "hang"))
	}
	for _, w := range k.sound {
		unfused := setOf(w.Reached(l.blade, nil, func(ch analysis.Channel) bool { return conducts(ch) && !k.line.isFuse(ch.Part) }))
		if unfused[f.Ends[0]] || unfused[f.Ends[1]] {
			return "behind a switch: a short in the switch or its leads is not covered"
		}
	}
	return ""
}
