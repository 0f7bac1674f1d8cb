package circuit

// Sort is what an element does to the equations.
type Sort int

// The sorts of element.
const (
	Join      Sort = iota // a conductor that never opens: merges its nodes
	Link                  // a conductor that may open: a fuse, an earth wire
	Pole                  // joins when the switch is on, or stuck
	Throw                 // joins when the selector stands there
	Contact               // a throw of several decks, of which each may stick: a Link when the selector stands there
	Load                  // ohms and henrys in series
	Capacitor             // farads, with leakage in parallel
	Battery               // A is positive
	Rectifier             // A is the anode
	Shunt                 // the short of a failed part
	Diode                 // a small diode, or a grid with its cathode: A is the anode
	Draw                  // what a tube draws, from plate or screen to cathode
)

// Element is a primitive piece of a part; it goes when that part is open or pulled.
type Element struct {
	Sort         Sort
	Part         int // in Set.Parts
	A, B         int // nodes
	Ohms, Henrys float64
	Farads       float64
	LeakOhms     float64 // 0 for none
	Volts        float64
	Label        string // of a rectifier
	Heater       bool
	Screen       bool // of what a tube draws: by its screen
	Opens        bool // some fault can take it out
	poleOrThrow  int
	deck         int
	byTurn       []float64 // of a control: ohms by the place of its position; nil for what no one turns
	control      int       // in Controls
	coldOhms     float64   // of a thermistor; 0 for what is alike
}

// Transformer is one with volts: its windings are coupled.
type Transformer struct {
	Part     int
	Windings []Winding
}

// Winding is one of a Transformer, its start first.
type Winding struct {
	A, B        int
	Volts, Ohms float64
}

// Mode is which of a state's sets of equations is meant.
type Mode int

// The modes. At DC there are up to four: with nothing drawn and with the tubes drawing, each with the
// rectifiers as sources, or open beside batteries, which they do not pull down.
const (
	Blocking   Mode = iota // AC, every rectifier blocking
	Held                   // AC, reservoirs holding their voltage, for a rectifier that conducts
	Small                  // AC, all small diodes conducting, which only charges a capacitor
	Direct                 // DC, rectifiers as sources
	Drawn                  // DC, and the tubes draw
	Alone                  // DC, batteries alone
	AloneDrawn             // DC, and the tubes draw
	Unplugged              // DC, the plug out, everything cold: what an ohmmeter finds
)

// DC reports whether a mode is one of those at DC, the plug in.
func (m Mode) DC() bool { return m >= Direct && m < Unplugged }

// charges reports whether rectifiers are sources in a mode, draws whether the tubes draw.
func (m Mode) charges() bool { return m == Direct || m == Drawn }

// Draws reports whether the tubes draw.
func (m Mode) Draws() bool { return m == Drawn || m == AloneDrawn }

// DCModes are those in which a set has a DC side, none for a set without sources.
func (c *Circuit) DCModes() []Mode {
	draws, batteries := false, false
	for i := range c.Elements {
		draws = draws || c.Elements[i].Sort == Draw
		batteries = batteries || c.Elements[i].Sort == Battery
	}
	if !c.HasSources {
		return nil
	}
	modes := []Mode{Direct}
	if batteries && len(c.Sections) > 0 {
		modes = append(modes, Alone)
	}
	if draws {
		for _, m := range modes[:len(modes):len(modes)] {
			modes = append(modes, m+1)
		}
	}
	return modes
}

// Made reports whether an element of the sort Contact is made in one of Positions.
func (c *Circuit) Made(e *Element, position int) bool { return c.standsAt(e, position) }

// OhmsAt is an element's resistance in one of Positions.
func (c *Circuit) OhmsAt(e *Element, position int) float64 {
	if e.byTurn != nil {
		return e.byTurn[c.Positions[position].places[e.control]]
	}
	return e.Ohms
}

// readingSlack is how far off a value may be that was read as a number times a power of ten: 5 times
// 1e-6 is one in the last place less than 5e-6.
const readingSlack = 1e-12

// Reservoir reports whether a capacitor holds its voltage while a rectifier conducts.
func Reservoir(farads float64) bool { return farads >= ReservoirFarad*(1-readingSlack) }

// Impedance is what an element is in a mode and in one of Positions, in Ω. It conducts nothing where ok
// is false.
func (c *Circuit) Impedance(e *Element, m Mode, position int) (ohms complex128, ok bool) {
	switch e.Sort {
	case Link, Contact:
		made := e.Sort == Link || c.Made(e, position)
		if m == Unplugged {
			return UnpluggedJoinOhms, made
		}
		return complex(e.Ohms, 0), made
	case Load:
		return c.load(e, m, c.OhmsAt(e, position)), true
	case Capacitor:
		return c.capacitance(e, m)
	case Battery, Shunt:
		return complex(e.Ohms, 0), true
	case Rectifier:
		return complex(e.Ohms, 0), m.charges()
	case Diode:
		return complex(e.Ohms, 0), m == Small
	case Draw:
		return complex(e.Ohms, 0), m.Draws()
	}
	return 0, false
}

// load is a resistance of so many ohms, with the henrys in series.
func (c *Circuit) load(e *Element, m Mode, ohms float64) complex128 {
	switch {
	case m == Unplugged && e.Heater:
		return complex(ohms*ColdHeater, 0)
	case m == Unplugged && e.coldOhms > 0:
		return complex(e.coldOhms, 0)
	case m == Unplugged || m.DC():
		return complex(ohms, 0)
	}
	return complex(ohms, c.Omega*e.Henrys)
}

// capacitance is a capacitor with its leakage: at DC the leakage alone, and likewise where diodes pass
// half the wave, which only charges it.
func (c *Circuit) capacitance(e *Element, m Mode) (ohms complex128, ok bool) {
	y := complex(0, 0)
	if e.LeakOhms > 0 {
		y = complex(1/e.LeakOhms, 0)
	}
	switch {
	case m == Held && Reservoir(e.Farads):
		return ShortOhms, true
	case m == Held, m == Blocking:
		y += complex(0, c.Omega*e.Farads)
	}
	if y == 0 {
		return 0, false
	}
	return 1 / y, true
}

// ControlOf is the control that an element is a half of, in Controls; ok is false for one that no one
// turns.
func (c *Circuit) ControlOf(e *Element) (k int, ok bool) { return e.control, e.byTurn != nil }
