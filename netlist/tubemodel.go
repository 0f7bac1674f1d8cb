package netlist

import (
	"maps"
	"slices"
)

// maxPin is the highest pin number that a tube may have.
const MaxPin = 99

// has reports whether a pin is one of the heater's.
func (h *Heater) HasPin(pin int) bool {
	return pin == h.Pins[0] || pin == h.Pins[1] || h.Tap != nil && pin == h.Tap.Pin
}

// pins returns the pins that the type names, by number.
func (t *TubeType) PinNumbers() []int {
	pins := slices.Collect(maps.Keys(t.Elements))
	pins = append(pins, t.Cathodes...)
	for _, s := range t.Rectifiers {
		pins = append(pins, s.Anode, s.Cathode)
	}
	if t.Heater != nil {
		pins = append(pins, t.Heater.Pins[:]...)
		if t.Heater.Tap != nil {
			pins = append(pins, t.Heater.Tap.Pin)
		}
	}
	slices.Sort(pins)
	return slices.Compact(pins)
}

// PinNames returns the pins that the type names, by number, each with what it is.
func (t *TubeType) PinNames() []PinName {
	var names []PinName
	for _, pin := range t.PinNumbers() {
		names = append(names, PinName{pin, t.PinName(pin)})
	}
	return names
}

// PinName is a pin and what it is.
type PinName struct {
	Number int
	Name   string
}

func (t *TubeType) PinName(pin int) string {
	switch h := t.Heater; {
	case t.Elements[pin] != "":
		return t.Elements[pin]
	case h != nil && h.Tap != nil && h.Tap.Pin == pin:
		return "heater tap"
	case h != nil && h.HasPin(pin):
		return "heater"
	case slices.Contains(t.Cathodes, pin):
		return "cathode"
	}
	for _, s := range t.Rectifiers {
		switch pin {
		case s.Anode:
			return "plate"
		case s.Cathode:
			return "cathode"
		}
	}
	return "unnamed"
}
