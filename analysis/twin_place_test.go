package analysis

import (
	"math"
	"math/cmplx"
	"slices"

	"coldcheck/netlist"
)

// placing is one part that is written into the network of a state: AC with the named rectifier
// conducting, or DC with the AC volts from which the rectifiers charge.
type placing struct {
	*twinNetwork
	w         *twin
	part      *netlist.Part
	x         condition
	rectifier string
	direct    bool
	ac        []complex128
}

func (p *placing) node(name string) int { return p.w.nodes[name] }

// wire writes a conductor that is there or not.
func (p *placing) wire(a, b string, there bool) {
	if there {
		p.join(p.node(a), p.node(b))
	}
}

// resistive writes ohms and henrys in series.
func (p *placing) resistive(a, b string, ohms, henrys float64) {
	if p.x.has(Open, p.part.Name) {
		return
	}
	y := 1 / complex(ohms, 2*math.Pi*p.w.set.Hertz*henrys)
	if p.direct {
		y = complex(1/ohms, 0)
	}
	p.branch(p.node(a), p.node(b), y, 0)
}

func (p *placing) diode(label, anode, cathode string, ohms float64) {
	a, c := p.node(anode), p.node(cathode)
	switch {
	case p.direct:
		p.branch(c, a, complex(1/ohms, 0), math.Sqrt2*cmplx.Abs(p.ac[a]-p.ac[c]))
	case p.rectifier == label:
		p.branch(a, c, complex(1/ohms, 0), 0)
	}
}

// place writes the part.
func (p *placing) place() {
	switch d := p.part.Detail.(type) {
	case *netlist.Switch, *netlist.Selector:
		p.placeControl()
	case *netlist.Fuse:
		p.wire(d.Ends[0], d.Ends[1], !p.x.has(Open, p.part.Name))
	case *netlist.Wire:
		p.wire(d.Ends[0], d.Ends[1], !p.x.has(EarthLost, p.part.Name))
	case *netlist.Resistor:
		ohms := d.Ohms
		if d.Measured > 0 {
			ohms = d.Measured
		}
		p.resistive(d.Ends[0], d.Ends[1], ohms, 0)
	case *netlist.Potentiometer:
		if d.Wiper == "" {
			p.resistive(d.Ends[0], d.Ends[1], d.Ohms, 0)
		} else {
			p.resistive(d.Ends[0], d.Wiper, d.Ohms/2, 0)
			p.resistive(d.Wiper, d.Ends[1], d.Ohms/2, 0)
		}
	case *netlist.Capacitor:
		p.placeCapacitor(d)
	case *netlist.Coil:
		p.resistive(d.Ends[0], d.Ends[1], d.Ohms, d.Henrys)
	case *netlist.Motor:
		p.resistive(d.Ends[0], d.Ends[1], d.Volts/d.Amps, 0)
	case *netlist.Lamp:
		p.resistive(d.Ends[0], d.Ends[1], d.Volts/d.Amps, 0)
	case *netlist.Transformer:
		p.w.placeTransformer(p.twinNetwork, d, p.direct)
	case *netlist.Battery:
		emf := 0.0
		if p.direct {
			emf = d.Volts
		}
		p.branch(p.node(d.Positive), p.node(d.Negative), 1, emf)
	case *netlist.Rectifier:
		p.diode(p.part.Name, d.Anode, d.Cathode, 5)
	case *netlist.Tube:
		p.placeHeater(d)
		wired := sectionsOf(d)
		for _, s := range wired {
			label := p.part.Name
			if len(wired) > 1 {
				label += ":" + itoa(s.Anode)
			}
			p.diode(label, d.Node(s.Anode), d.Node(s.Cathode), 100)
		}
	}
}

func (p *placing) placeControl() {
	at := p.x.at[p.part.Name]
	switch d := p.part.Detail.(type) {
	case *netlist.Switch:
		for k, ends := range d.Poles {
			stuck := slices.ContainsFunc(p.x.faults, func(f twinFault) bool { return f.kind == Stuck && f.part == p.part.Name && f.pole == k })
			p.wire(ends[0], ends[1], at == "on" || stuck)
		}
	case *netlist.Selector:
		k := slices.Index(d.Positions, at)
		for _, deck := range d.Decks {
			p.wire(deck.Common, deck.Throws[k], deck.Throws[k] != "")
		}
	}
}

func (p *placing) placeCapacitor(d *netlist.Capacitor) {
	y := complex(0, 2*math.Pi*p.w.set.Hertz*d.Farads)
	if p.direct {
		y = 0
	}
	if d.LeakOhms > 0 {
		y += complex(1/d.LeakOhms, 0)
	}
	if p.rectifier != "" && !p.direct && math.Round(d.Farads*1e12) >= 5e6 {
		y = 100
	}
	p.branch(p.node(d.Ends[0]), p.node(d.Ends[1]), y, 0)
}

func (p *placing) placeHeater(d *netlist.Tube) {
	h := d.Type.Heater
	if h == nil {
		return
	}
	whole := h.Volts / h.Amps
	first, last := d.Node(h.Pins[0]), d.Node(h.Pins[1])
	tap, near := "", 0.0
	if h.Tap != nil {
		tap, near = d.Node(h.Tap.Pin), whole*h.Tap.Volts/h.Volts
		if h.Tap.From == h.Pins[1] {
			near = whole - near
		}
	}
	if tap == "" && first != "" && last != "" {
		p.resistive(first, last, whole, 0)
	}
	if tap != "" && first != "" {
		p.resistive(first, tap, near, 0)
	}
	if tap != "" && last != "" {
		p.resistive(tap, last, whole-near, 0)
	}
}

func (w *twin) placeTransformer(n *twinNetwork, d *netlist.Transformer, direct bool) {
	var coils []twinCoil
	for _, x := range d.Windings {
		c := twinCoil{w.nodes[x.Start], w.nodes[x.End], x.Volts, 10}
		if d.Coupled && x.Volts < 50 {
			c.ohms = 0.5
		}
		if direct || !d.Coupled {
			n.branch(c.a, c.b, complex(1/c.ohms, 0), 0)
		}
		coils = append(coils, c)
	}
	if d.Coupled && !direct {
		n.transformers = append(n.transformers, coils)
	}
}
