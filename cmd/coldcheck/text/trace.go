package text

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/grouping"
	"coldcheck/analysis/trace"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// Traces tells the paths, point by point; states with the same paths and the same figures once.
func (p *Page) Traces(c *analysis.Circuit, traces []trace.Trace) {
	p.header(c, phrase.Counted(len(c.Points), "touch point"))
	space := grouping.NewSpace(c)
	for _, x := range c.NormalAtRest() {
		space.Add(x)
	}
	for _, t := range traces { // with a control elsewhere, which is then told
		t.State.Rectifier = ""
		space.Add(t.State)
	}
	for i := 0; i < len(traces); {
		n := i + 1
		for n < len(traces) && traces[n].To == traces[i].To {
			n++
		}
		if traces[i].Metal == traces[i].To {
			p.Blank()
			p.tracesTo(c, space, traces[i:n])
		}
		i = n
	}
	p.Blank()
	p.Para("", "Paths are those of the wiring with no fault, their safeguards what would have to break down. Figures are through the IEC 60990 body network to earth, the worst with no rectifier or any one conducting, as if no guard were there.")
}

// traced are paths from one node, and what each state drives along them.
type traced struct {
	trace.Trace
	lines []string // the paths
	drive []*driven
}

// driven is a figure, and the states that drive it.
type driven struct {
	trace.Trace
	states []analysis.State
}

func (p *Page) tracesTo(c *analysis.Circuit, space *grouping.Space, traces []trace.Trace) {
	name := netlist.Visible(traces[0].To)
	if traces[0].Point != nil {
		name = phrase.Guarded(traces[0].Point)
	}
	names := []string{name}
	for _, point := range traces[0].With {
		names = append(names, phrase.Guarded(point))
	}
	if len(names) > 1 {
		names[len(names)-1] += onePiece
	}
	p.Para("", p.paint(bold, "to "+phrase.List(names)))
	for _, g := range gathered(c, traces) {
		p.trace(c, space, g)
	}
}

// gathered puts traces with the same paths together, the worst figure first.
func gathered(c *analysis.Circuit, traces []trace.Trace) []*traced {
	var groups []*traced
	for _, t := range traces {
		lines := pathLines(c.Set, t)
		at := slices.IndexFunc(groups, func(g *traced) bool { return g.From == t.From && g.Side == t.Side && slices.Equal(g.lines, lines) })
		if at < 0 {
			at = len(groups)
			groups = append(groups, &traced{Trace: t, lines: lines})
		}
		g := groups[at]
		key := func(t trace.Trace) string {
			return t.State.Rectifier + "\x00" + figuresOf(t) + "\x00" + disagreement(t)
		}
		k := slices.IndexFunc(g.drive, func(d *driven) bool { return key(d.Trace) == key(t) })
		if k < 0 {
			k = len(g.drive)
			g.drive = append(g.drive, &driven{Trace: t})
		}
		g.drive[k].states = append(g.drive[k].states, t.State)
	}
	worse := func(a, b trace.Trace) int { return cmp.Compare(b.Reading.Severity(), a.Reading.Severity()) }
	for _, g := range groups {
		slices.SortStableFunc(g.drive, func(a, b *driven) int { return worse(a.Trace, b.Trace) })
	}
	slices.SortStableFunc(groups, func(a, b *traced) int { return worse(a.drive[0].Trace, b.drive[0].Trace) })
	return groups
}

func (p *Page) trace(c *analysis.Circuit, space *grouping.Space, g *traced) {
	from := netlist.Visible(g.From)
	said := phrase.PlugOf(c, g.State.Plug) != phrase.Plug(g.State.Plug) // by the words for the plug
	if g.Side != "" && !(said && g.Side == trace.FromHot) {
		from += " (" + sideWords(c, g.Side) + ")"
	}
	p.Para("  from ", from)
	for _, d := range g.drive {
		p.Para("    reads ", fmt.Sprintf("%s (%s)", figuresOf(d.Trace), settingsOf(c, space, d.states)))
		if words := disagreement(d.Trace); words != "" {
			p.Para("    but   ", words)
		}
	}
	for _, line := range g.lines {
		p.Para("    path  ", line)
	}
}

// sideWords tells a side of the supply: where there is no neutral, each is a leg alone.
func sideWords(c *analysis.Circuit, side string) string {
	if c.BothHot() {
		return "one leg of two"
	}
	return side
}

// settingsOf tells in what settings some states stand, of all the normal ones.
func settingsOf(c *analysis.Circuit, space *grouping.Space, states []analysis.State) string {
	rectifier := states[0].Rectifier
	numbers := make([]int, 0, len(states))
	for _, x := range states {
		x.Rectifier = ""
		if n, known := space.Number(x); known {
			numbers = append(numbers, n)
		}
	}
	words := strings.Join(describe(c, space, numbers, func(string) bool { return false }), "; or ")
	if rectifier != "" {
		words += "; " + phrase.Rectifiers([]string{rectifier})
	}
	return words
}

func figuresOf(t trace.Trace) string {
	words := fmt.Sprintf("%s through a body, %s open", phrase.Current(t.Reading), phrase.Open(t.Reading))
	if t.Cleared {
		return words + ", until the breaker opens: this state shorts the line"
	}
	return words + ": " + phrase.Band(t.Reading.Class())
}

func pathLines(set *netlist.Set, t trace.Trace) []string {
	if len(t.Paths) == 0 {
		return []string{"none, not even through safeguards"}
	}
	var lines []string
	for _, path := range t.Paths {
		lines = append(lines, Path(set, path)+"; "+safeguards(set, path))
	}
	return lines
}

// safeguards tells how many safeguards stand in a path, and which parts they are.
func safeguards(set *netlist.Set, path analysis.Path) string {
	if len(path.Barriers()) == 0 {
		return "nothing between"
	}
	return fmt.Sprintf("%s: %s", phrase.Counted(path.Cost(), "safeguard"), barriers(set, path))
}

// disagreement tells where paths and figures do not say the same, and what explains it.
func disagreement(t trace.Trace) string {
	switch t.Disagree {
	case trace.CannotCarry:
		if t.Tied {
			return "no more than that comes: conductors tie the point to the other side of the line, or to an earth, in this state"
		}
		return "the path without safeguards cannot carry 0.5 mA in this state: what it leads through, or what else hangs on the point, holds it down"
	case trace.CarriesYet:
		return "that comes while every safeguard still stands: a capacitor or a resistor lets current through, or there are ways beside these"
	case trace.NoPath:
		return "there is current without a path from here: look at the other conductor, and at capacitors between windings"
	}
	return ""
}
