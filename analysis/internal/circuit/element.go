package circuit

// Sort is what an element does to the equations.
type Sort int

// The sorts of element.
const (
	Join      Sort = iota // a conductor that never opens: merges its nodes
	Link                  // a conductor that may open: a fuse, an earth wire
	Pole                  // joins when the switch is on, or stuck
	Throw                 // joins when the selector stands there
	Load                  // ohms and henrys in series
	Capacitor             // farads, with leakage in parallel
	Battery               // A is positive
	Rectifier             // A is the anode
	Shunt                 // the short of a failed part
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
	Opens        bool // some fault can take it out
	poleOrThrow  int
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

const (
	Blocking  Mode = iota // AC, every rectifier blocking
	Held                  // AC, reservoirs holding their voltage, for a rectifier that conducts
	Direct                // DC
	Unplugged             // DC, the plug out, everything cold: what an ohmmeter finds
)

// Impedance is what an element is in a mode, in Ω. It conducts nothing where ok is false.
func (c *Circuit) Impedance(e *Element, m Mode) (ohms complex128, ok bool) {
	switch e.Sort {
	case Link:
		if m == Unplugged {
			return UnpluggedJoinOhms, true
		}
		return complex(e.Ohms, 0), true
	case Load:
		switch {
		case m == Unplugged && e.Heater:
			return complex(e.Ohms*ColdHeater, 0), true
		case m == Unplugged, m == Direct:
			return complex(e.Ohms, 0), true
		}
		return complex(e.Ohms, c.Omega*e.Henrys), true
	case Capacitor:
		y := complex(0, 0)
		if e.LeakOhms > 0 {
			y = complex(1/e.LeakOhms, 0)
		}
		switch {
		case m == Held && e.Farads >= ReservoirFarad:
			return ShortOhms, true
		case m == Held, m == Blocking:
			y += complex(0, c.Omega*e.Farads)
		}
		if y == 0 {
			return 0, false
		}
		return 1 / y, true
	case Battery, Shunt:
		return complex(e.Ohms, 0), true
	case Rectifier:
		return complex(e.Ohms, 0), m == Direct
	}
	return 0, false
}
