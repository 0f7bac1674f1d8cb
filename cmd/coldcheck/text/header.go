package text

import (
	"fmt"
	"math"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// header tells which set it is, what was found in it, or else what can be touched, and on what bench it
// stands.
func (p *Page) header(c *analysis.Circuit, found string) {
	p.plug = c
	p.heading(netlist.Visible(c.Set.Name), Mains(c.Set))
	if found != "" {
		p.Para("", described(c)+"; "+found)
	} else {
		p.Para("", Inventory(c))
	}
	if on := OnBuildingEarth(c.Set); on != "" {
		p.Para("", on)
	}
	p.supply(c)
}

// heading is the set's name in bold, the mains at the right edge.
func (p *Page) heading(name, mains string) {
	if !p.colour || columns(name)+columns(mains)+2 > p.width {
		p.both(name, mains)
		return
	}
	p.Line(p.paint(bold, name) + blanks(p.width-columns(name)-columns(mains)) + mains)
}

func Mains(set *netlist.Set) string {
	return netlist.FormatValue(set.Volts, netlist.Volt) + " " + netlist.FormatValue(set.Hertz, netlist.Hertz)
}

// Inventory tells what the file describes: the plug, what switches, how many parts and nodes, what
// can be touched.
func Inventory(c *analysis.Circuit) string {
	var points []string
	for k := range c.Points {
		points = append(points, phrase.Guarded(&c.Points[k]))
	}
	return described(c) + "; touch points: " + strings.Join(points, ", ")
}

// described tells the plug, what switches, how many parts and nodes there are.
func described(c *analysis.Circuit) string {
	plug, detail := c.Set.Plug()
	words := []string{fmt.Sprintf("%s plug %s", detail.Style, plug.Name)}
	for _, control := range c.Switches {
		words = append(words, fmt.Sprintf("%s %s", c.Set.Part(control.Name).Kind, control.Name))
	}
	if len(c.Switches) == 0 {
		words = append(words, "no switch")
	}
	return fmt.Sprintf("%s; %s, %s", strings.Join(words, ", "), phrase.Counted(len(c.Set.Parts), "part"), phrase.Counted(len(c.Set.Nodes), "node"))
}

// OnBuildingEarth says which parts stand on the building's earth, "" where none does.
func OnBuildingEarth(set *netlist.Set) string {
	var names []string
	for _, p := range set.Parts {
		on := p.Frame == netlist.BuildingEarth
		for _, t := range p.Terminals {
			on = on || t.Node == netlist.BuildingEarth
		}
		if on {
			names = append(names, p.Name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "on building earth (a rod, a pipe; not the chassis, not B-minus): " + strings.Join(names, ", ")
}

// NotAtNeutral tells what of the mains is earthed, and what that makes of the two legs, "" where it is
// the neutral, or where the bench's transformer stands between.
func NotAtNeutral(c *analysis.Circuit) string {
	each := func(volts float64) string { return phrase.Figure(volts) + " V" }
	switch c.Earthed() {
	case netlist.EarthedMidpoint:
		return "mains earthed at their midpoint: both legs are hot, each " + each(c.Set.Volts/2) + " to earth"
	case netlist.EarthedStar:
		return "mains between two lines of a three-phase network: both legs are hot, each " + each(c.Set.Volts/math.Sqrt(3)) + " to earth"
	case netlist.EarthedNowhere:
		return "mains earthed nowhere: neither leg is a neutral, and once anything of the line meets earth the other leg stands at the full " + each(c.Set.Volts)
	}
	return ""
}

// supply tells what the set is plugged into, where it is not the bare mains.
func (p *Page) supply(c *analysis.Circuit) {
	if both := NotAtNeutral(c); both != "" {
		p.Para("", both)
	}
	if c.Bench.Isolated {
		p.Para("", "supply: an isolating transformer; the isolation is the bench's, and gone with the next outlet")
	}
	if len(c.Bench.Earthed) > 0 {
		p.Para("", "tied to earth on the bench: "+strings.Join(phrase.Visible(c.Bench.Earthed), ", "))
	}
}
