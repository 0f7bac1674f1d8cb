package text

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/rules"
)

// How much of a group is told before the rest is only counted.
const (
	faultsTold   = 8
	settingsTold = 6
	exceptTold   = 4
)

// States tells a table of states, folded. n is how many faults at once it holds.
func (p *Page) States(f *Fold, n int, filter analysis.Filter) {
	p.header(f.circuit)
	p.Para("", fmt.Sprintf("%s: %s; %s", counted(f.rows, "state"), f.spaceWords(), faultCount(n, len(f.faults)-1)))
	p.Blank()
	groups := f.sorted()
	quiet := slices.IndexFunc(groups, func(g *alike) bool { return g.band() == analysis.UnderLimit })
	if quiet < 0 {
		quiet = len(groups)
	}
	for _, g := range groups[:quiet] {
		p.stateGroup(f, g)
	}
	for _, g := range groups[quiet:] {
		if g.cleared {
			p.clearedGroup(f, g)
		}
	}
	for _, g := range groups[quiet:] {
		if !g.cleared {
			p.quietGroup(f, g, quiet == 0)
		}
	}
	p.Para("", "The figures are of the bare metal, as if no guard were on it. Live is over 5 mA, tingling over 0.5 mA AC (IEC 62368-1 table 4, AC and DC taken together; through the IEC 60990 body network).")
}

func faultCount(n, sets int) string {
	switch n {
	case 0:
		return "no fault"
	case 1:
		return fmt.Sprintf("no fault and each of %s", counted(sets, "fault"))
	}
	return fmt.Sprintf("no fault and each of %s of up to %d faults", counted(sets, "set"), n)
}

func (p *Page) stateGroup(f *Fold, g *alike) {
	head, colour := "LIVE", red
	if g.band() == analysis.Startles {
		head, colour = "TINGLES", orange
	}
	head = padded(head, headWidth)
	painted := p.paint(colour, strings.TrimRight(head, " "))
	p.para(head, painted+blanks(headWidth-columns(strings.TrimRight(head, " "))), f.pointsIn(g, g.band()))
	if g.band() == analysis.Live {
		if others := f.pointsIn(g, analysis.Startles); others != "" {
			p.sub("tingles", others)
		}
	}
	w := g.worst
	p.sub("most", fmt.Sprintf("%s, %s open, at %s: %s", current(w.reading), volts(w.reading), f.pointName(w.point), stateWords(w.state)))
	p.when(f, g)
	p.Blank()
}

// pointsIn names the points of a group that stand in a band, with the span of their currents.
func (f *Fold) pointsIn(g *alike, band analysis.Class) string {
	var words []string
	for _, class := range f.classes() {
		i := class[0]
		if g.bands[i] != band {
			continue
		}
		var names []string
		for _, j := range class {
			names = append(names, f.pointName(j))
		}
		words = append(words, List(names)+", "+span(g.least[i], g.most[i]))
	}
	return strings.Join(words, "; ")
}

func (f *Fold) pointName(i int) string { return guarded(&f.circuit.Points[f.points[i]]) }

// span tells the least and the most of two readings.
func span(least, most analysis.Reading) string {
	a, b := current(least), current(most)
	if a == b {
		return b
	}
	if unit := strings.TrimLeft(b, "0123456789."); unit == strings.TrimLeft(a, "0123456789.") && !strings.Contains(a, "and") {
		a = strings.TrimSuffix(a, unit)
	}
	return a + " to " + b
}

// when tells the states of a group: settings, and with each the sets of faults.
func (p *Page) when(f *Fold, g *alike) {
	lines := f.whenLines(g)
	for _, line := range lines[:min(len(lines), settingsTold)] {
		p.sub("when", line)
	}
	if more := len(lines) - settingsTold; more > 0 {
		p.sub("", fmt.Sprintf("and %d more combinations; --faults, --plug and --switch narrow the table, --format json has all", more))
	}
}

// whenLines puts the sets of faults that have a group in the same settings on one line.
func (f *Fold) whenLines(g *alike) []string {
	space := f.space()
	type where struct {
		phrases []string
		sets    []int
	}
	byPhrase := map[string]*where{}
	var order []*where
	for _, row := range g.sets {
		faults := f.faults[row.faults]
		phrases := space.describe(row.settings, func(label string) bool { return rectifierGone(label, faults) })
		key := strings.Join(phrases, "; or ")
		if byPhrase[key] == nil {
			byPhrase[key] = &where{phrases: phrases}
			order = append(order, byPhrase[key])
		}
		byPhrase[key].sets = append(byPhrase[key].sets, row.faults)
	}
	slices.SortStableFunc(order, func(a, b *where) int { return len(b.sets) - len(a.sets) })
	slices.SortStableFunc(order, func(a, b *where) int { return min(a.sets[0], 1) - min(b.sets[0], 1) })
	var lines []string
	for _, w := range order {
		lines = append(lines, few(w.phrases, 3, "; or ", "more such settings")+": "+f.faultSetWords(w.sets))
	}
	return lines
}

// faultSetWords tells sets of faults; nearly all of them by those that are missing.
func (f *Fold) faultSetWords(sets []int) string {
	all := len(f.faults)
	if len(sets) == all && all > 1 {
		return "with no fault, and whatever the fault"
	}
	if missing := all - len(sets); missing <= exceptTold && len(sets) > 2*exceptTold {
		var words []string
		for i := range f.faults {
			if !slices.Contains(sets, i) {
				words = append(words, f.setWords(i))
			}
		}
		if sets[0] == 0 {
			return "with no fault, and whatever the fault but " + List(words)
		}
		return "whatever the fault but " + List(words)
	}
	var words []string
	for _, i := range sets[:min(len(sets), faultsTold+1)] {
		words = append(words, f.setWords(i))
	}
	if len(sets) > faultsTold+1 {
		return strings.Join(words[:faultsTold], ", ") + fmt.Sprintf(", and with %d more", len(sets)-faultsTold)
	}
	return strings.Join(words, ", ")
}

func (f *Fold) setWords(i int) string {
	if len(f.faults[i]) == 0 {
		return "no fault"
	}
	return faultWords(f.faults[i])
}

// faultWords tells a set of faults: "C1 shorted with neutral lost".
func faultWords(faults []*analysis.Fault) string {
	var words []string
	for _, f := range faults {
		words = append(words, rules.FaultWords(f))
	}
	return strings.Join(words, " with ")
}

func (p *Page) clearedGroup(f *Fold, g *alike) {
	p.Para(padded("CLEARED", headWidth), fmt.Sprintf("%s short the line: a breaker opens, so they make nothing live and were not judged", counted(g.rows, "state")))
	p.when(f, g)
	p.Blank()
}

func (p *Page) quietGroup(f *Fold, g *alike, alone bool) {
	which := "In the other " + counted(g.rows, "state")
	if alone {
		which = "In " + counted(g.rows, "state")
	}
	text := which + " no touch point is over both 30 V AC and 0.5 mA AC, or 60 V and 2 mA DC (ES1)"
	if w := g.worst; w.point >= 0 && current(w.reading) != "0 mA" {
		text += fmt.Sprintf("; the most is %s, %s open, at %s: %s", current(w.reading), volts(w.reading), f.pointName(w.point), stateWords(w.state))
	}
	p.Para("", text+".")
	p.Blank()
}

// stateWords tells a state.
func stateWords(s analysis.State) string { return rules.StateWords(s) }
