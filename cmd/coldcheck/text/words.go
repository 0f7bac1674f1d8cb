package text

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// List joins words as a sentence does: "a", "a and b", "a, b and c".
func List(words []string) string { return joined(words, " and ") }

// Or is List with "or".
func Or(words []string) string { return joined(words, " or ") }

func joined(words []string, last string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + last + words[n-1]
}

// few joins the first n words with a separator and says how many more there are. One more is told
// in full: its name is as short as the count.
func few(words []string, n int, separator, more string) string {
	if len(words) <= n+1 {
		return strings.Join(words, separator)
	}
	return strings.Join(words[:n], separator) + separator + fmt.Sprintf("%d %s", len(words)-n, more)
}

// VisibleAll makes names fit for a terminal.
func VisibleAll(names []string) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = netlist.Visible(n)
	}
	return out
}

// counted is "1 part" or "3 parts".
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// digits tells a figure with three digits, and no exponent.
func digits(x float64) string {
	if math.Abs(x) < 0.0005 {
		return "0"
	}
	places := max(0, 2-int(math.Floor(math.Log10(math.Abs(x)))))
	s := strconv.FormatFloat(x, 'f', min(places, 3), 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// current tells a touch current, AC and DC: "60.4 mA", "2 mA DC", "0.3 mA AC and 1.2 mA DC". A
// part that is under a hundredth of its limit beside the other is left out.
func current(r analysis.Reading) string {
	ac, dc := r.Milliamps/analysis.ES2AmpsAC, r.MilliampsDC/analysis.ES2AmpsDC
	switch {
	case dc < 0.01*ac || r.MilliampsDC < 0.001:
		return digits(r.Milliamps) + " mA"
	case ac < 0.01*dc || r.Milliamps < 0.001:
		return digits(r.MilliampsDC) + " mA DC"
	}
	return digits(r.Milliamps) + " mA AC and " + digits(r.MilliampsDC) + " mA DC"
}

// volts tells what stands at a point with nothing connected, likewise.
func volts(r analysis.Reading) string {
	ac, dc := r.VoltsOpen/analysis.ES2VoltsAC, r.VoltsDC/analysis.ES2VoltsDC
	switch {
	case dc < 0.01*ac || r.VoltsDC < 0.01:
		return digits(r.VoltsOpen) + " V"
	case ac < 0.01*dc || r.VoltsOpen < 0.01:
		return digits(r.VoltsDC) + " V DC"
	}
	return digits(r.VoltsOpen) + " V AC and " + digits(r.VoltsDC) + " V DC"
}

// bandWords say where a reading stands against the limits.
var bandWords = map[analysis.Class]string{
	analysis.Live: "live", analysis.Startles: "tingles", analysis.UnderLimit: "within ES1, hardly felt",
}

// guarded is a touch point's name with what keeps fingers off it.
func guarded(p *analysis.TouchPoint) string {
	name := netlist.Visible(p.Name)
	switch {
	case p.Guard == "":
		return name
	case p.GuardSuspect:
		return name + " (" + p.Guard + ", suspect)"
	}
	return name + " (" + p.Guard + ")"
}
