package circuit

import (
	"coldcheck/netlist"
	"fmt"
	"slices"
)

func (c *Circuit) addTube(i int, name string, d *netlist.Tube) {
	if h := d.Type.Heater; h != nil {
		for _, s := range heaterSections(d, h) {
			c.addElement(Element{Sort: Load, Part: i, A: c.node(s.a), B: c.node(s.b), Ohms: s.ohms, Heater: true, Opens: true})
		}
	}
	var wired []netlist.Section
	for _, s := range d.Type.Rectifiers {
		if d.Node(s.Anode) != "" && d.Node(s.Cathode) != "" {
			wired = append(wired, s)
		}
	}
	for _, s := range wired {
		label := name
		if len(wired) > 1 {
			label = fmt.Sprintf("%s:%d", name, s.Anode)
		}
		c.addRectifier(i, label, d.Node(s.Anode), d.Node(s.Cathode), TubeOhms, len(wired) > 1)
	}
	c.addHeaterCathode(i, d)
	for _, s := range slices.Concat(d.Type.Diodes, d.Type.Grids) {
		if a, b := d.Node(s.Anode), d.Node(s.Cathode); a != "" && b != "" {
			c.addElement(Element{Sort: Diode, Part: i, A: c.node(a), B: c.node(b), Ohms: SmallOhms, Opens: true})
			c.Diodes = append(c.Diodes, len(c.Elements)-1)
		}
	}
	for _, w := range d.Type.Working {
		c.addDraw(i, d, w)
	}
	c.addFault(&Fault{Part: name, Kind: Pulled, Cost: 1})
}

// addHeaterCathode adds the breakdown of each wired heater pin (the tap is none) to each wired cathode.
func (c *Circuit) addHeaterCathode(i int, d *netlist.Tube) {
	if d.Type.Heater == nil {
		return
	}
	wired := func(pins []int) (nodes []string) {
		for _, pin := range pins {
			if n := d.Node(pin); n != "" {
				nodes = append(nodes, n)
			}
		}
		return nodes
	}
	heaters, cathodes := wired(d.Type.Heater.Pins[:]), wired(d.Type.Cathodes)
	for _, cathode := range cathodes {
		for _, heater := range heaters {
			c.breakdown(i, HeaterCathode, heater, cathode, 1, len(heaters)*len(cathodes) > 1)
		}
	}
}

// addDraw adds what a section draws at its usual working point, taken as a resistance from plate and
// screen to cathode, where all of its pins are wired.
func (c *Circuit) addDraw(i int, d *netlist.Tube, w netlist.Working) {
	cathode := d.Node(w.Cathode)
	if d.Node(w.Plate) == "" || cathode == "" || w.Screen != 0 && d.Node(w.Screen) == "" {
		return
	}
	draw := func(pin int, ohms float64, screen bool) {
		c.addElement(Element{Sort: Draw, Part: i, A: c.node(d.Node(pin)), B: c.node(cathode), Ohms: ohms, Opens: true, Screen: screen})
	}
	draw(w.Plate, w.PlateVolts/w.PlateAmps, false)
	if w.Screen != 0 {
		draw(w.Screen, w.ScreenVolts/w.ScreenAmps, true)
	}
}

type heaterSection struct {
	a, b string
	ohms float64
}

// heaterSections are the stretches of the heater between its wired pins and tap, hot ohms split
// in proportion to the volts.
func heaterSections(d *netlist.Tube, h *netlist.Heater) []heaterSection {
	type stop struct {
		share float64
		node  string
	}
	stops := []stop{{0, d.Node(h.Pins[0])}, {1, d.Node(h.Pins[1])}}
	if h.Tap != nil {
		share := h.Tap.Volts / h.Volts
		if h.Tap.From != h.Pins[0] {
			share = 1 - share
		}
		stops = slices.Insert(stops, 1, stop{share, d.Node(h.Tap.Pin)})
	}
	stops = slices.DeleteFunc(stops, func(s stop) bool { return s.node == "" })
	var sections []heaterSection
	for k := 1; k < len(stops); k++ {
		ohms := h.Volts / h.Amps * (stops[k].share - stops[k-1].share)
		sections = append(sections, heaterSection{stops[k-1].node, stops[k].node, ohms})
	}
	return sections
}

func (c *Circuit) addRectifier(i int, label, anode, cathode string, ohms float64, named bool) {
	c.addElement(Element{Sort: Rectifier, Part: i, A: c.node(anode), B: c.node(cathode), Ohms: ohms, Label: label, Opens: true})
	c.Sections = append(c.Sections, len(c.Elements)-1)
	c.HasSources = true
	c.Rectifiers = append(c.Rectifiers, label)
	c.breakdown(i, Shorted, anode, cathode, 1, named)
}
