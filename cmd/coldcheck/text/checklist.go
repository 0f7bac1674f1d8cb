package text

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// elseTold is how many parts a check names for another result.
const elseTold = 4

// checkColumns are the columns of a table of checks.
func checkColumns(second string) []CheckColumn {
	return []CheckColumn{{Name: "between", width: 40}, {Name: second, width: 17}, {Name: "expect", width: 9}, {Name: "right", width: 19}, {Name: "read", width: 7}}
}

// Checklist tells what to measure of a set, and what to expect, to print and take to the bench.
func (p *Page) Checklist(l *diagnose.Checklist) {
	p.header(l.Circuit, "")
	for _, s := range ChecklistSections(l) {
		p.Blank()
		p.section(s)
	}
	p.Blank()
	p.Para("", ChecklistPromise)
}

// ChecklistPromise ends a checklist.
const ChecklistPromise = "The figures are what the wiring as described would give, a promise of nothing: a right figure at every line does not make a set fit to be touched."

// ChecklistSections are the parts of a checklist in words, in the order in which they are done.
func ChecklistSections(l *diagnose.Checklist) []*CheckSection {
	sections := []*CheckSection{coldChecks(l)}
	if l.BringingUp != nil {
		sections = append(sections, bringingUp(l))
	}
	sections = append(sections, hotChecks(l))
	if p := l.Mainly(); len(l.Heaters) > 0 || p != nil && len(p.Lines) > 0 {
		sections = append(sections, workingChecks(l))
	}
	if stresses := notable(l.Stresses); len(stresses) > 0 {
		sections = append(sections, stressesOf(l.Circuit.Set, stresses))
	}
	if l.Account != nil {
		sections = append(sections, readingsOf(l))
	}
	for _, s := range sections {
		s.inWordsOf(l.Circuit)
	}
	return sections
}

func coldChecks(l *diagnose.Checklist) *CheckSection {
	s := &CheckSection{Key: "cold", Title: "COLD", About: "ohms, plug out"}
	only := "Switches only"
	if len(l.Circuit.Controls) > 0 {
		only = "Switches and controls only"
	}
	s.say("Pull the plug. Discharge the reservoirs through a resistor and measure that they are empty. One lead stays at the first point, the other goes round. " +
		only + "; nothing else is touched. A meter's few volts do not show what leaks at working volts.")
	for _, metal := range l.Metals {
		if len(metal) > 1 {
			s.say("one piece of metal: " + phrase.List(phrase.Visible(metal)))
		}
	}
	if l.NotPaired {
		s.say(fmt.Sprintf("%d pieces of metal are too many to list each against each other. What is missing below you find by going from one to the next: open, or the ohms of what joins them.",
			len(l.Metals)))
	}
	if l.Unguessed {
		s.say("The set is large: what another reading would mean is left out, of these checks or of the hot ones, and the bands reckon with 10 % for the parts.")
	}
	if rest := controlsAtRest(l); rest != "" {
		s.say(rest)
	}
	t := s.table(checkColumns("when")...)
	for _, alike := range alikeChecks(l) {
		check := alike[0]
		t.row(cell(coldWhere(alike)), cell(StandWords(l.Circuit, check.When, check)), cell(ohmsWords(check.Expect)), cell(RangeWords(check)), readCell(false, alike...))
		if other := elseWords(check); other != "" {
			t.below(other)
		}
	}
	return s
}

// alikeChecks puts cold checks together that go from one place and read alike, in the order of the first of
// each.
func alikeChecks(l *diagnose.Checklist) [][]diagnose.Check {
	var all [][]diagnose.Check
	home := map[string]int{}
	for _, check := range slices.Concat(l.Cold, l.Joined) {
		key := fmt.Sprintf("%s %t %q %q %q", check.A, check.Tied, StandWords(l.Circuit, check.When, check), ohmsWords(check.Expect), RangeWords(check))
		k, ok := home[key]
		if !ok {
			home[key] = len(all)
			check.Lower, check.Higher = slices.Clone(check.Lower), slices.Clone(check.Higher) // they grow
			all = append(all, []diagnose.Check{check})
			continue
		}
		all[k] = append(all[k], check)
		first := &all[k][0]
		first.Lower, first.Higher = append(first.Lower, check.Lower...), append(first.Higher, check.Higher...)
	}
	return all
}

// coldWhere tells where the leads of some checks go that read alike.
func coldWhere(alike []diagnose.Check) string {
	from := netlist.Visible(alike[0].A)
	if alike[0].Tied {
		from = "both blades tied"
	}
	var to []string
	for _, c := range alike {
		to = append(to, netlist.Visible(c.B))
	}
	if len(to) == 1 {
		return from + ", " + to[0]
	}
	return from + ", each of " + phrase.List(to)
}

// whenWords tells the switch positions of a check, "any" where there are no others.
func whenWords(c *analysis.Circuit, when [][]analysis.Setting) string {
	if len(c.Switches) == 0 {
		return ""
	}
	total := 1
	for _, control := range c.Switches {
		total *= len(control.Positions)
	}
	if len(when) == total {
		return anyPosition
	}
	return settingsWords(c, when)
}

// StandWords is whenWords with the controls that are turned to an end.
func StandWords(c *analysis.Circuit, when [][]analysis.Setting, check diagnose.Check) string {
	words := phrase.TurnedAway(check.Controls)
	if at := whenWords(c, when); at != "" && (len(words) == 0 || at != anyPosition) {
		words = append([]string{at}, words...)
	}
	return strings.Join(words, ", ")
}

// controlsAtRest says where the controls stand, "" where there are none.
func controlsAtRest(l *diagnose.Checklist) string {
	if len(l.Circuit.Controls) == 0 {
		return ""
	}
	return "Controls at the middle, a rheostat at full, where a line does not say otherwise; those that read otherwise at an end are measured at both."
}

const anyPosition = "any position"

// settingsWords tells some combinations of switch positions by what they have in common.
func settingsWords(c *analysis.Circuit, when [][]analysis.Setting) string {
	var words []string
	product := 1
	for i, control := range c.Switches {
		var at []string
		for _, position := range control.Positions {
			for _, settings := range when {
				if settings[i].At == position {
					at = append(at, position)
					break
				}
			}
		}
		product *= len(at)
		if len(at) < len(control.Positions) {
			words = append(words, phrase.Setting(control.Name, at...))
		}
	}
	if product == len(when) {
		return strings.Join(words, ", ")
	}
	var each []string
	for _, settings := range when {
		each = append(each, strings.Join(phrase.Settings(settings), " "))
	}
	return strings.Join(each, "; ")
}

func ohmsWords(x float64) string {
	return phrase.Meter(diagnose.OhmsRead, x)
}

// RangeWords tells the band in which a check is right.
func RangeWords(c diagnose.Check) string {
	word := func(x float64) string { return phrase.Meter(c.Quantity, x) }
	switch {
	case c.Quantity == diagnose.OhmsRead && c.Expect >= diagnose.OhmsRange:
		return "over " + word(c.Low)
	case c.High < 0:
		return phrase.MeterRange(c.Quantity, c.Low, c.High)
	case c.Low <= 0 || word(c.Low) == word(0):
		return "under " + word(c.High)
	}
	return phrase.MeterRange(c.Quantity, c.Low, c.High)
}

// elseWords tells what another result would mean.
func elseWords(c diagnose.Check) string {
	var words []string
	if lower := partNames(c.Lower, true); lower != "" {
		words = append(words, "lower: "+lower)
	}
	higher := "higher or open: "
	if c.Expect <= 0.5 {
		higher = "open: "
	}
	if names := partNames(c.Higher, false); names != "" {
		words = append(words, higher+names)
	}
	return strings.Join(words, "; ")
}

// partNames names the parts of explanations, each once: of what lowers a reading with what it does.
func partNames(all []diagnose.Explanation, lower bool) string {
	var names []string
	seen := map[string]bool{}
	for i := range all {
		e := &all[i]
		if seen[e.Part] || e.Part == "" {
			continue
		}
		seen[e.Part] = true
		name := netlist.Visible(e.Part)
		if lower && len(e.Faults) == 1 && e.Faults[0].Cost == 0 {
			name += " (suspect)"
		}
		names = append(names, name)
	}
	return phrase.FewOf(names, elseTold, ", ", "more")
}

// heaterBar says that these are hot checks too, and what that means on the set at hand.
func heaterBar(l *diagnose.Checklist) string {
	if l.Hold() {
		return "These are hot checks too: make none of them until the readings and the file agree."
	}
	for _, h := range l.Hot {
		if h.Live || h.LiveReversed || h.Cleared {
			return "These are hot checks too, and metal of this set is live or may be: make them behind an isolating transformer only, " +
				"the meter's leads clipped on before the plug goes in, no hand on the set and nothing earthed near it."
		}
	}
	return "These are hot checks too: the cold lines come first, and no hand is on the set while the plug is in."
}

func stressesOf(set *netlist.Set, stresses []analysis.Stress) *CheckSection {
	s := &CheckSection{Key: "stresses", Title: "STRESSES", About: "the most volts across each capacitor, peak, nothing drawing current, against its rating"}
	t := s.table(CheckColumn{Name: "part", width: 8}, CheckColumn{Name: "between", width: 40}, CheckColumn{Name: "worst", width: 10},
		CheckColumn{Name: "rating", width: 10}, CheckColumn{Name: "verdict", unnamed: true, width: 24})
	for _, x := range stresses {
		d := set.Part(x.Part).Detail.(*netlist.Capacitor)
		rating, verdict := "none given", cell("")
		if x.Rating > 0 {
			rating = phrase.Figure(x.Rating) + " V"
			if x.Volts > x.Rating*1.01 {
				verdict = barCell("OVER")
			}
		}
		t.row(cell(x.Part), cell(netlist.Visible(d.Ends[0])+", "+netlist.Visible(d.Ends[1])), cell(phrase.Figure(x.Volts)+" V"), cell(rating), verdict)
	}
	return s
}

// smallStress: a capacitor under so many volts is not listed while that is less than a quarter of
// its rating, or it has none.
const smallStress = 20.0

// notable are the stresses worth a line.
func notable(all []analysis.Stress) []analysis.Stress {
	var worth []analysis.Stress
	for _, s := range all {
		if s.Volts >= smallStress || s.Volts > s.Rating/4 && s.Rating > 0 {
			worth = append(worth, s)
		}
	}
	return worth
}
