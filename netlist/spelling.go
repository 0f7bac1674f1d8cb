package netlist

import (
	"strconv"
	"strings"
)

// Spelling is a way to write a figure.
type Spelling struct {
	Text  string // as it stands in the quotes
	Value float64
}

// spellings are what parts lists write, by unit; the first is how the program would.
var spellings = []struct {
	what string
	unit Unit
	all  []Spelling
}{
	{"resistance", Ohm, []Spelling{{"220k", 220e3}, {"220 kohm", 220e3}, {"220,000", 220e3}, {"2.2 meg", 2.2e6}, {"2M2", 2.2e6}, {"4k7", 4700}, {"4R7", 4.7}, {"1/2 meg", 500e3}, {"33 ohms", 33}}},
	{"capacitance", Farad, []Spelling{{"0.05 uF", 0.05e-6}, {".05 mfd", 0.05e-6}, {"0.05 µF", 0.05e-6}, {"20 mf", 20e-6}, {"250 mmf", 250e-12}, {"250 pF", 250e-12}, {"47 nF", 47e-9}, {"4n7F", 4.7e-9}}},
	{"inductance", Henry, []Spelling{{"1.5 H", 1.5}, {"10 henries", 10}, {"350 mH", 0.35}}},
	{"voltage", Volt, []Spelling{{"117v", 117}, {"117 volts", 117}, {"6.3 V", 6.3}}},
	{"current", Ampere, []Spelling{{"15 mA", 0.015}, {"3/4 A", 0.75}, {"0.15 amp", 0.15}}},
	{"power", Watt, []Spelling{{"1/2 W", 0.5}, {"10 watts", 10}}},
	{"frequency", Hertz, []Spelling{{"60 Hz", 60}, {"60 cycles", 60}}},
}

// spellingRows are the ways to write figures, and what else is written so that it needs more than one.
func spellingRows() [][2]string {
	var rows [][2]string
	for _, s := range spellings {
		var written []string
		for _, w := range s.all {
			written = append(written, strconv.Quote(w.Text))
		}
		rows = append(rows, [2]string{s.what, strings.Join(written, "  ")})
	}
	return append(rows,
		[2]string{"mains", `"120 V 60 Hz"  "117v 60 cycles"  "220 V AC, 50 Hz"`},
		[2]string{"rating", `of a capacitor "400 V"  "600 WV"  "250 V AC"; of a resistor watts`},
		[2]string{"tolerance", `"10 %"  "±5 %"  20`},
		[2]string{"leakage", `"250k"  "40 uA at 10 V"`})
}
