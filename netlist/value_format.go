package netlist

import (
	"math"
	"strconv"
)

// scaleStep is one prefix of a unit: it serves from a value up.
type scaleStep struct {
	from, scale float64
	prefix      string
}

// formatSteps say which prefixes a unit is printed with, the largest first. Capacitors are printed
// as the trade reads them, 0.1 µF and not 100 nF, and never in mF, which it reads as µF.
var formatSteps = map[Unit][]scaleStep{
	Ohm:    {{1e12, 1e12, "T"}, {1e9, 1e9, "G"}, {1e6, 1e6, "M"}, {1e3, 1e3, "k"}, {0.01, 1, ""}, {1e-3, 1e-3, "m"}, {0, 1e-6, "µ"}},
	Farad:  {{1, 1, ""}, {1e-8, 1e-6, "µ"}, {1e-9, 1e-9, "n"}, {0, 1e-12, "p"}},
	Henry:  {{1, 1, ""}, {1e-3, 1e-3, "m"}, {1e-6, 1e-6, "µ"}, {1e-9, 1e-9, "n"}, {0, 1e-12, "p"}},
	Volt:   {{1e4, 1e3, "k"}, {0.1, 1, ""}, {1e-3, 1e-3, "m"}, {0, 1e-6, "µ"}},
	Ampere: {{1, 1, ""}, {1e-3, 1e-3, "m"}, {1e-6, 1e-6, "µ"}, {1e-9, 1e-9, "n"}, {0, 1e-12, "p"}},
	Watt:   {{1e3, 1e3, "k"}, {0.1, 1, ""}, {1e-3, 1e-3, "m"}, {1e-6, 1e-6, "µ"}, {0, 1e-9, "n"}},
	Hertz:  {{1e4, 1e3, "k"}, {0, 1, ""}},
}

// FormatValue prints a value in the base unit with prefix and unit: "220 kΩ", "0.1 µF",
// "4.7 nF", "15 mA". ParseValue reads back the same value to six digits.
func FormatValue(x float64, unit Unit) string {
	x = roundDigits(x, 6)
	steps := formatSteps[unit]
	step := steps[len(steps)-1]
	for _, s := range steps {
		if math.Abs(x) >= s.from {
			step = s
			break
		}
	}
	if x == 0 {
		step = scaleStep{scale: 1}
	}
	return strconv.FormatFloat(roundDigits(x/step.scale, 6), 'f', -1, 64) + " " + step.prefix + string(unit)
}

// roundDigits rounds to that many significant digits.
func roundDigits(x float64, digits int) float64 {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'e', digits-1, 64), 64)
	if err != nil {
		return x
	}
	return rounded
}
