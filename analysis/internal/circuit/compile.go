package circuit

import (
	"fmt"

	"coldcheck/netlist"
)

func (c *Circuit) addElement(e Element) { c.Elements = append(c.Elements, e) }

func (c *Circuit) addPart(i int, p *netlist.Part) {
	node := func(name string) int { return c.node(name) }
	resistive := func(a, b string, ohms, henrys float64, opens bool) {
		c.addElement(Element{Sort: Load, Part: i, A: node(a), B: node(b), Ohms: ohms, Henrys: henrys, Opens: opens})
	}
	open := func() { c.addFault(&Fault{Part: p.Name, Kind: Open, Cost: 1}) }

	switch d := p.Detail.(type) {
	case *netlist.Plug:
		c.Plug = d
	case *netlist.Switch:
		for k, ends := range d.Poles {
			c.addElement(Element{Sort: Pole, Part: i, A: node(ends[0]), B: node(ends[1]), poleOrThrow: k})
			if len(d.Poles) > 1 {
				c.addFault(&Fault{Part: p.Name, Kind: Stuck, Cost: 1, Between: []string{ends[0], ends[1]},
					Nodes: ends, A: node(ends[0]), B: node(ends[1]), Pole: k})
			}
		}
		c.Controls = append(c.Controls, Control{Name: p.Name, Positions: []string{"on", "off"}, part: i})
	case *netlist.Selector:
		c.addSelector(i, p.Name, d)
	case *netlist.Fuse:
		c.addElement(Element{Sort: Link, Part: i, A: node(d.Ends[0]), B: node(d.Ends[1]), Ohms: JoinOhms, Opens: true})
		open()
	case *netlist.Wire:
		if d.Ends[0] == netlist.BuildingEarth || d.Ends[1] == netlist.BuildingEarth {
			c.addElement(Element{Sort: Link, Part: i, A: node(d.Ends[0]), B: node(d.Ends[1]), Ohms: JoinOhms, Opens: true})
			c.addFault(&Fault{Part: p.Name, Kind: EarthLost, Cost: 1})
		} else {
			c.addElement(Element{Sort: Join, Part: i, A: node(d.Ends[0]), B: node(d.Ends[1])})
		}
	case *netlist.Resistor:
		resistive(d.Ends[0], d.Ends[1], d.InUse(), 0, true)
		open()
		if d.InUse() >= SafeguardOhms {
			c.breakdown(i, Shorted, d.Ends[0], d.Ends[1], 1, false)
		}
	case *netlist.Potentiometer:
		if d.Wiper != "" {
			resistive(d.Ends[0], d.Wiper, d.Ohms/2, 0, true)
			resistive(d.Wiper, d.Ends[1], d.Ohms/2, 0, true)
		} else {
			resistive(d.Ends[0], d.Ends[1], d.Ohms, 0, true)
		}
		open()
		if d.Ohms >= SafeguardOhms {
			c.breakdown(i, Shorted, d.Ends[0], d.Ends[1], 1, false)
		}
	case *netlist.Capacitor:
		c.addElement(Element{Sort: Capacitor, Part: i, A: node(d.Ends[0]), B: node(d.Ends[1]), Farads: d.Farads, LeakOhms: d.LeakOhms})
		cost := 1
		if includesY1(d.Class) {
			cost = 2
		}
		c.breakdown(i, Shorted, d.Ends[0], d.Ends[1], cost, false)
	case *netlist.Coil:
		resistive(d.Ends[0], d.Ends[1], d.Ohms, d.Henrys, true)
		open()
	case *netlist.Motor:
		resistive(d.Ends[0], d.Ends[1], d.Volts/d.Amps, 0, true)
		open()
	case *netlist.Lamp:
		resistive(d.Ends[0], d.Ends[1], d.Volts/d.Amps, 0, true)
		open()
	case *netlist.Transformer:
		c.addTransformer(i, d)
	case *netlist.Tube:
		c.addTube(i, p.Name, d)
	case *netlist.Rectifier:
		c.addRectifier(i, p.Name, d.Anode, d.Cathode, DryOhms, false)
	case *netlist.Battery:
		c.HasSources = true
		c.addElement(Element{Sort: Battery, Part: i, A: node(d.Positive), B: node(d.Negative), Ohms: BatteryOhms, Volts: d.Volts})
	case *netlist.Insulation:
		c.breakdown(i, InsulationOut, d.Ends[0], d.Ends[1], gradeCost(d.Grade), false)
	default:
		panic(fmt.Sprintf("circuit: part of kind %T", d))
	}
	if p.Frame != "" {
		for _, t := range p.Terminals {
			c.breakdown(i, InsulationOut, t.Node, p.Frame, gradeCost(p.FrameInsulation), true)
		}
	}
}

// includesY1 reports whether a class mark includes Y1, which counts as reinforced (IEC 60384-14).
func includesY1(class string) bool {
	return class == "Y1" || len(class) > 3 && class[len(class)-3:] == "/Y1"
}

func (c *Circuit) addSelector(i int, name string, d *netlist.Selector) {
	for _, deck := range d.Decks {
		for k, throwNode := range deck.Throws {
			if throwNode != "" {
				c.addElement(Element{Sort: Throw, Part: i, A: c.node(deck.Common), B: c.node(throwNode), poleOrThrow: k})
			}
		}
	}
	control := Control{Name: name, part: i}
	for k, position := range d.Positions {
		if d.Fixed == "" || d.Fixed == position {
			control.Positions = append(control.Positions, position)
			control.throws = append(control.throws, k)
		}
	}
	c.Controls = append(c.Controls, control)
}
