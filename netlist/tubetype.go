package netlist

import (
	"maps"
	"slices"
)

// MaxPin is the highest pin number that a tube may have.
const MaxPin = 99

// TubeType is what a type's table says of it.
type TubeType struct {
	Name       string
	Use        string
	Base       string
	Heater     *Heater // nil for a type without one
	Rectifiers []Section
	Cathodes   []int          // indirectly heated ones
	Elements   map[int]string // what the other pins are
	Diodes     []Section      // small (detector) diodes
	Grids      []Section      // control grids, each as an anode with its cathode
	Working    []Working      // a usual working point a section
	Drop       Drop           // of rectifying sections, zero where it is not known
	Also       []string       // other names of the type
	Doubtful   string         // the pins taken for granted, "" for none
	FromFile   bool           // from the set file's own [tube_types]
}

// Working is a usual working point of an amplifying section, by its pins. Screen is 0 where it has
// none.
type Working struct {
	Plate, Screen, Cathode  int
	PlateVolts, PlateAmps   float64
	ScreenVolts, ScreenAmps float64
}

// Drop is the volts from plate to cathode of a rectifying section at so many amperes a plate.
type Drop struct{ Volts, Amps float64 }

// Heater is a tube's heater at its published rating.
type Heater struct {
	Pins        [2]int
	Volts, Amps float64
	Tap         *Tap // nil where it has none
}

// Tap is a heater tap: Volts stand between it and heater pin From.
type Tap struct {
	Pin   int
	Volts float64
	From  int
}

// Section is what conducts one way between two pins.
type Section struct{ Anode, Cathode int }

// HasPin reports whether a pin is one of the heater's.
func (h *Heater) HasPin(pin int) bool {
	return pin == h.Pins[0] || pin == h.Pins[1] || h.Tap != nil && pin == h.Tap.Pin
}

// PinNumbers returns the pins that the type names, by number.
func (t *TubeType) PinNumbers() []int {
	pins := slices.Collect(maps.Keys(t.Elements))
	pins = append(pins, t.Cathodes...)
	for _, s := range slices.Concat(t.Rectifiers, t.Diodes, t.Grids) {
		pins = append(pins, s.Anode, s.Cathode)
	}
	for _, w := range t.Working {
		pins = append(pins, w.Plate, w.Cathode)
		if w.Screen != 0 {
			pins = append(pins, w.Screen)
		}
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

// PinName is what the type says of a pin: "heater tap", "cathode", "unnamed" where it says nothing.
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
	for _, of := range []struct {
		sections       []Section
		anode, cathode string
	}{{t.Rectifiers, "plate", "cathode"}, {t.Diodes, "diode plate", "cathode"}, {t.Grids, "grid", "cathode"}, {t.amplifying(), "plate", "cathode"}} {
		for _, s := range of.sections {
			switch pin {
			case s.Anode:
				return of.anode
			case s.Cathode:
				return of.cathode
			}
		}
	}
	if slices.ContainsFunc(t.Working, func(w Working) bool { return w.Screen == pin }) {
		return "screen"
	}
	return "unnamed"
}

// amplifying are the plates of the type with their cathodes.
func (t *TubeType) amplifying() []Section {
	sections := make([]Section, len(t.Working))
	for i, w := range t.Working {
		sections[i] = Section{Anode: w.Plate, Cathode: w.Cathode}
	}
	return sections
}

// DirectlyHeated reports whether the heater is a cathode itself: a filament.
func (t *TubeType) DirectlyHeated() bool {
	if t.Heater == nil || len(t.Cathodes) > 0 {
		return false
	}
	sections := slices.Concat(t.Rectifiers, t.Diodes, t.Grids, t.amplifying())
	return slices.ContainsFunc(sections, func(s Section) bool { return t.Heater.HasPin(s.Cathode) }) || len(sections) == 0 && t.FromFile
}
