package netlist

import "math"

// Detail is implemented by the details of each kind, and by nothing else.
type Detail interface{ kind() Kind }

// Ends are a two-ended part's nodes, in the order written.
type Ends [2]string

// Plug is the line plug: the one way in for the mains.
type Plug struct {
	Style        string // plain, polarized, grounding
	Hot, Neutral string
	Earth        string // "" unless grounding
}

// Switch is one or more poles that move together; on closes them.
type Switch struct{ Poles []Ends }

// Selector joins each deck's common to one of its throws.
type Selector struct {
	Decks     []Deck
	Positions []string // the name of each position, as many as throws
	Fixed     string   // the one position that is a state, "" where all are
}

// Deck is one wafer of a selector. A throw of "" is open.
type Deck struct {
	Common string
	Throws []string
}

// Fuse is a fuse.
type Fuse struct {
	Ends Ends
	Amps float64 // 0 where no rating is given
}

// Wire is any conductor without resistance.
type Wire struct{ Ends Ends }

// Resistor is a fixed resistor.
type Resistor struct {
	Ends      Ends
	Ohms      float64 // as marked
	Tolerance float64 // per cent, 20 where not given
	Watts     float64 // 0 where not given
	Measured  float64 // ohms, 0 where not measured
}

// InUse is the ohms that the set really has: measured if it was, else as marked.
func (r *Resistor) InUse() float64 {
	if r.Measured > 0 {
		return r.Measured
	}
	return r.Ohms
}

// Potentiometer is a variable resistor.
type Potentiometer struct {
	Ends  Ends
	Wiper string // "" where none is wired; one of Ends makes it a rheostat
	Ohms  float64
}

// Rheostat reports whether the potentiometer has no wiper on a node of its own.
func (p *Potentiometer) Rheostat() bool {
	return p.Wiper == "" || p.Wiper == p.Ends[0] || p.Wiper == p.Ends[1]
}

// Thermistor is a part of the string whose resistance falls as it warms.
type Thermistor struct {
	Ends      Ends
	Hot, Cold float64 // ohms
}

// Capacitor is a capacitor.
type Capacitor struct {
	Ends     Ends
	Farads   float64
	Rating   float64 // volts, 0 where not given
	RatingAC bool    // the rating is in volts AC rms
	Class    string  // "X1", "Y2", "X1/Y2" …, "" where none is marked
	Type     string  // paper, film, ceramic, mica, electrolytic, "" where not given
	LeakOhms float64 // stated leakage, 0 where none is stated
	Positive string  // the end marked plus, "" where not given
}

// Peak is the rating in volts peak: an AC rating counts √2 times. It is 0 where none is given.
func (c *Capacitor) Peak() float64 {
	if c.RatingAC {
		return c.Rating * math.Sqrt2
	}
	return c.Rating
}

// Coil is a choke or any winding on its own.
type Coil struct {
	Ends   Ends
	Ohms   float64
	Henrys float64
}

// Motor is a phonograph or fan motor.
type Motor struct {
	Ends        Ends
	Volts, Amps float64 // rated
}

// Lamp is a dial lamp or pilot lamp.
type Lamp struct {
	Ends        Ends
	Volts, Amps float64 // rated
}

// Transformer has one or more windings on one core.
type Transformer struct {
	Windings   []Winding // in the order of the file
	Coupled    bool      // volts are given: an ideal transformer; else each winding is a coil
	Insulation Grade     // between windings
}

// Winding is one winding; Start is the first end written.
type Winding struct {
	Name       string
	Start, End string
	Volts      float64 // 0 where the transformer is not coupled
}

// Tube is a tube in its socket.
type Tube struct {
	Type     *TubeType
	TypeName string // as the file writes it
	Pins     []Pin  // wired pins, by number
}

// Pin is a wired pin.
type Pin struct {
	Number int
	Node   string
}

// Node returns the node of a pin, "" where it is not wired.
func (t *Tube) Node(pin int) string {
	for _, p := range t.Pins {
		if p.Number == pin {
			return p.Node
		}
	}
	return ""
}

// Rectifier is a dry rectifier.
type Rectifier struct {
	Anode, Cathode string
	Type           string // selenium, silicon
}

// Battery is a battery.
type Battery struct {
	Positive, Negative string
	Volts              float64
}

// Insulation is something that should not conduct: a sleeve, a washer, a grommet, a knob.
type Insulation struct {
	Ends  Ends
	Grade Grade
}

func (*Plug) kind() Kind { return KindPlug }

func (*Switch) kind() Kind { return KindSwitch }

func (*Selector) kind() Kind { return KindSelector }

func (*Fuse) kind() Kind { return KindFuse }

func (*Wire) kind() Kind { return KindWire }

func (*Resistor) kind() Kind { return KindResistor }

func (*Potentiometer) kind() Kind { return KindPotentiometer }

func (*Thermistor) kind() Kind { return KindThermistor }

func (*Capacitor) kind() Kind { return KindCapacitor }

func (*Coil) kind() Kind { return KindCoil }

func (*Motor) kind() Kind { return KindMotor }

func (*Lamp) kind() Kind { return KindLamp }

func (*Transformer) kind() Kind { return KindTransformer }

func (*Tube) kind() Kind { return KindTube }

func (*Rectifier) kind() Kind { return KindRectifier }

func (*Battery) kind() Kind { return KindBattery }

func (*Insulation) kind() Kind { return KindInsulation }
