package text

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/grouping"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// How much of a group is told before the rest is only counted.
const (
	faultsTold   = 8
	settingsTold = 6
	exceptTold   = 4
)

// States tells a table of states, folded. n is how many faults at once it holds.
func (p *Page) States(t *grouping.Table, n int) {
	p.header(t.Circuit, phrase.Counted(len(t.Points), "touch point"))
	p.Para("", fmt.Sprintf("%s: %s; %s", phrase.Counted(t.Rows, "state"), spaceWords(t), faultCount(n, len(t.Faults)-1)))
	p.Blank()
	groups := t.Groups()
	quiet := slices.IndexFunc(groups, func(g *grouping.Group) bool { return g.Class() == analysis.UnderLimit })
	if quiet < 0 {
		quiet = len(groups)
	}
	for _, g := range groups[:quiet] {
		p.stateGroup(t, g)
	}
	for _, g := range groups[quiet:] {
		if g.Cleared {
			p.clearedGroup(t, g)
		}
	}
	for _, g := range groups[quiet:] {
		if !g.Cleared {
			p.quietGroup(t, g, quiet == 0)
		}
	}
	p.Para("", "Figures are of the bare metal, as if no guard were on it. Live is over 5 mA, what startles over 0.5 mA AC (IEC 62368-1 table 4, AC and DC taken together, through the IEC 60990 body network).")
}

func faultCount(n, sets int) string {
	switch n {
	case 0:
		return "no fault"
	case 1:
		return fmt.Sprintf("no fault and each of %s", phrase.Counted(sets, "fault"))
	}
	return fmt.Sprintf("no fault and each of %s of up to %d faults", phrase.Counted(sets, "set"), n)
}

func (p *Page) stateGroup(t *grouping.Table, g *grouping.Group) {
	head, colour := "LIVE", red
	if g.Class() == analysis.Startles {
		head, colour = "STARTLES", orange
	}
	head = padded(head, headWidth)
	painted := p.paint(colour, strings.TrimRight(head, " "))
	p.para(head, painted+blanks(headWidth-columns(strings.TrimRight(head, " "))), p.pointsIn(t, g, g.Class()))
	if g.Class() == analysis.Live {
		if others := p.pointsIn(t, g, analysis.Startles); others != "" {
			p.sub("startle", others)
		}
	}
	w := g.Worst
	p.sub("most", fmt.Sprintf("%s, %s open, at %s: %s", phrase.Current(w.Reading), phrase.Open(w.Reading), pointName(t, w.Point), phrase.State(w.State)))
	p.when(t, g)
	p.Blank()
}

// pointsIn names the points of a group that stand in a band, with the span of their currents.
func (p *Page) pointsIn(t *grouping.Table, g *grouping.Group, band analysis.Class) string {
	var words []string
	for _, class := range t.Classes() {
		i := class[0]
		if g.Classes[i] != band {
			continue
		}
		var names []string
		for _, j := range class {
			names = append(names, pointName(t, j))
		}
		words = append(words, p.namesOnce(names)+", "+phrase.Range(g.Least[i], g.Most[i]))
	}
	return strings.Join(words, "; ")
}

// namesOnce tells some names in full the first time, and then by the first of them.
func (p *Page) namesOnce(names []string) string {
	all := phrase.List(names)
	if p.named[all] {
		return phrase.Few(names, 1)
	}
	if p.named == nil {
		p.named = map[string]bool{}
	}
	p.named[all] = true
	return all
}

func pointName(t *grouping.Table, i int) string {
	return phrase.Guarded(&t.Circuit.Points[t.Points[i]])
}

// when tells the states of a group: settings, and with each the sets of faults.
func (p *Page) when(t *grouping.Table, g *grouping.Group) {
	lines := whenLines(t, g)
	told := len(lines)
	if told > settingsTold+1 {
		told = settingsTold
	}
	for _, line := range lines[:told] {
		p.sub("when", line)
	}
	if more := len(lines) - told; more > 0 {
		p.sub("", fmt.Sprintf("and %d more combinations; --faults, --plug and --switch narrow the table, --format json has all", more))
	}
}

// whenLines puts the sets of faults that have a group in the same settings on one line.
func whenLines(t *grouping.Table, g *grouping.Group) []string {
	type where struct {
		phrases []string
		sets    []int
	}
	byPhrase := map[string]*where{}
	var order []*where
	for _, row := range g.Sets {
		faults := t.Faults[row.Faults]
		phrases := describe(t.Circuit, t.Space, row.Settings, func(label string) bool { return rectifierGone(label, faults) })
		key := strings.Join(phrases, "; or ")
		if byPhrase[key] == nil {
			byPhrase[key] = &where{phrases: phrases}
			order = append(order, byPhrase[key])
		}
		byPhrase[key].sets = append(byPhrase[key].sets, row.Faults)
	}
	slices.SortStableFunc(order, func(a, b *where) int { return len(b.sets) - len(a.sets) })
	slices.SortStableFunc(order, func(a, b *where) int { return min(a.sets[0], 1) - min(b.sets[0], 1) })
	var lines []string
	for _, w := range order {
		lines = append(lines, phrase.FewOf(w.phrases, 3, "; or ", "more such settings")+": "+faultSetWords(t, w.sets))
	}
	return lines
}

// faultSetWords tells sets of faults; nearly all of them by those that are missing.
func faultSetWords(t *grouping.Table, sets []int) string {
	all := len(t.Faults)
	if len(sets) == all && all > 1 {
		return "with no fault, and whatever the fault"
	}
	if missing := all - len(sets); missing <= exceptTold && len(sets) > 2*exceptTold {
		var words []string
		for i := range t.Faults {
			if !slices.Contains(sets, i) {
				words = append(words, setWords(t, i))
			}
		}
		if sets[0] == 0 {
			return "with no fault, and whatever the fault but " + phrase.List(words)
		}
		return "whatever the fault but " + phrase.List(words)
	}
	if others := len(sets) - 1; sets[0] == 0 && others > exceptTold {
		return fmt.Sprintf("no fault, and %d of the %d %s", others, all-1, faultNoun(t))
	}
	words := setsWords(t, sets)
	if len(words) > faultsTold+1 {
		return strings.Join(words[:faultsTold], ", ") + fmt.Sprintf(", and %d more", len(words)-faultsTold)
	}
	return strings.Join(words, ", ")
}

// faultNoun is what the sets of faults of a table are.
func faultNoun(t *grouping.Table) string {
	if slices.ContainsFunc(t.Faults, func(set []*analysis.Fault) bool { return len(set) > 1 }) {
		return "sets of faults"
	}
	return "faults"
}

// setsWords tell sets of faults, the several places at which one part fails alike together: "T1 insulation
// failed (line 1 to chassis; line 2 to chassis)".
func setsWords(t *grouping.Table, sets []int) []string {
	var words []string
	places := map[string][]string{}
	at := map[string]int{}
	for _, i := range sets {
		told := setWords(t, i)
		if len(t.Faults[i]) == 1 && len(t.Faults[i][0].Between) == 2 {
			place := " (" + phrase.Ends(t.Faults[i][0].Between[0], t.Faults[i][0].Between[1]) + ")"
			if what, ok := strings.CutSuffix(told, place); ok {
				if places[what] == nil {
					at[what] = len(words)
					words = append(words, "")
				}
				places[what] = append(places[what], strings.Trim(place, " ()"))
				words[at[what]] = what + " (" + strings.Join(places[what], "; ") + ")"
				continue
			}
		}
		words = append(words, told)
	}
	return words
}

func setWords(t *grouping.Table, i int) string {
	if len(t.Faults[i]) == 0 {
		return "no fault"
	}
	return phrase.FaultSet(t.Faults[i])
}

func (p *Page) clearedGroup(t *grouping.Table, g *grouping.Group) {
	p.Para(padded("SHORTS", headWidth), fmt.Sprintf("%s short the line: a breaker opens, so they were not judged", phrase.Counted(g.Rows, "state")))
	p.when(t, g)
	p.Blank()
}

func (p *Page) quietGroup(t *grouping.Table, g *grouping.Group, alone bool) {
	which := "In the other " + phrase.Counted(g.Rows, "state")
	if alone {
		which = "In " + phrase.Counted(g.Rows, "state")
	}
	text := which + " no touch point is over both 30 V AC and 0.5 mA AC, or 60 V and 2 mA DC (ES1)"
	if w := g.Worst; w.Point >= 0 && phrase.Current(w.Reading) != "0 mA" {
		text += fmt.Sprintf("; the most is %s, %s open, at %s: %s", phrase.Current(w.Reading), phrase.Open(w.Reading), pointName(t, w.Point), phrase.State(w.State))
	}
	p.Para("", text+".")
	p.Blank()
}

// describe tells settings of a space, by their numbers, in as few phrases as its axes allow: "plug
// reversed, S1 on". lacks tells rectifiers that cannot conduct in these states, and need no word.
func describe(c *analysis.Circuit, s *grouping.Space, numbers []int, lacks func(string) bool) []string {
	var phrases []string
	for _, product := range s.Products(numbers) {
		phrases = append(phrases, productWords(c, s.Values(product), lacks))
	}
	return phrases
}

// productWords tells a product by its values on each axis on which there are others too.
func productWords(c *analysis.Circuit, axes []grouping.Values, lacks func(string) bool) string {
	var words []string
	last := len(axes) - 1
	for i, v := range axes {
		others := v.Lacks
		if i == last {
			others = slices.DeleteFunc(slices.Clone(others), lacks)
		}
		switch {
		case len(others) == 0:
		case i == 0:
			words = append(words, phrase.Plug(analysis.Polarity(v.Has[0])))
		case i == last:
			words = append(words, phrase.Rectifiers(v.Has))
		case i <= len(c.Switches):
			words = append(words, phrase.Setting(c.Switches[i-1].Name, v.Has...))
		default:
			words = append(words, phrase.TurnedTo(c.Controls[i-1-len(c.Switches)].Name, v.Has))
		}
	}
	if len(words) == 0 {
		return everySetting(len(axes) > len(c.Switches)+2 && slices.ContainsFunc(axes[1+len(c.Switches):last], func(v grouping.Values) bool { return len(v.Has) > 1 }))
	}
	return strings.Join(words, ", ")
}

// everySetting tells that there is nothing to set apart.
func everySetting(controls bool) string {
	if controls {
		return "every plug polarity and position of switches and controls"
	}
	return "every plug polarity and switch position"
}

// rectifierGone reports whether a rectifier's tube is pulled by one of the faults.
func rectifierGone(label string, faults []*analysis.Fault) bool {
	part, _, _ := strings.Cut(label, ":")
	return slices.ContainsFunc(faults, func(f *analysis.Fault) bool { return f.Kind == analysis.Pulled && f.Part == part })
}

// spaceWords tells how many states there are, and of what.
func spaceWords(t *grouping.Table) string {
	polarities := len(t.Space.Axis(0))
	words := []string{fmt.Sprintf("%d plug %s", polarities, phrase.Pick(polarities, "polarity", "polarities"))}
	for i, control := range t.Circuit.Switches {
		words = append(words, fmt.Sprintf("%s %s", netlist.Visible(control.Name), phrase.Or(phrase.Visible(t.Space.Axis(i+1)))))
	}
	turned := false
	for i, control := range t.Circuit.Controls {
		if at := t.Space.Axis(1 + len(t.Circuit.Switches) + i); len(at) > 1 || t.Circuit.Controls[i].Positions[0] != at[0] {
			words, turned = append(words, phrase.TurnedTo(control.Name, at)), true
		}
	}
	if len(t.Circuit.Controls) > 0 && !turned {
		words = append(words, "controls at the middle or at full")
	}
	rectifiers := t.Space.Axis(1 + len(t.Circuit.Switches) + len(t.Circuit.Controls))
	small := slices.Contains(rectifiers, analysis.SmallDiodes)
	if n := len(rectifiers) - 1 - one(small); n > 0 {
		words = append(words, fmt.Sprintf("%s conducting in turn", phrase.Counted(n, "rectifier")))
	}
	if small {
		words = append(words, "then all small diodes")
	}
	return strings.Join(words, ", ")
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
