package overview

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/setfile"
	"coldcheck/rules/phrase"
)

// untracedTold is how many parts of the wiring are named to be traced next.
const untracedTold = 2

// Untraced names what of the wiring is on the way between the line and a hand and is not in the file: what
// would change the answer most once it is traced comes first. Metal that nothing leads to reads 0 V whatever
// it is; an antenna is metal that hangs out of the set; the pins of a rectifier are the line side's other end, and
// the cathode of any other tube is where a heater leaks to.
func Untraced(set *netlist.Set) []string {
	var next []string
	for _, n := range setfile.Adrift(set) {
		next = append(next, fmt.Sprintf("what holds %s to the set, for nothing in the file does", netlist.Visible(n.Name)))
	}
	if receives(set) && !slices.ContainsFunc(set.TouchPoints(), func(n *netlist.Node) bool { return n.Touch == "antenna" }) {
		next = append(next, "the antenna, its lead or its loop")
	}
	next = append(next, bareTubes(set, true)...)
	next = append(next, bareTubes(set, false)...)
	return next[:min(len(next), untracedTold)]
}

// receives reports whether a set has a tube that works on what an antenna brings.
func receives(set *netlist.Set) bool {
	return slices.ContainsFunc(set.Parts, func(p *netlist.Part) bool {
		d, isTube := p.Detail.(*netlist.Tube)
		return isTube && strings.Contains(d.Type.Use, "converter")
	})
}

// bareTubes tells the pins of tubes in the heater string to which nothing is wired in the file: of power rectifiers,
// or of all others their cathodes.
func bareTubes(set *netlist.Set, rectifiers bool) []string {
	var bare []string
	for _, p := range set.Parts {
		d, isTube := p.Detail.(*netlist.Tube)
		if !isTube || d.Type.Heater == nil || (len(d.Type.Rectifiers) > 0) != rectifiers {
			continue
		}
		if d.Node(d.Type.Heater.Pins[0]) == "" || d.Node(d.Type.Heater.Pins[1]) == "" {
			continue
		}
		var pins []int
		for _, s := range d.Type.Rectifiers {
			pins = append(pins, s.Anode, s.Cathode)
		}
		pins = append(pins, d.Type.Cathodes...)
		var open []string
		for _, pin := range pins {
			if name := fmt.Sprintf("pin %d (%s)", pin, netlist.Visible(d.Type.PinName(pin))); d.Node(pin) == "" && !slices.Contains(open, name) {
				open = append(open, name)
			}
		}
		is := "is"
		if len(open) > 1 {
			is = "are"
		}
		if len(open) > 0 {
			bare = append(bare, fmt.Sprintf("what %s of %s %s on", phrase.List(open), netlist.Visible(p.Name), is))
		}
	}
	return bare
}
