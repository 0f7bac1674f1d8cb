package text

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
)

// blank is where a figure is written in by hand.
const blank = "_______"

// checkWidths are the columns of the tables of checks: where, when, what to expect, the band, the
// blank.
var checkWidths = []int{40, 17, 9, 17, 7}

// elseTold is how many parts a check names for another result.
const elseTold = 4

// Checklist tells what to measure of a set, and what to expect, to print and take to the bench.
func (p *Page) Checklist(l *analysis.Checklist) {
	p.header(l.Circuit)
	p.Blank()
	p.coldChecks(l)
	p.Blank()
	p.hotChecks(l)
	if len(l.Heaters) > 0 {
		p.Blank()
		p.heaterChecks(l)
	}
	if stresses := told(l.Stresses); len(stresses) > 0 {
		p.Blank()
		p.stresses(l.Circuit.Set, stresses)
	}
	p.Blank()
	p.readings(l)
	p.Para("", "The figures are what the wiring as described would give, a promise of nothing: a right figure at every line does not make a set fit to be touched.")
}

func (p *Page) coldChecks(l *analysis.Checklist) {
	p.Title("COLD  ohms, plug out")
	p.Para("", "Pull the plug. Discharge the reservoirs through a resistor and measure that they are empty. One lead stays at the first point, the other goes round. "+
		"Switches only; nothing else is touched. A meter's few volts do not show what leaks at working volts.")
	for _, metal := range l.Metals {
		if len(metal) > 1 {
			p.Para("", "one piece of metal: "+List(VisibleAll(metal)))
		}
	}
	t := newSheet(checkWidths...)
	t.row("between", "when", "expect", "right", "read")
	for _, check := range l.Cold {
		c, named := coldWhere(check), l.Circuit
		t.row(c, whenWords(named, check.When), ohmsWords(check.Expect), bandWordsOf(check), blank)
		if other := elseWords(check); other != "" {
			t.below(other)
		}
	}
	for _, check := range l.Joined {
		t.row(coldWhere(check), whenWords(l.Circuit, check.When), ohmsWords(check.Expect), bandWordsOf(check), blank)
		if other := elseWords(check); other != "" {
			t.below(other)
		}
	}
	p.sheet(t)
}

func coldWhere(c analysis.Check) string {
	if c.Tied {
		return "both blades tied, " + netlist.Visible(c.B)
	}
	return netlist.Visible(c.A) + ", " + netlist.Visible(c.B)
}

// whenWords tells the switch positions of a check, "any" where there are no others.
func whenWords(c *analysis.Circuit, when [][]analysis.Setting) string {
	if len(c.Controls) == 0 {
		return ""
	}
	total := 1
	for _, control := range c.Controls {
		total *= len(control.Positions)
	}
	if len(when) == total {
		return "any position"
	}
	return settingsWords(c, when)
}

// settingsWords tells some combinations of switch positions by what they have in common.
func settingsWords(c *analysis.Circuit, when [][]analysis.Setting) string {
	var words []string
	product := 1
	for i, control := range c.Controls {
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
			words = append(words, positionWords(control, at))
		}
	}
	if product == len(when) {
		return strings.Join(words, ", ")
	}
	var each []string
	for _, settings := range when {
		each = append(each, strings.Join(rules.SettingsWords(settings), " "))
	}
	return strings.Join(each, "; ")
}

func ohmsWords(x float64) string {
	return rules.FigureWords(analysis.OhmsRead, x)
}

// bandWordsOf tells the band in which a check is right.
func bandWordsOf(c analysis.Check) string {
	word := func(x float64) string { return rules.FigureWords(c.Quantity, x) }
	switch {
	case c.Quantity == analysis.OhmsRead && c.Expect >= analysis.OhmsRange:
		return "over " + word(c.Low)
	case c.Low <= 0 || word(c.Low) == word(0):
		return "under " + word(c.High)
	}
	low, high := word(c.Low), word(c.High)
	figure, unit, _ := strings.Cut(low, " ")
	if strings.HasSuffix(high, " "+unit) {
		low = figure
	}
	return low + " to " + high
}

// elseWords tells what another result would mean.
func elseWords(c analysis.Check) string {
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
func partNames(all []analysis.Explanation, lower bool) string {
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
	return few(names, elseTold, ", ", "more")
}

func (p *Page) heaterChecks(l *analysis.Checklist) {
	p.Title("HEATERS  volts across each, " + strings.Join(append([]string{"plug as marked"}, rules.SettingsWords(l.Heaters[0].Settings)...), ", "))
	p.Para("", "One at nothing and another at the full line: the string is open at that other. All low: the mains, or a part in series. "+
		"One high and the rest low: the wrong tube, or a heater partly shorted. Clips are put on with the plug out.")
	p.Para("", heaterBar(l))
	read := blank
	if l.Hold() {
		read = "not yet"
	}
	t := &Table{Widths: checkWidths}
	t.Row("between", "tube", "expect", "right", "read")
	for _, h := range l.Heaters {
		t.Row(netlist.Visible(h.A)+", "+netlist.Visible(h.B), fmt.Sprintf("%s, %s V", h.Tube, digits(h.Rated)),
			rules.FigureWords(h.Quantity, h.Expect), bandWordsOf(h.Check), read)
	}
	p.Table(0, t)
}

// heaterBar says that these are hot checks too, and what that means on the set at hand.
func heaterBar(l *analysis.Checklist) string {
	if l.Hold() {
		return "These are hot checks too: make none of them until the readings and the file agree."
	}
	for _, h := range l.Hot {
		if h.Live || h.LiveTurned || h.Cleared {
			return "These are hot checks too, and metal of this set is live or may be: make them behind an isolating transformer only, " +
				"the meter's leads clipped on before the plug goes in, no hand on the set and nothing earthed near it."
		}
	}
	return "These are hot checks too: the cold lines come first, and no hand is on the set while the plug is in."
}

func (p *Page) stresses(set *netlist.Set, stresses []analysis.Stress) {
	p.Title("STRESSES  the most volts across each capacitor, peak, nothing drawing current, against its rating")
	t := &Table{Widths: []int{8, 40, 10, 10, 24}}
	t.Row("part", "between", "worst", "rating", "")
	for _, s := range stresses {
		d := set.Part(s.Part).Detail.(*netlist.Capacitor)
		rating, verdict := "none given", ""
		if s.Rating > 0 {
			rating = digits(s.Rating) + " V"
			if s.Volts > s.Rating*1.01 {
				verdict = "OVER"
			}
		}
		t.Row(s.Part, netlist.Visible(d.Ends[0])+", "+netlist.Visible(d.Ends[1]), digits(s.Volts)+" V", rating, verdict)
	}
	p.Table(0, t)
}

// smallStress: a capacitor under so many volts is not listed while that is less than a quarter of
// its rating, or it has none.
const smallStress = 20.0

// told are the stresses worth a line.
func told(all []analysis.Stress) []analysis.Stress {
	var told []analysis.Stress
	for _, s := range all {
		if s.Volts >= smallStress || s.Volts > s.Rating/4 && s.Rating > 0 {
			told = append(told, s)
		}
	}
	return told
}
