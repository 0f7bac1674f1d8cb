package rules

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/lineside"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// y4Volts is the most line volts that class Y4 is made for (IEC 60384-14: under 150 V).
const y4Volts = 150.0

// CapacitorClass finds capacitors that have no safety class where one is asked for.
var CapacitorClass = &Rule{
	Name:    "capacitor-class",
	Signal:  Caution,
	Signals: "CAUTION",
	Looks: "a capacitor between the line and metal that a hand can reach, alone or one of several in series, that is not class Y or of a class that is not " +
		"made for this line; one across the line that is neither class X nor Y; where one-capacitor does not tell the same",
	Why: "A class Y capacitor is made and tested so that it does not fail short; its volts, its impulse test and its flame test are for " +
		"the line. A plain 600 V part, new or old, has none of these, whatever its DC volts: shorted, it puts the line on the metal.",
	Blind: "Whether the mark is genuine; the capacitor's size (that is told as touch current); a capacitor in a set whose metal is on the " +
		"line anyway, where no capacitor stands in between.",
	Source: "IEC 60384-14 (classes X and Y); IEC 60950-1 table 1C (class Y across insulation, a subclass of IEC 60384-14 across the line)",
	Remedy: "To metal: fit class Y2 or Y1, 4.7 nF or less. Across the line: class X2, behind the fuse and the switch. Where no classed part can " +
		"serve, as for a tuning gang, put a class Y capacitor in series with it.",
	Caution: "The class says nothing of the current that the capacitor passes while good: keep it small. Unplug and discharge before " +
		"soldering; check again cold and hot.",
	Subject: OfPart,
	Run: func(k *Facts) []Finding {
		g := k.gapsThroughUnclassed()
		var findings []Finding
		for p, c := range details[*netlist.Capacitor](k.Set) {
			if metals := k.keptOff(g, p.Name, c.Ends[0], c.Ends[1]); len(metals) > 0 {
				why := notY(c, k.lineVolts())
				if why == noClassY {
					metals = slices.DeleteFunc(metals, func(m *Metal) bool { return k.toldByOneCapacitor(m, p.Name) })
				}
				if why != "" && len(metals) > 0 {
					f := Finding{
						Signal: Caution, Nodes: nodesOf(metals), Parts: []string{p.Name},
						Message: fmt.Sprintf("%s stands between the line and %s and is %s", phrase.Capacitor(p.Name, c), metalNames(metals), why),
					}
					if of := WindingCapacitance(k.Set, p); of != "" {
						f.Remedy = strayRemedy(p.Name, of)
					}
					findings = append(findings, f)
				}
				continue
			}
			if !strings.Contains(c.Class, "X") && notY(c, k.Set.Volts) != "" && k.line.EverAcross(c.Ends[0], c.Ends[1]) {
				findings = append(findings, Finding{
					Signal: Caution, Parts: []string{p.Name},
					Message: fmt.Sprintf("%s lies across the line and is not class X", phrase.Capacitor(p.Name, c)),
				})
			}
		}
		return foldClasses(findings)
	},
}

// gapsThroughUnclassed are the gaps with capacitors that are not fit to stand between line and hand taken
// for none: each of a chain of them is all that stands, once the others let go.
func (k *Facts) gapsThroughUnclassed() *lineside.Gaps {
	unfit := map[string]bool{}
	for p, c := range details[*netlist.Capacitor](k.Set) {
		unfit[p.Name] = notY(c, k.lineVolts()) != ""
	}
	return k.line.GapsPassing(k.foremostNodes(), func(ch analysis.Channel) bool { return ch.Sort == analysis.Capacitive && unfit[ch.Part] })
}

// toldByOneCapacitor reports whether one-capacitor tells of a part at a piece of metal: it says the same,
// and more.
func (k *Facts) toldByOneCapacitor(m *Metal, part string) bool {
	return slices.ContainsFunc(k.soles, func(s *sole) bool {
		return s.has(part) && s.at(m) && k.failureOf(s.fault) == CapacitorShorts
	})
}

// classVolts is the most volts of a line, to earth, that each class Y is made for (IEC 60384-14; Y1 and Y2 by
// its newer editions).
var classVolts = []struct {
	class string
	volts float64
}{{"Y4", y4Volts}, {"Y3", 250}, {"Y2", 300}, {"Y1", 500}}

// noClassY is said of a capacitor without the class.
const noClassY = "not class Y"

// notY tells why a capacitor may not stand between line and hand, "" where it may.
func notY(c *netlist.Capacitor, lineVolts float64) string {
	switch {
	case !strings.Contains(c.Class, "Y"):
		return noClassY
	case c.RatingAC && c.Rating > 0 && c.Rating < lineVolts:
		return fmt.Sprintf("rated %s, below the %s of this line", phrase.Rating(c), phrase.Volts(lineVolts))
	}
	for _, of := range classVolts {
		if strings.Contains(c.Class, of.class) && lineVolts > of.volts {
			return fmt.Sprintf("class %s, made for lines under %s", of.class, phrase.Volts(of.volts))
		}
	}
	return ""
}

// mostClasses is how many capacitors are told one by one.
const mostClasses = 3

// foldClasses tells many capacitors to the same metal in one finding.
func foldClasses(findings []Finding) []Finding {
	var folded, rest []Finding
	count := map[string]int{}
	for _, f := range findings {
		count[f.Node()]++
	}
	at := map[string]int{}
	for _, f := range findings {
		if f.Node() == "" || count[f.Node()] <= mostClasses {
			rest = append(rest, f)
			continue
		}
		i, seen := at[f.Node()]
		if !seen {
			i = len(folded)
			at[f.Node()] = i
			folded = append(folded, Finding{Signal: Caution})
		}
		folded[i].Nodes, folded[i].Parts = union(folded[i].Nodes, f.Nodes), append(folded[i].Parts, f.Parts...)
	}
	for i := range folded {
		f := &folded[i]
		f.Message = fmt.Sprintf("%d capacitors stand between the line and %s without a class Y mark that serves there: %s",
			len(f.Parts), phrase.Few(phrase.Visible(f.Nodes), 3), phrase.Few(f.Parts, 8))
	}
	return append(folded, rest...)
}
