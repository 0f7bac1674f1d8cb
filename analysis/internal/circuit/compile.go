package circuit

import (
	"fmt"

	"coldcheck/netlist"
)

func (c *Circuit) addElement(e Element) { c.Elements = append(c.Elements, e) }

// addPart turns a part into elements and faults. A part of a kind that is not known is a mistake of
// the program's own.
func (c *Circuit) addPart(i int, p *netlist.Part) {
	switch d := p.Detail.(type) {
	case *netlist.Plug:
		c.Plug = d
	case *netlist.Switch:
		c.addSwitch(i, p.Name, d)
	case *netlist.Selector:
		c.addSelector(i, p.Name, d)
	case *netlist.Fuse:
		c.addElement(Element{Sort: Link, Part: i, A: c.node(d.Ends[0]), B: c.node(d.Ends[1]), Ohms: JoinOhms, Opens: true})
		c.addOpen(i)
	case *netlist.Wire:
		c.addWire(i, p.Name, d)
	case *netlist.Resistor:
		c.addResistance(i, d.Ends, d.InUse(), 0)
		c.mayShort(i, d.Ends, d.InUse())
	case *netlist.Potentiometer:
		c.addPotentiometer(i, d)
	case *netlist.Capacitor:
		c.addCapacitor(i, d)
	case *netlist.Coil:
		c.addResistance(i, d.Ends, d.Ohms, d.Henrys)
	case *netlist.Motor:
		c.addResistance(i, d.Ends, d.Volts/d.Amps, 0)
	case *netlist.Lamp:
		c.addResistance(i, d.Ends, d.Volts/d.Amps, 0)
	case *netlist.Transformer:
		c.addTransformer(i, d)
	case *netlist.Tube:
		c.addTube(i, p.Name, d)
	case *netlist.Rectifier:
		c.addRectifier(i, p.Name, d.Anode, d.Cathode, DryOhms, false)
	case *netlist.Battery:
		c.HasSources = true
		c.addElement(Element{Sort: Battery, Part: i, A: c.node(d.Positive), B: c.node(d.Negative), Ohms: BatteryOhms, Volts: d.Volts})
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

func (c *Circuit) addOpen(i int) {
	c.addFault(&Fault{Part: c.Set.Parts[i].Name, Kind: Open, Cost: 1})
}

// addResistance adds ohms and henrys in series, which may open.
func (c *Circuit) addResistance(i int, ends netlist.Ends, ohms, henrys float64) {
	c.addLoad(i, ends[0], ends[1], ohms, henrys)
	c.addOpen(i)
}

func (c *Circuit) addLoad(i int, a, b string, ohms, henrys float64) {
	c.addElement(Element{Sort: Load, Part: i, A: c.node(a), B: c.node(b), Ohms: ohms, Henrys: henrys, Opens: true})
}

// mayShort adds the short of a resistance that is large enough to count as a safeguard.
func (c *Circuit) mayShort(i int, ends netlist.Ends, ohms float64) {
	if ohms >= SafeguardOhms {
		c.breakdown(i, Shorted, ends[0], ends[1], 1, false)
	}
}

func (c *Circuit) addSwitch(i int, name string, d *netlist.Switch) {
	for k, ends := range d.Poles {
		a, b := c.node(ends[0]), c.node(ends[1])
		c.addElement(Element{Sort: Pole, Part: i, A: a, B: b, poleOrThrow: k})
		if len(d.Poles) > 1 {
			c.addFault(&Fault{Part: name, Kind: Stuck, Cost: 1, Between: []string{ends[0], ends[1]}, Nodes: ends, A: a, B: b, Pole: k})
		}
	}
	c.Controls = append(c.Controls, Control{Name: name, Positions: []string{"on", "off"}, part: i})
}

// addWire adds a conductor: to the building's earth it may go, anywhere else it merges its nodes.
func (c *Circuit) addWire(i int, name string, d *netlist.Wire) {
	e := Element{Sort: Join, Part: i, A: c.node(d.Ends[0]), B: c.node(d.Ends[1])}
	if d.Ends[0] == netlist.BuildingEarth || d.Ends[1] == netlist.BuildingEarth {
		e.Sort, e.Ohms, e.Opens = Link, JoinOhms, true
		c.addFault(&Fault{Part: name, Kind: EarthLost, Cost: 1})
	}
	c.addElement(e)
}

// addPotentiometer adds one with its wiper in the middle, or end to end where it has none.
func (c *Circuit) addPotentiometer(i int, d *netlist.Potentiometer) {
	if d.Wiper != "" {
		c.addLoad(i, d.Ends[0], d.Wiper, d.Ohms/2, 0)
		c.addLoad(i, d.Wiper, d.Ends[1], d.Ohms/2, 0)
	} else {
		c.addLoad(i, d.Ends[0], d.Ends[1], d.Ohms, 0)
	}
	c.addOpen(i)
	c.mayShort(i, d.Ends, d.Ohms)
}

func (c *Circuit) addCapacitor(i int, d *netlist.Capacitor) {
	c.addElement(Element{Sort: Capacitor, Part: i, A: c.node(d.Ends[0]), B: c.node(d.Ends[1]), Farads: d.Farads, LeakOhms: d.LeakOhms})
	cost := 1
	if includesY1(d.Class) {
		cost = 2
	}
	c.breakdown(i, Shorted, d.Ends[0], d.Ends[1], cost, false)
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
