package phrase

import (
	"fmt"
	"math"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
)

// What no meter of a bench shows.
const (
	leastShown = 0.005 // V, mA
	leastOhms  = 0.1   // Ω
)

// Meter tells what a meter shows, with its unit: "118 V", "220 kΩ", "open".
func Meter(q diagnose.Quantity, x float64) string {
	switch q {
	case diagnose.OhmsRead:
		switch {
		case x >= diagnose.OhmsRange:
			return "open"
		case x < leastOhms:
			return "0 Ω"
		}
		return Value(x, netlist.Ohm)
	case diagnose.MilliampsRead:
		return shown(x) + " mA"
	case diagnose.VoltsDCRead:
		return shown(x) + " V DC"
	}
	return shown(x) + " V"
}

func shown(x float64) string {
	if math.Abs(x) < leastShown {
		return "0"
	}
	return Figure(x)
}

// MeterRange tells a span of what a meter may show: "110 to 126 V".
func MeterRange(q diagnose.Quantity, low, high float64) string {
	return spread(Meter(q, low), Meter(q, high))
}

// spread joins two figures, with the unit once where it is the same.
func spread(low, high string) string {
	figure, unit, _ := strings.Cut(low, " ")
	if _, other, _ := strings.Cut(high, " "); unit == other && !strings.Contains(unit, " and ") {
		low = figure
	}
	return low + " to " + high
}

// Quantity tells what is measured: "the ohms".
func Quantity(q diagnose.Quantity) string {
	switch q {
	case diagnose.OhmsRead:
		return "the ohms"
	case diagnose.VoltsDCRead:
		return "the DC volts"
	case diagnose.MilliampsRead:
		return "the milliamps"
	}
	return "the AC volts"
}

// Measurement tells where and how a reading is taken: "chassis to building earth (plug as marked,
// S1 on)".
func Measurement(m diagnose.Measurement) string {
	state := []string{"plug out"}
	if m.Plug != "" {
		state[0] = Plug(m.Plug)
	}
	if m.Tied {
		state = append(state, "blades tied")
	}
	state = append(state, Settings(m.Settings)...)
	for _, tube := range m.Pulled {
		state = append(state, tube+" pulled")
	}
	for _, part := range m.Lifted {
		state = append(state, "one lead of "+part+" off")
	}
	if m.Quantity != diagnose.OhmsRead && m.Quantity != diagnose.MilliampsRead && m.MeterOhms != analysis.MeterOhms {
		state = append(state, "meter of "+Value(m.MeterOhms, netlist.Ohm))
	}
	return fmt.Sprintf("%s (%s)", Ends(m.A, m.B), strings.Join(state, ", "))
}
