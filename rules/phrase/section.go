package phrase

import (
	"slices"

	"coldcheck/netlist"
)

// Section tells what of a tube lets current through one way between two of its nodes: "rectifying",
// "diode", "grid to cathode".
func Section(t *netlist.Tube, a, b string) string {
	between := func(s netlist.Section) bool {
		anode, cathode := t.Node(s.Anode), t.Node(s.Cathode)
		return anode == a && cathode == b || anode == b && cathode == a
	}
	switch {
	case slices.ContainsFunc(t.Type.Rectifiers, between):
	case slices.ContainsFunc(t.Type.Diodes, between):
		return "diode"
	case slices.ContainsFunc(t.Type.Grids, between):
		return "grid to cathode"
	}
	return "rectifying"
}

// Blade tells at which blade of the plug a node is: "hot", "neutral" as marked, "earth"; "" where it is at
// none, or where the mains have no hot leg and no neutral.
func Blade(set *netlist.Set, node string) string {
	_, plug := set.Plug()
	switch {
	case node == plug.Earth && node != "":
		return "earth"
	case set.BothHot():
	case node == plug.Hot:
		return "hot"
	case node == plug.Neutral:
		return "neutral"
	}
	return ""
}

// AtPlug reports whether a node is at the plug.
func AtPlug(set *netlist.Set, node string) bool {
	_, plug := set.Plug()
	return node == plug.Hot || node == plug.Neutral || node == plug.Earth && node != ""
}
