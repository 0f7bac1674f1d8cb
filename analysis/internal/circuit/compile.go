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
	case *netlist.Thermistor:
		c.addThermistor(i, d)
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
			c.addFault(&Fault{Part: name, Kind: Stuck, Cost: 1, Between: []string{ends[0], ends[1]}, Nodes: ends, A: a, B: b, Pole: k, Throw: -1})
		}
	}
	c.Switches = append(c.Switches, Switch{Name: name, Positions: []string{"on", "off"}, part: i})
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

// addPotentiometer adds a control: the two halves on either side of its wiper, or the whole of a
// rheostat, by the positions that are states.
func (c *Circuit) addPotentiometer(i int, d *netlist.Potentiometer) {
	name, k := c.Set.Parts[i].Name, len(c.Controls)
	half := func(a, b string, ohms ...float64) {
		c.addElement(Element{Sort: Load, Part: i, A: c.node(a), B: c.node(b), Ohms: ohms[0], Opens: true, byTurn: ohms, control: k})
	}
	if d.Rheostat() {
		c.Controls = append(c.Controls, Control{Name: name, Positions: []string{Full, Zero}, part: i})
		half(d.Ends[0], d.Ends[1], d.Ohms, TurnedOhms)
	} else {
		c.Controls = append(c.Controls, Control{Name: name, Positions: []string{Middle, d.Ends[0], d.Ends[1]}, part: i})
		half(d.Ends[0], d.Wiper, d.Ohms/2, TurnedOhms, d.Ohms)
		half(d.Wiper, d.Ends[1], d.Ohms/2, d.Ohms, TurnedOhms)
	}
	c.addOpen(i)
	c.mayShort(i, d.Ends, d.Ohms)
}

// addThermistor adds one at its hot ohms; cold checks find its cold ones.
func (c *Circuit) addThermistor(i int, d *netlist.Thermistor) {
	c.addElement(Element{Sort: Load, Part: i, A: c.node(d.Ends[0]), B: c.node(d.Ends[1]), Ohms: d.Hot, coldOhms: d.Cold, Opens: true})
	c.addOpen(i)
	c.mayShort(i, d.Ends, d.Hot)
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

// addSelector adds its throws. With several decks each may stay on another position's throw, whatever
// the selector stands at: that throw is made, the position's own is not.
func (c *Circuit) addSelector(i int, name string, d *netlist.Selector) {
	for j, deck := range d.Decks {
		for k, throw := range deck.Throws {
			if throw == "" {
				continue
			}
			e := Element{Sort: Throw, Part: i, A: c.node(deck.Common), B: c.node(throw), poleOrThrow: k, deck: j}
			if len(d.Decks) > 1 {
				e.Sort, e.Ohms, e.Opens = Contact, JoinOhms, true
			}
			c.addElement(e)
			if len(d.Decks) > 1 && throw != deck.Common && d.Positions[k] != d.Fixed {
				c.addFault(&Fault{Part: name, Kind: Stuck, Cost: 1, Between: []string{deck.Common, throw}, Nodes: [2]string{deck.Common, throw},
					A: e.A, B: e.B, Pole: j, Throw: len(c.Elements) - 1})
			}
		}
	}
	s := Switch{Name: name, part: i}
	for k, position := range d.Positions {
		if d.Fixed == "" || d.Fixed == position {
			s.Positions = append(s.Positions, position)
			s.throws = append(s.throws, k)
		}
	}
	c.Switches = append(c.Switches, s)
}

// SameDeck reports whether two contacts are of one deck.
func (e *Element) SameDeck(other *Element) bool {
	return e.Sort == Contact && other.Sort == Contact && e.Part == other.Part && e.deck == other.deck
}
