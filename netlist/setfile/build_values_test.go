package setfile

import (
	"math"
	"strings"
	"testing"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
)

// Ratings, leakages and tolerances, read through a file.
func TestCapacitorKeys(t *testing.T) {
	tests := []struct {
		keys string
		want netlist.Capacitor
	}{
		{`rating = "400 V"`, netlist.Capacitor{Rating: 400}},
		{`rating = 400`, netlist.Capacitor{Rating: 400}},
		{`rating = "250 V AC"`, netlist.Capacitor{Rating: 250, RatingAC: true}},
		{`rating = "250VAC"`, netlist.Capacitor{Rating: 250, RatingAC: true}},
		{`rating = "275 V~"`, netlist.Capacitor{Rating: 275, RatingAC: true}},
		{`rating = "400 V DC"`, netlist.Capacitor{Rating: 400}},
		{`rating = "600 WVDC"`, netlist.Capacitor{Rating: 600}},
		{`rating = "1 kV"`, netlist.Capacitor{Rating: 1000}},
		{`leakage = "250k"`, netlist.Capacitor{LeakOhms: 250e3}},
		{`leakage = 250000`, netlist.Capacitor{LeakOhms: 250e3}},
		{`leakage = "40 uA at 10 V"`, netlist.Capacitor{LeakOhms: 250e3}},
		{`leakage = "40 µA @ 10V"`, netlist.Capacitor{LeakOhms: 250e3}},
	}
	for _, tt := range tests {
		set, err := Load("f", strings.NewReader(filetest.BenchHead+`C1 = { kind = "capacitor", ends = ["line 1", "chassis"], value = "1 nF", `+tt.keys+" }\n"))
		if err != nil {
			t.Errorf("%s: %v", tt.keys, err)
			continue
		}
		got := set.Part("C1").Detail.(*netlist.Capacitor)
		if !near(got.Rating, tt.want.Rating) || got.RatingAC != tt.want.RatingAC || !near(got.LeakOhms, tt.want.LeakOhms) {
			t.Errorf("%s: got %+v", tt.keys, *got)
		}
	}
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Abs(b) }
