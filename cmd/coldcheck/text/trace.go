package text

import (
	"fmt"
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
	p.Para("", "Paths are those of the wiring with no fault. A path's safeguards are what would have to break down in it; the figures are through the IEC 60990 body network to earth, the worst with no rectifier or any one conducting, as if no guard were there.")
}

// traced is states that a point is key for together.
type traced struct {
	trace.Trace
	states []analysis.State
	lines  []string // its paths
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
		names[len(names)-1] += " (one piece of metal)"
	}
	p.Para("", p.paint(bold, "to "+phrase.List(names)))
	var groups []*traced
	byWords := map[string]*traced{}
	for _, t := range traces {
		lines := pathLines(c.Set, t)
		key := t.From + "\x00" + t.State.Rectifier + "\x00" + figuresOf(t) + "\x00" + strings.Join(lines, "\x00")
		home := byWords[key]
		if home == nil {
			home = &traced{Trace: t, lines: lines}
			byWords[key] = home
			groups = append(groups, home)
		}
		home.states = append(home.states, t.State)
	}
	for _, g := range groups {
		p.trace(c, space, g)
	}
}

func (p *Page) trace(c *analysis.Circuit, space *grouping.Space, g *traced) {
	from := netlist.Visible(g.From)
	said := phrase.PlugOf(c, g.State.Plug) != phrase.Plug(g.State.Plug) // by the words for the plug
	if g.Side != "" && !(said && g.Side == trace.FromHot) {
		from += " (" + sideWords(c, g.Side) + ")"
	}
	p.Para("  from ", fmt.Sprintf("%s; %s", from, settingsOf(c, space, g.states)))
	p.Para("    reads ", figuresOf(g.Trace))
	for _, line := range g.lines {
		p.Para("    path  ", line)
	}
	if words := disagreement(g.Trace); words != "" {
		p.Para("    but   ", words)
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
