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
		for _, x := range side.branchFuses() {
			findings = append(findings, Finding{Signal: Caution, Parts: append([]string{x.fuse}, x.behind...), Remedy: side.fuseRemedy(), Message: side.tellBranch(x)})
		}
		return findings
	},
}

// branchFuse is a fuse that a leg reaches through resistors and the like alone.
type branchFuse struct {
	fuse   string
	l      *lineConductor
	behind []string // what stands between the blade and the fuse
}

// branchFuses are the fuses behind a resistor, a thermistor or a coil of either leg that carry on to
// something that works: a rectifier, a heater, a lamp, a motor or a winding. A fuse of which resistors
// alone hang is none of the line's.
func (s *lineSide) branchFuses() []branchFuse {
	var all []branchFuse
	line := setOf(union(s.hot.fuses, s.neutral.fuses))
	for p, f := range details[*netlist.Fuse](s.circuit.Set) {
		for _, l := range []*lineConductor{s.hot, s.neutral} {
			if behind := s.behindSeries(l, f.Ends); len(behind) > 0 && !line[p.Name] {
				all = append(all, branchFuse{p.Name, l, behind})
				break
			}
		}
	}
	return all
}

// behindSeries lists the parts in series through which a leg reaches one end of a fuse, where the other
// end leads on through something that works to the other leg; nil where it does not.
func (s *lineSide) behindSeries(l *lineConductor, ends [2]string) []string {
	series := func(ch analysis.Channel) bool { return conducts(ch) && !s.isFuse(ch.Part) || s.inSeries(ch) }
	for _, w := range s.sound {
		other := w.Reached(l.other.blade, nil, conducts)
		near := w.Reached(l.blade, other, series)
		for i, end := range ends {
			if w.Joined(l.blade, l.other.blade) || !slices.Contains(near, end) || slices.Contains(near, ends[1-i]) {
				continue
			}
			behind := setOf(w.Reached(ends[1-i], slices.Concat(near, other), func(ch analysis.Channel) bool { return conducts(ch) || s.inSeries(ch) }))
			beyond := setOf(w.Reached(l.other.blade, near, func(ch analysis.Channel) bool { return notInsulating(ch) && !behind[ch.A] && !behind[ch.B] }))
			works := func(ch analysis.Channel) bool {
				far := ch.A
				if behind[far] {
					far = ch.B
				}
				if !behind[ch.A] && !behind[ch.B] || !beyond[far] {
					return false
				}
				// A rectifier at the other blade has its load on this side: the fuse is behind the rectifier.
				return ch.Sort == analysis.Load && !s.inSeries(ch) || ch.Sort == analysis.Rectifying && !slices.Contains(other, far)
			}
			if path, ok := w.Shortest(l.blade, end, analysis.Query{Avoid: other, Pass: series}); ok && slices.ContainsFunc(w.Channels, works) {
				return partsOf(&analysis.Path{Steps: slices.DeleteFunc(path.Steps, func(step analysis.Step) bool { return conducts(step.Channel) })})
			}
		}
	}
	return nil
}

// inSeries reports whether a channel is of a part that stands in series with what works: a resistor, a
// thermistor, a potentiometer, a coil.
func (s *lineSide) inSeries(ch analysis.Channel) bool {
	switch s.circuit.Set.Part(ch.Part).Kind {
	case netlist.KindResistor, netlist.KindThermistor, netlist.KindPotentiometer, netlist.KindCoil:
		return ch.Sort == analysis.Load
	}
	return false
}

// tellBranch says where a fuse of a branch stands, and what of its leg it leaves out.
func (s *lineSide) tellBranch(x branchFuse) string {
	text := fmt.Sprintf("fuse %s stands in one branch of the %s, behind %s: ", x.fuse, s.leg(x.l), phrase.Few(x.behind, 3))
	bare := slices.DeleteFunc(slices.Clone(x.l.unfused), func(part string) bool { return slices.Contains(x.behind, part) })
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
