package analysis

import (
	"math"
	"math/cmplx"
	"slices"

	"coldcheck/netlist"
)

// place writes one part.
func (w *twin) place(n *twinNetwork, p *netlist.Part, x condition, m twinMode) {
	omega := 2 * math.Pi * w.set.Hertz
	node := func(name string) int { return w.nodes[name] }
	open := x.has(Open, p.Name)
	resistive := func(a, b string, ohms, henrys float64) {
		if open {
			return
		}
		y := 1 / complex(ohms, omega*henrys)
		if m.direct {
			y = complex(1/ohms, 0)
		}
		n.branch(node(a), node(b), y, 0)
	}
	switch d := p.Detail.(type) {
	case *netlist.Switch, *netlist.Selector, *netlist.Fuse, *netlist.Wire:
		w.placeConductor(n, p, x, m)
	case *netlist.Resistor:
		ohms := d.Ohms
		if d.Measured > 0 {
			ohms = d.Measured
		}
		resistive(d.Ends[0], d.Ends[1], ohms, 0)
	case *netlist.Potentiometer:
		for _, half := range halves(d, x.at[p.Name]) {
			resistive(half.a, half.b, half.ohms, 0)
		}
	case *netlist.Thermistor:
		resistive(d.Ends[0], d.Ends[1], d.Hot, 0)
	case *netlist.Capacitor:
		w.placeCapacitor(n, d, m)
	case *netlist.Coil:
		resistive(d.Ends[0], d.Ends[1], d.Ohms, d.Henrys)
	case *netlist.Motor:
		resistive(d.Ends[0], d.Ends[1], d.Volts/d.Amps, 0)
	case *netlist.Lamp:
		resistive(d.Ends[0], d.Ends[1], d.Volts/d.Amps, 0)
	case *netlist.Transformer:
		w.placeTransformer(n, d, m.direct)
	case *netlist.Battery:
		emf := complex(0, 0)
		if m.direct {
			emf = complex(d.Volts, 0)
		}
		n.branch(node(d.Positive), node(d.Negative), 1, emf)
	case *netlist.Rectifier:
		w.placeRectifier(n, m, p.Name, d.Anode, d.Cathode, 5)
	case *netlist.Tube:
		w.placeTube(n, p.Name, d, m)
	}
}

// placeConductor writes a part without resistance.
func (w *twin) placeConductor(n *twinNetwork, p *netlist.Part, x condition, m twinMode) {
	node := func(name string) int { return w.nodes[name] }
	switch d := p.Detail.(type) {
	case *netlist.Switch:
		for k, ends := range d.Poles {
			stuck := slices.ContainsFunc(x.faults, func(f twinFault) bool { return f.kind == Stuck && f.part == p.Name && f.pole == k })
			if x.at[p.Name] == "on" || stuck {
				n.join(node(ends[0]), node(ends[1]))
			}
		}
	case *netlist.Selector:
		for k, deck := range d.Decks {
			throw := slices.Index(d.Positions, x.at[p.Name])
			for _, f := range x.faults {
				if f.kind == Stuck && f.part == p.Name && f.pole == k {
					throw = f.throw
				}
			}
			if deck.Throws[throw] != "" {
				n.join(node(deck.Common), node(deck.Throws[throw]))
			}
		}
	case *netlist.Fuse:
		switch {
		case x.has(Open, p.Name) || slices.Contains(x.blown, p.Name):
		case m.ammeters:
			n.ammeters = append(n.ammeters, [2]int{node(d.Ends[0]), node(d.Ends[1])})
		default:
			n.join(node(d.Ends[0]), node(d.Ends[1]))
		}
	case *netlist.Wire:
		if !x.has(EarthLost, p.Name) {
			n.join(node(d.Ends[0]), node(d.Ends[1]))
		}
	}
}

// half is a resistance of a control between two nodes; turned says that it is what is left where the control
// is turned to that end.
type half struct {
	a, b   string
	ohms   float64
	turned bool
}

// halves are a control's resistances in one of its positions.
func halves(d *netlist.Potentiometer, at string) []half {
	if d.Wiper == "" || d.Wiper == d.Ends[0] || d.Wiper == d.Ends[1] {
		if at == "zero" {
			return []half{{d.Ends[0], d.Ends[1], 0.01, true}}
		}
		return []half{{d.Ends[0], d.Ends[1], d.Ohms, false}}
	}
	first, second := half{d.Ends[0], d.Wiper, d.Ohms / 2, false}, half{d.Wiper, d.Ends[1], d.Ohms / 2, false}
	switch at {
	case d.Ends[0]:
		first.ohms, first.turned, second.ohms = 0.01, true, d.Ohms
	case d.Ends[1]:
		second.ohms, second.turned, first.ohms = 0.01, true, d.Ohms
	}
	return []half{first, second}
}

func (w *twin) placeCapacitor(n *twinNetwork, d *netlist.Capacitor, m twinMode) {
	y := complex(0, 2*math.Pi*w.set.Hertz*d.Farads)
	if m.direct || m.conducts == smallDiodes { // half a wave only charges it
		y = 0
	}
	if d.LeakOhms > 0 {
		y += complex(1/d.LeakOhms, 0)
	}
	if m.conducts != "" && m.conducts != smallDiodes && math.Round(d.Farads*1e12) >= 5e6 {
		y = 100
	}
	n.branch(w.nodes[d.Ends[0]], w.nodes[d.Ends[1]], y, 0)
}

func (w *twin) placeRectifier(n *twinNetwork, m twinMode, label, anode, cathode string, ohms float64) {
	a, c := w.nodes[anode], w.nodes[cathode]
	switch {
	case m.direct && m.charges:
		volts := m.from.volts[a] - m.from.volts[c]
		if m.from.group[a] != m.from.group[c] { // what floats counts as 0
			volts = 0
			if m.from.group[a] == m.from.group[w.earth] {
				volts += m.from.volts[a]
			}
			if m.from.group[c] == m.from.group[w.earth] {
				volts -= m.from.volts[c]
			}
		}
		n.branch(c, a, complex(1/ohms, 0), complex(math.Sqrt2*cmplx.Abs(volts), 0))
	case !m.direct && m.conducts == label:
		n.branch(a, c, complex(1/ohms, 0), 0)
	}
}

func (w *twin) placeTube(n *twinNetwork, name string, d *netlist.Tube, m twinMode) {
	if h := d.Type.Heater; h != nil {
		whole := h.Volts / h.Amps
		first, last := d.Node(h.Pins[0]), d.Node(h.Pins[1])
		heater := func(a, b string, ohms float64) { n.branch(w.nodes[a], w.nodes[b], complex(1/ohms, 0), 0) }
		tap, near := "", 0.0
		if h.Tap != nil {
			tap, near = d.Node(h.Tap.Pin), whole*h.Tap.Volts/h.Volts
			if h.Tap.From == h.Pins[1] {
				near = whole - near
			}
		}
		if tap == "" && first != "" && last != "" {
			heater(first, last, whole)
		}
		if tap != "" && first != "" {
			heater(first, tap, near)
		}
		if tap != "" && last != "" {
			heater(tap, last, whole-near)
		}
	}
	wired := sectionsOf(d)
	for _, s := range wired {
		label := name
		if len(wired) > 1 {
			label = name + ":" + itoa(s.Anode)
		}
		w.placeRectifier(n, m, label, d.Node(s.Anode), d.Node(s.Cathode), 100)
	}
	if m.conducts == smallDiodes {
		for _, s := range smallOf(d) {
			n.branch(w.nodes[d.Node(s.Anode)], w.nodes[d.Node(s.Cathode)], 1e-3, 0)
		}
	}
	if m.direct && m.draws {
		for _, s := range drawingOf(d) {
			n.branch(w.nodes[s.plate], w.nodes[s.cathode], complex(1/s.ohms, 0), 0)
		}
	}
}

// smallOf are the small diodes and grids of which both pins are wired.
func smallOf(d *netlist.Tube) []netlist.Section {
	var wired []netlist.Section
	for _, s := range slices.Concat(d.Type.Diodes, d.Type.Grids) {
		if d.Node(s.Anode) != "" && d.Node(s.Cathode) != "" {
			wired = append(wired, s)
		}
	}
	return wired
}

// draw is a plate or a screen that draws its working current.
type draw struct {
	plate, cathode string
	ohms           float64
}

// drawingOf are those of the sections of which all pins are wired.
func drawingOf(d *netlist.Tube) []draw {
	var all []draw
	for _, s := range d.Type.Working {
		plate, screen, cathode := d.Node(s.Plate), d.Node(s.Screen), d.Node(s.Cathode)
		if plate == "" || cathode == "" || s.Screen != 0 && screen == "" {
			continue
		}
		all = append(all, draw{plate, cathode, s.PlateVolts / s.PlateAmps})
		if s.Screen != 0 {
			all = append(all, draw{screen, cathode, s.ScreenVolts / s.ScreenAmps})
		}
	}
	return all
}

func (w *twin) placeTransformer(n *twinNetwork, d *netlist.Transformer, direct bool) {
	var coils []twinCoil
	for _, x := range d.Windings {
		c := twinCoil{w.nodes[x.Start], w.nodes[x.End], x.Volts, 10}
		if d.Coupled && x.Volts < 50 {
			c.ohms = 0.05
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
