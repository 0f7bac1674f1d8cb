package rules

import (
	"fmt"
	"math"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// amount tells a value with a prefix, its unit and at most so many digits: "0.47 µF", "220 kΩ".
func amount(x float64, n int, unit netlist.Unit) string {
	return netlist.FormatValue(rounded(x, n), unit)
}

func rounded(x float64, n int) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	scale := math.Pow(10, float64(n-1)-math.Floor(math.Log10(math.Abs(x))))
	return math.Round(x*scale) / scale
}

// percent tells a share as per cent, with a digit after the point below ten.
func percent(x float64) string {
	if p := math.Abs(100 * x); p < 9.95 {
		return fmt.Sprintf("%.1f %%", p)
	}
	return fmt.Sprintf("%.0f %%", math.Abs(100*x))
}

// capacitorWords tells a capacitor: "C1, 0.1 µF film, 400 V".
func capacitorWords(p *netlist.Part, c *netlist.Capacitor) string {
	words := fmt.Sprintf("%s, %s", p.Name, amount(c.Farads, 3, netlist.Farad))
	if c.Type != "" {
		words += " " + c.Type
	}
	if c.Rating > 0 {
		words += ", " + ratingWords(c)
	}
	if c.Class != "" {
		words += ", class " + c.Class
	}
	return words
}

func ratingWords(c *netlist.Capacitor) string {
	words := amount(c.Rating, 4, netlist.Volt)
	if c.RatingAC {
		words += " AC"
	}
	return words
}

// span tells the two ends of a part.
func span(a, b string) string {
	return netlist.Visible(a) + " to " + netlist.Visible(b)
}

// inState tells a state that a finding rests on, without a reading at a touch point.
func inState(s analysis.State) *analysis.Worst { return &analysis.Worst{State: s} }
