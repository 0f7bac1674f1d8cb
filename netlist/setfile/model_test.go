package setfile

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
	"coldcheck/netlist/internal/tomltext"
)

// loadValid loads one of the valid fixtures.
func loadValid(t *testing.T, name string) *netlist.Set {
	t.Helper()
	set, err := LoadFile("testdata/valid/"+name+".toml", nil)
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// What is written as a parts list has it is what the format means by it.
func TestPartsListMeans(t *testing.T) {
	set := loadValid(t, "parts-list")
	var names []string
	for _, p := range set.Parts {
		names = append(names, p.Name+" "+string(p.Kind))
	}
	want := []string{"C1 capacitor", "C2A capacitor", "C2B capacitor", "C3A capacitor", "L1 coil", "C4 capacitor", "R1 potentiometer", "TH1 thermistor", "T1 transformer",
		"SP1 coil", "V1 tube", "D1 rectifier", "DS1 lamp", "J1 wire", "R2 potentiometer", "R3 resistor", "R4 resistor", "C5A capacitor", "C5B capacitor", "PL1 plug"}
	if diff := cmp.Diff(want, names); diff != "" {
		t.Error(diff)
	}
	details := map[string]netlist.Detail{
		"C2B": &netlist.Capacitor{Ends: netlist.Ends{"B+ 2", "B-"}, Farads: 20e-6, Rating: 150, Type: "electrolytic", Positive: "B+ 2"},
		"C3A": &netlist.Capacitor{Ends: netlist.Ends{"cathode", "B-"}, Farads: 25e-6, Rating: 25, Type: "electrolytic", Positive: "cathode"},
		"C5B": &netlist.Capacitor{Ends: netlist.Ends{"B+ 2", "B-"}, Farads: 8e-6, Rating: 350, Type: "electrolytic", Positive: "B+ 2"},
		"TH1": &netlist.Thermistor{Ends: netlist.Ends{"line 1", "h"}, Hot: 44, Cold: 1000},
		"DS1": &netlist.Lamp{Ends: netlist.Ends{"line 1", "h"}, Volts: 6.3, Amps: 0.25},
		"R1":  &netlist.Potentiometer{Ends: netlist.Ends{"B+", "cathode"}, Wiper: "grid", Ohms: 500e3},
		"R3":  &netlist.Resistor{Ends: netlist.Ends{"middle", "h"}, Ohms: 220, Tolerance: 20, Watts: 0.75},
		"R4":  &netlist.Resistor{Ends: netlist.Ends{"grid", "B-"}, Ohms: 220e3, Tolerance: 20},
		"PL1": &netlist.Plug{Style: "plain", Hot: "line 1", Neutral: "line 2"},
	}
	near := cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Abs(b) })
	for name, want := range details {
		if diff := cmp.Diff(want, set.Part(name).Detail, near); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
	if c := set.Part("C2A"); c.Note != "on the chassis" || c.Pos.Line != 5 || c.Condition != netlist.Good {
		t.Errorf("C2A is %+v", c)
	}
	if c := set.Part("C3A"); c.Frame != "chassis" || c.FrameInsulation != netlist.Functional {
		t.Errorf("C3A is %+v", c)
	}
	if c := set.Part("C5B"); c.Condition != netlist.Suspect || !c.ConditionStated {
		t.Errorf("C5B is %+v", c)
	}
	if set.Volts != 117 || set.Hertz != 60 || set.Earthed != netlist.EarthedNeutral || set.Condition != "" {
		t.Errorf("the mains are %v V %v Hz, earthed %s; the set is %q", set.Volts, set.Hertz, set.Earthed, set.Condition)
	}
}

// TestConditionOfTheSet: what the set says holds for all that says nothing itself, but that a class speaks for a
// part that is not of paper.
func TestConditionOfTheSet(t *testing.T) {
	const s, g, f = netlist.Suspect, netlist.Good, netlist.Failed
	set := loadValid(t, "attic")
	for name, want := range map[string]netlist.Condition{"C1": s, "C2": g, "C3": g, "C4": s, "C5": g, "C6": s, "I1": s, "I2": f, "I3": g, "R1": s, "W1": s} {
		if got := set.Part(name).Condition; got != want {
			t.Errorf("%s is %s, want %s", name, got, want)
		}
	}
	for name, want := range map[string]bool{"chassis": true, "shaft": false, "handle": true, "bezel": false} {
		if got := set.Node(name).GuardSuspect; got != want {
			t.Errorf("the guard of %s is doubtful: %v, want %v", name, got, want)
		}
	}
	paper := func(condition string) netlist.Condition {
		set, err := Load("f", strings.NewReader(strings.Replace(filetest.BenchHead, "[nodes]", condition+"\n[nodes]", 1)+
			`C1 = { kind = "capacitor", ends = ["line 1", "chassis"], value = "1 nF", type = "paper" }`))
		if err != nil {
			t.Fatal(err)
		}
		return set.Part("C1").Condition
	}
	for condition, want := range map[string]netlist.Condition{"": s, `condition = "good"`: g, `condition = "suspect"`: s, `condition = "failed"`: f} {
		if got := paper(condition); got != want {
			t.Errorf("with %q paper is %s, want %s", condition, got, want)
		}
	}
}

// What a file says of a tube type and of a reading is in the set.
func TestTubeTypeAndReadingMean(t *testing.T) {
	set := loadValid(t, "every-kind")
	tube, _ := set.Part("V3").Detail.(*netlist.Tube)
	want := &netlist.TubeType{Name: "mine", Use: "test", Base: "none", Heater: &netlist.Heater{Pins: [2]int{3, 4}, Volts: 6.3, Amps: 0.3},
		Rectifiers: []netlist.Section{{Anode: 9, Cathode: 1}}, Cathodes: []int{1}, Elements: map[int]string{1: "cathode", 2: "plate"},
		Diodes: []netlist.Section{{Anode: 5, Cathode: 1}, {Anode: 6, Cathode: 1}}, Grids: []netlist.Section{{Anode: 7, Cathode: 1}},
		Working: []netlist.Working{{Plate: 2, Cathode: 1, PlateVolts: 100, PlateAmps: 0.0005},
			{Plate: 8, Screen: 10, Cathode: 1, PlateVolts: 250, PlateAmps: 0.049, ScreenVolts: 100, ScreenAmps: 0.004}},
		Drop: netlist.Drop{Volts: 18, Amps: 0.2}, Also: []string{"ours", "theirs"}, Doubtful: "pins 3 and 4", FromFile: true}
	if diff := cmp.Diff(want, tube.Type); diff != "" {
		t.Errorf("the type (-want +got):\n%s", diff)
	}
	names := map[int]string{5: "diode plate", 7: "grid", 8: "plate", 9: "plate", 10: "screen", 3: "heater", 11: "unnamed"}
	for pin, want := range names {
		if got := tube.Type.PinName(pin); got != want {
			t.Errorf("pin %d is %s, want %s", pin, got, want)
		}
	}
	if got := tube.Type.PinNumbers(); !slices.Equal(got, []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}) {
		t.Errorf("the pins are %v", got)
	}
	r := set.Readings[0]
	if diff := cmp.Diff([]any{[]string{"C1", "S1", "D1", "P1"}, map[string]string{"P1": "zero", "P2": "d"}, []string{"V2"}}, []any{r.Lifted, r.Controls, r.Pulled}); diff != "" {
		t.Errorf("the reading (-want +got):\n%s", diff)
	}
	if set.Earthed != netlist.EarthedMidpoint || set.Condition != netlist.Good || set.Part("C1").Condition != netlist.Good || set.Part("C2").Condition != netlist.Good {
		t.Errorf("earthed %s, %s", set.Earthed, set.Condition)
	}
}

// A file's own types come before the catalogue's under their other names too.
func TestOtherNamesOfTypes(t *testing.T) {
	set := loadValid(t, "tube-names")
	for name, want := range map[string]string{"V1": "35Z5GT", "V5": "35W4", "V6": "12AX7", "V7": "12AU7", "V8": "12BE6", "V9": "35W4", "V10": "35W4", "V11": "35W4"} {
		tube, _ := set.Part(name).Detail.(*netlist.Tube)
		if tube.Type.Name != want || tube.Type.FromFile != (want == "35W4") {
			t.Errorf("%s is taken as %s, from the file: %v", tube.TypeName, tube.Type.Name, tube.Type.FromFile)
		}
	}
}

// TestDialLamps: the table of lamps and the words of the format name the same ones, each with its ratings.
func TestDialLamps(t *testing.T) {
	var named []string
	for i := range netlist.Kinds() {
		if k := &netlist.Kinds()[i]; k.Kind == netlist.KindLamp {
			named = k.Key("type").Words
		}
	}
	if problems := tomltext.Parse("lamps.toml", lampsTOML).Problems; problems != nil {
		t.Fatal(problems)
	}
	lamps := dialLamps()
	for _, name := range named {
		if lamp := lamps[name]; lamp.volts < 1 || lamp.volts > 30 || lamp.amps < 0.02 || lamp.amps > 1 {
			t.Errorf("lamp %s is %+v", name, lamp)
		}
	}
	if len(lamps) != len(named) || len(named) == 0 {
		t.Errorf("%d lamps and %d names", len(lamps), len(named))
	}
}
