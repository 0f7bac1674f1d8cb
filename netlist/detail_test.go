package netlist

import (
	"math"
	"testing"
)

// TestPeak: a capacitor for 250 V AC stands 354 V peak, one for 250 V that many.
func TestPeak(t *testing.T) {
	for _, c := range []struct {
		capacitor Capacitor
		want      float64
	}{{Capacitor{Rating: 250, RatingAC: true}, 353.553}, {Capacitor{Rating: 250}, 250}, {Capacitor{}, 0}} {
		if got := c.capacitor.Peak(); math.Abs(got-c.want) > 1e-3 {
			t.Errorf("%+v stands %g V, want %g", c.capacitor, got, c.want)
		}
	}
}
