package phrase

import (
	"math"
	"slices"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
)

// A name that is a plural takes the verb of several; one that only ends in s does not.
func TestThings(t *testing.T) {
	for name, want := range map[string]string{"extension sockets": "are", "cabinet screws": "are", "Guitar Strings": "are",
		"chassis": "is", "brass": "is", "bus": "is", "B-": "is", "antenna lead": "is"} {
		if got := Be(Things([]string{name})); got != want {
			t.Errorf("%s %s live", name, got)
		}
	}
	if Be(Things([]string{"chassis", "shaft"})) != "are" {
		t.Error("two points are told as one")
	}
}

func TestLists(t *testing.T) {
	for _, c := range []struct {
		words     []string
		and, some string
	}{
		{nil, "", ""},
		{[]string{"a"}, "a", "a"},
		{[]string{"a", "b"}, "a and b", "a; b"},
		{[]string{"a", "b", "c"}, "a, b and c", "a; b; c"},
		{[]string{"a", "b", "c", "d"}, "a, b and 2 more", "a; b; 2 others"},
	} {
		if got := Few(c.words, 2); got != c.and {
			t.Errorf("Few(%q) = %q, want %q", c.words, got, c.and)
		}
		if got := FewOf(c.words, 2, "; ", "others"); got != c.some {
			t.Errorf("FewOf(%q) = %q, want %q", c.words, got, c.some)
		}
	}
	if got := Or([]string{"a", "b", "c"}); got != "a, b or c" {
		t.Error(got)
	}
}

// Three significant digits, three decimals at most, no zeros at the end, no exponent.
func TestFigure(t *testing.T) {
	for _, c := range []struct {
		x    float64
		want string
	}{
		{0, "0"}, {0.0004, "0"}, {-0.0004, "0"}, {0.0006, "0.001"}, {0.0078, "0.008"}, {0.01423, "0.014"}, {0.1, "0.1"}, {0.2132, "0.213"},
		{0.21, "0.21"}, {4.476, "4.48"}, {5, "5"}, {6.3, "6.3"}, {60.42, "60.4"}, {55.04, "55"}, {99.96, "100"}, {120, "120"}, {1234.5, "1234"},
		{-4.476, "-4.48"}, {1e7, "10000000"}, {math.Inf(1), "+Inf"},
	} {
		if got := Figure(c.x); got != c.want {
			t.Errorf("Figure(%g) = %q, want %q", c.x, got, c.want)
		}
	}
}

func TestValues(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Value(0.14823, netlist.Ampere), "148 mA"},
		{Estimate(23_700, netlist.Ohm), "24 kΩ"},
		{Stated(0.0471e-6, netlist.Farad), "0.0471 µF"},
		{Percent(0.0561), "5.6 %"},
		{Percent(0.09951), "10 %"},
		{Percent(-0.17), "17 %"},
		{Charge(analysis.Stored{Volts: 169.7, Joules: 0.576}), "170 V, 0.58 J"},
		{Charge(analysis.Stored{Volts: 169.7, Joules: 0.00072}), "170 V, 0.72 mJ"},
		{Charge(analysis.Stored{Volts: 325, Joules: 2.01}), "325 V, 2 J"},
		{Drain(4.16), "4.2 s to 60 V"},
		{Drain(0.09), "under 0.1 s to 60 V"},
		{Drain(0.1), "0.1 s to 60 V"},
		{Drain(121), "2 min to 60 V"},
		{Drain(math.Inf(1)), "nothing drains it"},
		{Meter(diagnose.OhmsRead, 0.05), "0 Ω"},
		{Meter(diagnose.OhmsRead, diagnose.OhmsRange), "open"},
		{Meter(diagnose.VoltsRead, 0.004), "0 V"},
		{MeterRange(diagnose.VoltsRead, 110, 126), "110 to 126 V"},
		{MeterRange(diagnose.OhmsRead, 900, 1100), "900 Ω to 1.1 kΩ"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// Of AC and DC, what is little beside the other against its limit is left out, and so is DC that
// drives no current.
func TestReadings(t *testing.T) {
	for _, c := range []struct {
		r             analysis.Reading
		current, open string
	}{
		{analysis.Reading{}, "0 mA", "0 V"},
		{analysis.Reading{Milliamps: 60.42, VoltsOpen: 120}, "60.4 mA", "120 V"},
		{analysis.Reading{Milliamps: 60.42, VoltsOpen: 120, MilliampsDC: 3, VoltsDC: 2.8}, "60.4 mA", "120 V"},
		{analysis.Reading{Milliamps: 60.42, VoltsOpen: 120, MilliampsDC: 3.1, VoltsDC: 2.9}, "60.4 mA AC and 3.1 mA DC", "120 V AC and 2.9 V DC"},
		{analysis.Reading{Milliamps: 0.1, VoltsOpen: 0.2, MilliampsDC: 82.6, VoltsDC: 165.3}, "82.6 mA DC", "165 V DC"},
		{analysis.Reading{Milliamps: 0.2, VoltsOpen: 90, MilliampsDC: 0.0009, VoltsDC: 165}, "0.2 mA", "90 V"},
	} {
		if got := Current(c.r); got != c.current {
			t.Errorf("%+v: %q, want %q", c.r, got, c.current)
		}
		if got := Open(c.r); got != c.open {
			t.Errorf("%+v: %q, want %q", c.r, got, c.open)
		}
	}
	both := analysis.Reading{VoltsMeter: 119.94, VoltsOpen: 120, Milliamps: 60.42, VoltsDC: 165.3, MilliampsDC: 82.6}
	if got := OnMeter(both); got != "120 V AC, 165 V DC open" {
		t.Error(got)
	}
	if got := Body(both); got != "60.4 mA AC and 82.6 mA DC" {
		t.Error(got)
	}
	if got := Range(analysis.Reading{Milliamps: 0.2}, both); got != "0.2 mA to 60.4 mA AC and 82.6 mA DC" {
		t.Error(got)
	}
	if got := Range(analysis.Reading{Milliamps: 0.2}, analysis.Reading{Milliamps: 60.42}); got != "0.2 to 60.4 mA" {
		t.Error(got)
	}
}

func TestSettings(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Setting("S1", "off"), "S1 off"},
		{Setting("S2", "line", "battery"), "S2 at line or battery"},
		{Standing("S1", []string{"on"}), "S1 is on"},
		{Standing("S2", []string{"line", "battery"}), "S2 stands at line or battery"},
		{Rectifiers([]string{""}), "no rectifier conducting"},
		{Rectifiers([]string{"", "V5"}), "no rectifier or V5 conducting"},
		{Rectifiers([]string{"V5", "V6"}), "V5 or V6 conducting"},
		{State(analysis.State{Plug: analysis.Reversed, Settings: []analysis.Setting{{Name: "S1", At: "off"}}, Rectifier: "V5",
			Faults: []*analysis.Fault{{Part: "supply", Kind: analysis.NeutralLost}}, Without: true}),
			"plug reversed, S1 off, V5 conducting, neutral lost, the failed parts' shorts left out"},
		{Rectifiers([]string{analysis.SmallDiodes}), "small diodes conduct"},
		{Rectifiers([]string{"", "V5", analysis.SmallDiodes}), "no rectifier or V5 or small diodes conducting"},
		{Turned(analysis.Setting{Name: "R9", At: analysis.Middle}), "R9 at the middle"},
		{Turned(analysis.Setting{Name: "R9", At: analysis.Zero}), "R9 turned to zero"},
		{State(analysis.State{Plug: analysis.AsMarked, Controls: []analysis.Setting{{Name: "R9", At: "B-"}, {Name: "R10", At: analysis.Middle}, {Name: "R11", At: analysis.Full}},
			Rectifier: analysis.SmallDiodes, Blown: []string{"F1"}}), "plug as marked, R9 turned to B-, small diodes conduct, F1 blown"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// A selector's deck that sticks is a deck, with the position at which it stays; a pole is a pole.
func TestStuckIsADeckOrAPole(t *testing.T) {
	c := analysistest.With(t, `PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
S1 = { kind = "switch", poles = [["line 1", "a"], ["line 2", "b"]] }
SL1 = { kind = "selector", decks = [{ common = "a", throws = ["x", "y", ""] }, { common = "b", throws = ["z", "w", ""] }], positions = ["low", "high", "spare"] }
R1 = { kind = "resistor", ends = ["x", "chassis"], value = 800 }`, "chassis")
	var happens, short []string
	for _, f := range c.Faults {
		if f.Kind == analysis.Stuck {
			happens, short = append(happens, Happen(c.Set, []*analysis.Fault{f})), append(short, Fault(f))
		}
	}
	want := []string{"one pole of S1 sticks closed", "one pole of S1 sticks closed", "a deck of SL1 stays behind at low", "a deck of SL1 stays behind at high",
		"a deck of SL1 stays behind at low", "a deck of SL1 stays behind at high"}
	if !slices.Equal(happens, want) {
		t.Errorf("%q", happens)
	}
	if short[0] != "S1 stuck (line 1 to a)" || short[2] != "SL1 deck stuck (a to x)" {
		t.Errorf("%q", short)
	}
}

// A detector diode or a grid is no rectifier; the blades of mains without a neutral have no names.
func TestSectionsAndBlades(t *testing.T) {
	tube := `PL1 = { kind = "plug", style = "grounding", hot = "line 1", neutral = "line 2", earth = "chassis" }
V1 = { kind = "tube", type = "12AT6", pins = { 1 = "g", 2 = "k", 6 = "d" } }
V2 = { kind = "tube", type = "35W4", pins = { 5 = "line 1", 7 = "k" } }`
	c := analysistest.With(t, tube, "chassis")
	section := func(part, a, b string) string { return Section(c.Set.Part(part).Detail.(*netlist.Tube), a, b) }
	for _, x := range [][2]string{{section("V1", "g", "k"), "grid to cathode"}, {section("V1", "k", "g"), "grid to cathode"}, {section("V1", "d", "k"), "diode"},
		{section("V2", "line 1", "k"), "rectifying"}} {
		if x[0] != x[1] {
			t.Errorf("%q, expected %q", x[0], x[1])
		}
	}
	for node, want := range map[string]string{"line 1": "hot", "line 2": "neutral", "chassis": "earth", "k": ""} {
		for _, earthed := range netlist.MainsEarthed {
			set := *c.Set
			set.Earthed = earthed
			expect := want
			if earthed != netlist.EarthedNeutral && want != "earth" {
				expect = ""
			}
			if got := Blade(&set, node); got != expect || AtPlug(&set, node) != (want != "") {
				t.Errorf("%s with %s earthed: %q", node, earthed, got)
			}
		}
	}
}

// TestOnce: each sort of failure as what follows upon "once".
func TestOnce(t *testing.T) {
	for want, f := range map[string]*analysis.Fault{
		"V3 is pulled": {Part: "V3", Kind: analysis.Pulled},
		"R1 is open":   {Part: "R1", Kind: analysis.Open},
		"C1 shorted":   {Part: "C1", Kind: analysis.Shorted},
		"the earth contact is open (a two-prong adapter does it)": {Part: analysis.SupplyName, Kind: analysis.EarthLost},
	} {
		if got := Once(f); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
