package phrase

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"coldcheck/netlist"
)

// How many significant digits a figure has.
const (
	workedOut = 3 // what nodal analysis gives; no part's tolerance is worth more
	estimated = 2
)

// leastFigure is the size below which a figure is 0: half of its last decimal.
const leastFigure = 0.0005

// mostDecimals is how many decimals a figure has at most.
const mostDecimals = 3

// Figure tells a figure that was worked out, without its unit.
func Figure(x float64) string { return figure(x, workedOut) }

func figure(x float64, digits int) string {
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		return fmt.Sprint(x)
	case math.Abs(x) < leastFigure:
		return "0"
	}
	decimals := digits - 1 - int(math.Floor(math.Log10(math.Abs(x))))
	s := strconv.FormatFloat(x, 'f', max(0, min(decimals, mostDecimals)), 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Volts tells volts.
func Volts(x float64) string { return Figure(x) + " V" }

// Milliamps tells milliamps.
func Milliamps(x float64) string { return Figure(x) + " mA" }

// Amps tells amps of a short or a breaker, which have no prefix.
func Amps(x float64) string { return Figure(x) + " A" }

// Value tells a figure that was worked out, with a prefix and its unit: "148 mA", "220 kΩ".
func Value(x float64, unit netlist.Unit) string {
	return netlist.FormatValue(rounded(x, workedOut), unit)
}

// Estimate is Value of a figure that is an estimate: "24 kΩ".
func Estimate(x float64, unit netlist.Unit) string {
	return netlist.FormatValue(rounded(x, estimated), unit)
}

// Stated tells a figure with the digits that the set file states it with: "0.047 µF".
func Stated(x float64, unit netlist.Unit) string { return netlist.FormatValue(x, unit) }

func rounded(x float64, digits int) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	scale := math.Pow(10, float64(digits-1)-math.Floor(math.Log10(math.Abs(x))))
	return math.Round(x*scale) / scale
}

// Percent tells a share as per cent, with a digit after the point below ten.
func Percent(share float64) string {
	if p := math.Abs(100 * share); p < 9.95 {
		return fmt.Sprintf("%.1f %%", p)
	}
	return fmt.Sprintf("%.0f %%", math.Abs(100*share))
}

// Tolerance tells a tolerance in per cent.
func Tolerance(percent float64) string { return fmt.Sprintf("%g %%", rounded(percent, workedOut)) }
