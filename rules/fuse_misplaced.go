package rules

import (
	"fmt"
	"slices"

	"coldcheck/analysis/lineside"
	"coldcheck/rules/phrase"
)

// FuseMisplaced finds a fuse where it does not protect what it should.
var FuseMisplaced = &Rule{
	Name:    "fuse-misplaced",
	Signal:  Caution,
	Signals: "CAUTION",
	Looks:   "a fuse in the neutral leg, behind the switch, behind a part that draws current, or in one branch alone, also behind a resistor",
	Why: "A blown fuse in the neutral leg leaves the whole set on the hot one, dead to the eye and live to the hand. A fuse behind " +
		"the switch or behind a part does not cover a short in what comes before it.",
	Blind:   "A second fuse that the file does not name; fuses deeper in the set, such as one in a heater winding or behind a rectifier.",
	Source:  "the order plug, fuse, switch, load in the hot leg: trade practice",
	Remedy:  "Put the fuse first in the hot leg: narrow blade of a polarized plug, fuse, switch, load. Leave the neutral without a fuse; a pole of a two-pole switch may stay in it.",
	Caution: "A set with a blown fuse is not a dead set: unplug it and measure before touching. Check again cold and hot after the change.",
	Subject: OfLine,
	Run: func(k *Facts) []Finding {
		side := k.line
		var findings []Finding
		uncovered := map[string]bool{} // parts that are said to stand before the fuse
		for _, name := range side.Fuses() {
			where := ""
			switch inHot, inNeutral := slices.Contains(side.Hot.Fuses, name), slices.Contains(side.Neutral.Fuses, name); {
			case k.bothHot() != "" && !(len(side.Hot.Fuses) > 0 && len(side.Neutral.Fuses) > 0):
				where = k.inOneOfTwo(inHot)
			case inHot:
				where = k.comesBefore(side.Hot, name, uncovered)
			case k.bothHot() != "" && inNeutral:
				where = k.comesBefore(side.Neutral, name, uncovered)
			default:
				where = k.inNeutral()
			}
			if where != "" {
				findings = append(findings, Finding{Signal: Caution, Parts: []string{name}, Remedy: k.fuseRemedy(), Message: fmt.Sprintf("fuse %s stands %s", name, where)})
			}
		}
		bare := slices.DeleteFunc(slices.Clone(side.Hot.Unfused), func(part string) bool { return uncovered[part] })
		if fuses := side.Hot.Fuses; len(fuses) > 0 && len(bare) > 0 {
			findings = append(findings, Finding{
				Signal: Caution, Parts: slices.Clone(fuses), Remedy: k.fuseRemedy(),
				Message: fmt.Sprintf("%s %s a branch alone: %s %s on the %s with no fuse ahead",
					fuseNames(fuses), phrase.Verb(len(fuses), "cover"), phrase.Few(bare, 4), phrase.Verb(len(bare), "hang"), k.hotLeg()),
			})
		}
		for _, x := range side.BranchFuses() {
			findings = append(findings, Finding{Signal: Caution, Parts: append([]string{x.Fuse}, x.Behind...), Remedy: k.fuseRemedy(), Message: k.tellBranch(x)})
		}
		return findings
	},
}

// tellBranch says where a fuse of a branch stands, and what of its leg it leaves out.
func (k *Case) tellBranch(x lineside.BranchFuse) string {
	text := fmt.Sprintf("fuse %s stands in one branch of the %s, behind %s: ", x.Fuse, k.leg(x.Conductor), phrase.Few(x.Behind, 3))
	bare := slices.DeleteFunc(slices.Clone(x.Conductor.Unfused), func(part string) bool { return slices.Contains(x.Behind, part) })
	if len(bare) == 0 {
		return text + "a short in what stands before it is not covered"
	}
	return text + fmt.Sprintf("%s %s on that leg with no fuse ahead", phrase.Few(bare, 4), phrase.Verb(len(bare), "hang"))
}

func fuseNames(fuses []string) string {
	if len(fuses) == 1 {
		return "fuse " + fuses[0]
	}
	return "fuses " + phrase.List(fuses)
}

// hotLeg names the conductor written as hot.
func (k *Facts) hotLeg() string {
	if k.bothHot() != "" {
		return k.leg(k.line.Hot)
	}
	return fmt.Sprintf("hot leg (%s)", bladeOf(k.line.Hot))
}

// fuseRemedy is where fuses go where both legs are hot, "" else.
func (k *Case) fuseRemedy() string {
	if k.bothHot() == "" {
		return ""
	}
	return legRemedy
}

// inOneOfTwo tells what a fuse in one leg alone does where both are hot.
func (k *Facts) inOneOfTwo(inHot bool) string {
	l := k.line.Neutral
	if inHot {
		l = k.line.Hot
	}
	return fmt.Sprintf("in one leg alone (%s), and %s: blown, it leaves the set on the other (%s), in which there is none", bladeOf(l), k.bothHot(), bladeOf(l.Other))
}

// inNeutral tells what a fuse in the neutral leg does.
func (k *Facts) inNeutral() string {
	blade := bladeOf(k.line.Neutral)
	switch {
	case !k.plainPlug():
		return fmt.Sprintf("in the neutral leg (%s): blown, it leaves the set on the hot one", blade)
	case len(k.line.Hot.Fuses) > 0:
		return fmt.Sprintf("in the leg that the file calls neutral (%s); with a plain plug no one knows which leg that is, and blown alone "+
			"it leaves the set on the other", blade)
	}
	return fmt.Sprintf("in the leg that the file calls neutral (%s); with a plain plug no one knows which leg that is, and with "+
		"one fuse alone the other leg has none", blade)
}

// comesBefore tells what stands between the blade and a fuse of its leg, "" where nothing does, or
// another fuse. What hangs there is put down as uncovered.
func (k *Facts) comesBefore(l *lineside.Conductor, fuse string, uncovered map[string]bool) string {
	parts, behindSwitch := k.line.BeforeFuse(l, fuse)
	if behindSwitch {
		return "behind a switch: a short in the switch or its leads is not covered"
	}
	if len(parts) == 0 {
		return ""
	}
	for _, part := range parts {
		uncovered[part] = true
	}
	return fmt.Sprintf("behind %s, which %s straight on the line: a short there is not covered", phrase.Few(parts, 3), phrase.Verb(len(parts), "hang"))
}
