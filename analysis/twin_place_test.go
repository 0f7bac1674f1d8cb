package analysis

import (
	"math"
	"math/cmplx"
	"slices"

	"coldcheck/netlist"
)

// place writes one part.
func (w *twin) place(n *twinNetwork, p *netlist.Part, x condition, rectifier string, direct bool, ac []complex128) {
	omega := 2 * math.Pi * w.set.Hertz
	node := func(name string) int { return w.nodes[name] }
	open := x.has(Open, p.Name)
	resistive := func(a, b string, ohms, henrys float64) {
		if open {
			return
		}
		y := 1 / complex(ohms, omega*henrys)
		if direct {
			y = complex(1/ohms, 0)
		}
		n.branch(node(a), node(b), y, 0)
	}
	diode := func(label, anode, cathode string, ohms float64) {
		a, c := node(anode), node(cathode)
		switch {
		case direct:
			n.branch(c, a, complex(1/ohms, 0), math.Sqrt2*cmplx.Abs(ac[a]-ac[c]))
		case rectifier == label:
			n.branch(a, c, complex(1/ohms, 0), 0)
		}
	}
	switch d := p.Detail.(type) {
	case *netlist.Switch:
		for k, ends := range d.Poles {
			stuck := slices.ContainsFunc(x.faults, func(f twinFault) bool { return f.kind == Stuck && f.part == p.Name && f.pole == k })
			if x.at[p.Name] == "on" || stuck {
				n.join(node(ends[0]), node(ends[1]))
			}
		}
	case *netlist.Selector:
		k := slices.Index(d.Positions, x.at[p.Name])
		for _, deck := range d.Decks {
			if deck.Throws[k] != "" {
				n.join(node(deck.Common), node(deck.Throws[k]))
			}
		}
	case *netlist.Fuse:
		if !open {
			n.join(node(d.Ends[0]), node(d.Ends[1]))
		}
	case *netlist.Wire:
		if !x.has(EarthLost, p.Name) {
			n.join(node(d.Ends[0]), node(d.Ends[1]))
		}
	case *netlist.Resistor:
		ohms := d.Ohms
		if d.Measured > 0 {
			ohms = d.Measured
		}
		resistive(d.Ends[0], d.Ends[1], ohms, 0)
	case *netlist.Potentiometer:
		if d.Wiper == "" {
			resistive(d.Ends[0], d.Ends[1], d.Ohms, 0)
		} else {
			resistive(d.Ends[0], d.Wiper, d.Ohms/2, 0)
			resistive(d.Wiper, d.Ends[1], d.Ohms/2, 0)
		}
	case *netlist.Capacitor:
		y := complex(0, omega*d.Farads)
		if direct {
			y = 0
		}
		if d.LeakOhms > 0 {
			y += complex(1/d.LeakOhms, 0)
		}
		if rectifier != "" && !direct && math.Round(d.Farads*1e12) >= 5e6 {
			y = 100
		}
		n.branch(node(d.Ends[0]), node(d.Ends[1]), y, 0)
	case *netlist.Coil:
		resistive(d.Ends[0], d.Ends[1], d.Ohms, d.Henrys)
	case *netlist.Motor:
		resistive(d.Ends[0], d.Ends[1], d.Volts/d.Amps, 0)
	case *netlist.Lamp:
		resistive(d.Ends[0], d.Ends[1], d.Volts/d.Amps, 0)
	case *netlist.Transformer:
		w.placeTransformer(n, d, direct)
	case *netlist.Battery:
		emf := 0.0
		if direct {
			emf = d.Volts
		}
		n.branch(node(d.Positive), node(d.Negative), 1, emf)
	case *netlist.Rectifier:
		diode(p.Name, d.Anode, d.Cathode, 5)
	case *netlist.Tube:
		if h := d.Type.Heater; h != nil {
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
				resistive(first, last, whole, 0)
			}
			if tap != "" && first != "" {
				resistive(first, tap, near, 0)
			}
			if tap != "" && last != "" {
				resistive(tap, last, whole-near, 0)
			}
		}
		wired := sectionsOf(d)
		for _, s := range wired {
			label := p.Name
			if len(wired) > 1 {
				label = p.Name + ":" + itoa(s.Anode)
			}
			diode(label, d.Node(s.Anode), d.Node(s.Cathode), 100)
		}
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
