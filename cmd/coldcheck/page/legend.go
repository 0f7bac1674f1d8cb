package page

import "slices"

// legendView is what the drawings of a page are made of.
type legendView struct{ Symbols []legendSymbol }

type legendSymbol struct{ Symbol, Words string }

// symbolWords tell what a symbol is.
var symbolWords = []legendSymbol{
	{"switch", "switch, made"},
	{"fuse", "fuse"},
	{"resistor", "resistor"},
	{"potentiometer", "potentiometer"},
	{"capacitor", "capacitor"},
	{"electrolytic", "electrolytic capacitor, + at its positive end"},
	{"coil", "coil"},
	{"winding", "winding of a transformer, the other windings beyond its core"},
	{"lamp", "lamp"},
	{"motor", "motor"},
	{"battery", "battery, its long stroke positive"},
	{"heater", "heater of a tube"},
	{"diode-tube", "tube that rectifies, from anode to cathode"},
	{"tube", "what a tube draws, from plate to cathode"},
	{"rectifier", "dry rectifier, pointing from anode to cathode"},
	{"insulation", "insulation between two things"},
	{"heater-cathode", "insulation from heater to cathode"},
}

// legendOf lists the symbols that the drawings of some stages use, in one order.
func legendOf(stages ...stageView) legendView {
	var used []string
	for _, s := range stages {
		for _, m := range s.Metals {
			used = append(used, m.Drawing.symbols()...)
		}
	}
	var v legendView
	for _, w := range symbolWords {
		if slices.Contains(used, w.Symbol) {
			v.Symbols = append(v.Symbols, w)
		}
	}
	return v
}

// symbols are those that a drawing uses.
func (d *drawing) symbols() []string {
	var used []string
	for _, c := range d.Cells {
		used = append(used, c.Symbol)
	}
	for _, e := range d.Earths {
		for _, c := range e.Cells {
			used = append(used, c.Symbol)
		}
	}
	return used
}
