package setfile

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
)

// TestDetailsMean: what each line says of a part, figure by figure. Each figure is another, so that none stands for
// a second one.
func TestDetailsMean(t *testing.T) {
	ends := netlist.Ends{"line 1", "chassis"}
	const e = `ends = ["line 1", "chassis"]`
	for line, want := range map[string]netlist.Detail{
		`kind = "fuse", ` + e + `, amps = "750 mA"`: &netlist.Fuse{Ends: ends, Amps: 0.75},
		`kind = "fuse", ` + e:                       &netlist.Fuse{Ends: ends},
		`kind = "wire", ` + e:                       &netlist.Wire{Ends: ends},

		`kind = "resistor", ` + e + `, value = "4k7", watts = 2, tolerance = 5, measured = 5100`: &netlist.Resistor{Ends: ends, Ohms: 4700, Tolerance: 5, Watts: 2, Measured: 5100},
		`kind = "resistor", ` + e + `, value = 100, rating = "1/2 W"`:                            &netlist.Resistor{Ends: ends, Ohms: 100, Tolerance: 20, Watts: 0.5},
		`kind = "resistor", ` + e + `, bands = "yellow violet orange silver"`:                    &netlist.Resistor{Ends: ends, Ohms: 47e3, Tolerance: 10},
		`kind = "resistor", ` + e + `, body_end_dot = "red green yellow"`:                        &netlist.Resistor{Ends: ends, Ohms: 250e3, Tolerance: 20},

		`kind = "potentiometer", ` + e + `, wiper = "w", value = "1 meg"`: &netlist.Potentiometer{Ends: ends, Wiper: "w", Ohms: 1e6},
		`kind = "potentiometer", ` + e + `, value = 30`:                   &netlist.Potentiometer{Ends: ends, Ohms: 30},
		`kind = "thermistor", ` + e + `, hot = 44, cold = 400`:            &netlist.Thermistor{Ends: ends, Hot: 44, Cold: 400},

		`kind = "capacitor", ` + e + `, value = "0.05 mfd", rating = "400 V", type = "paper", class = "X2", positive = "chassis"`: &netlist.Capacitor{Ends: ends,
			Farads: 0.05e-6, Rating: 400, Type: "paper", Class: "X2", Positive: "chassis"},
		`kind = "capacitor", ` + e + `, value = "250 mmf", rating = "250 V AC", leakage = "40 uA at 10 V"`: &netlist.Capacitor{Ends: ends, Farads: 250e-12, Rating: 250, RatingAC: true, LeakOhms: 250e3},

		`kind = "coil", ` + e + `, ohms = 450, henries = "10 H"`:               &netlist.Coil{Ends: ends, Ohms: 450, Henrys: 10},
		`kind = "motor", ` + e + `, volts = 115, amps = "150 mA"`:              &netlist.Motor{Ends: ends, Volts: 115, Amps: 0.15},
		`kind = "motor", ` + e + `, volts = 120, watts = 18`:                   &netlist.Motor{Ends: ends, Volts: 120, Amps: 0.15},
		`kind = "lamp", ` + e + `, volts = 6.3, amps = 0.25`:                   &netlist.Lamp{Ends: ends, Volts: 6.3, Amps: 0.25},
		`kind = "lamp", ` + e + `, type = "41"`:                                &netlist.Lamp{Ends: ends, Volts: 2.5, Amps: 0.5},
		`kind = "insulation", ` + e:                                            &netlist.Insulation{Ends: ends, Grade: netlist.Basic},
		`kind = "insulation", ` + e + `, grade = "reinforced"`:                 &netlist.Insulation{Ends: ends, Grade: netlist.Reinforced},
		`kind = "switch", ` + e:                                                &netlist.Switch{Poles: []netlist.Ends{ends}},
		`kind = "rectifier", anode = "line 1", cathode = "B+"`:                 &netlist.Rectifier{Anode: "line 1", Cathode: "B+", Type: "selenium"},
		`kind = "battery", positive = "a", negative = "chassis", volts = 67.5`: &netlist.Battery{Positive: "a", Negative: "chassis", Volts: 67.5},
	} {
		set, err := Load("f", strings.NewReader(filetest.BenchHead+"X1 = { "+line+" }\n"))
		if err != nil {
			t.Errorf("%s: %v", line, err)
			continue
		}
		if diff := cmp.Diff(want, set.Part("X1").Detail, cmpopts.EquateApprox(1e-12, 0)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", line, diff)
		}
	}
}
