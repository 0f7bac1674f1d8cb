package rules

import (
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// FuseMisplaced finds a fuse where it does not protect what it should.
var FuseMisplaced = &Rule{
	Name:    "fuse-misplaced",
	Signal:  Caution,
	Signals: "CAUTION",
	Looks:   "a fuse in the neutral leg, behind the switch, or behind a part that draws current",
	Why: "A blown fuse in the neutral leg leaves the whole set on the hot one, dead to the eye and live to the hand. A fuse behind " +
		"the switch or behind a part does not cover a short in what comes before it.",
	Blind:   "A second fuse that the file does not name; fuses deeper in the set, such as one in a heater winding.",
	Source:  "the order plug, fuse, switch, load in the hot leg: trade practice",
	Remedy:  "Put the fuse first in the hot leg: narrow blade of a polarized plug, fuse, switch, load. Leave the neutral without a fuse; a pole of a two-pole switch may stay in it.",
	Caution: "A set with a blown fuse is not a dead set: unplug it and measure before touching. Check again cold and hot after the change.",
	Run: func(k *Case) []Finding {
		side := k.lineSide()
		var findings []Finding
		for _, name := range union(side.hot.fuses, side.neutral.fuses) {
			where := ""
			switch inHot := slices.Contains(side.hot.fuses, name); {
			case !inHot && side.plain:
				where = fmt.Sprintf("in the leg that the file calls neutral (%s); with a plain plug no one knows which leg that is, and with "+
					"one fuse alone the other leg has none", netlist.Visible(side.neutral.blade))
			case !inHot:
				where = fmt.Sprintf("in the neutral leg (%s): blown, it leaves the set on the hot one", netlist.Visible(side.neutral.blade))
			default:
				where = side.hot.comesBefore(k, name)
			}
			if where != "" {
				findings = append(findings, Finding{Signal: Caution, Parts: []string{name}, Message: fmt.Sprintf("fuse %s stands %s", name, where)})
			}
		}
		return findings
	},
}

// comesBefore tells what stands between the blade and a fuse of its leg, "" where nothing does.
func (l *leg) comesBefore(k *Case, fuse string) string {
	f := k.Set.Part(fuse).Detail.(*netlist.Fuse)
	before := setOf(k.oneWay()[0].Reached(l.blade, nil, func(ch analysis.Channel) bool {
		return ch.Part != fuse && k.beforeSwitch(ch)
	}))
	if !before[f.Ends[0]] && !before[f.Ends[1]] {
		return "behind a switch: a short in the switch or its leads is not covered"
	}
	if parts := k.hanging(before, l.other); len(parts) > 0 {
		return fmt.Sprintf("behind %s, which %s straight on the line: a short there is not covered", few(parts, 3), does(len(parts), "hang"))
	}
	return ""
}
