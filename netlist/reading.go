package netlist

import "coldcheck/netlist/internal/words"

// Reading is what a meter showed.
type Reading struct {
	Pos      Pos
	At       [2]string // nodes; BuildingEarth may be one even where no part is on it
	Quantity string    // "volts" (AC), "dc_volts", "ohms", "milliamps"
	Value    float64   // volts, ohms or milliamperes
	Plug     string    // "as-marked", "reversed", "out"
	Switches map[string]string
	Controls map[string]string // those not at middle or full
	Pulled   []string
	Lifted   []string // parts with one lead off
	Meter    float64  // the meter's own ohms, 10 megohm where not given
}

// OpenPattern is what an ohmmeter shows of nothing that conducts, as text: open, OL.
const OpenPattern = `([oO][pP][eE][nN]|[oO]\.?[lL]\.?)`

var opens = words.Pattern(`^\s*` + OpenPattern + `\s*$`)

// ReadsOpen reports whether ohms are written as open.
func ReadsOpen(text string) bool { return opens().MatchString(text) }
