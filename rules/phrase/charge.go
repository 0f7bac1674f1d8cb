package phrase

import (
	"fmt"
	"math"

	"coldcheck/analysis"
)

// wholeJoules is from where on an energy is told in J, below it in mJ; leastSeconds from where on a
// time is told.
const (
	wholeJoules  = 0.1
	leastSeconds = 0.1
)

// Charge tells what a capacitor keeps: "170 V, 0.58 J".
func Charge(s analysis.Stored) string {
	if s.Joules >= wholeJoules {
		return fmt.Sprintf("%s, %s J", Volts(s.Volts), figure(s.Joules, estimated))
	}
	return fmt.Sprintf("%s, %s mJ", Volts(s.Volts), figure(1e3*s.Joules, estimated))
}

// Drain tells how long a charge takes to come down to the volts at which it counts as gone.
func Drain(seconds float64) string {
	const minute, hour, day = 60, 3600, 86400
	until := " to " + Volts(analysis.StoredVolts)
	switch {
	case math.IsInf(seconds, 1):
		return "nothing drains it"
	case seconds < leastSeconds:
		return "under " + Figure(leastSeconds) + " s" + until
	case seconds > 2*day:
		return fmt.Sprintf("%.0f days", seconds/day) + until
	case seconds > 2*hour:
		return fmt.Sprintf("%.0f h", seconds/hour) + until
	case seconds > 2*minute:
		return fmt.Sprintf("%.0f min", seconds/minute) + until
	}
	return figure(seconds, estimated) + " s" + until
}
