package analysis

import (
	"testing"

	"coldcheck/netlist/settest"
)

// stateCase is one row of an arrangement's table of states: the current through a body. Figures
// were computed apart from this program; where the example has a part more than the plain
// arrangement, the row says what that part adds.
type stateCase struct {
	state  string
	plug   Polarity
	at     []string
	faults []faultName
	want   float64 // mA; 0 is less than 0.1 mA
}

type arrangement struct {
	what, example, node string
	edits               []string
	rows                []stateCase
}

var (
	lostNeutral = faultName{SupplyName, NeutralLost}
	lost        = []faultName{lostNeutral}
)

func shortedPart(part string, more ...faultName) []faultName {
	return append([]faultName{{part, Shorted}}, more...)
}

func pulledTube(part string, more ...faultName) []faultName {
	return append([]faultName{{part, Pulled}}, more...)
}

var arrangements = []arrangement{
	{"a", "hot-chassis-line-switch", "chassis", nil, []stateCase{
		{"marked on", AsMarked, isOn, nil, 0},
		{"marked off", AsMarked, isOff, nil, 0},
		{"reversed on", Reversed, isOn, nil, 60.4},
		{"reversed off", Reversed, isOff, nil, 60.4},
		{"marked on, neutral lost", AsMarked, isOn, lost, 43.2},
		// the line filter of 0.05 µF is left: 120 / |1977.1 − j(183.8 + 53052)|
		{"marked on, neutral lost, series tube pulled", AsMarked, isOn, pulledTube("V3", lostNeutral), 2.25},
		{"marked off, neutral lost", AsMarked, isOff, lost, 0},
	}},
	{"c", "hot-chassis", "chassis", nil, []stateCase{
		{"marked on", AsMarked, isOn, nil, 0},
		{"marked off", AsMarked, isOff, nil, 43.2},
		{"marked off, no lamp", AsMarked, isOff, opened("LP1"), 42.8},
		{"marked off, series tube pulled", AsMarked, isOff, pulledTube("V2"), 0},
		{"marked off, rectifier pulled", AsMarked, isOff, pulledTube("V5"), 0},
		{"reversed on", Reversed, isOn, nil, 60.4},
		{"reversed off", Reversed, isOff, nil, 0},
		{"marked on, neutral lost", AsMarked, isOn, lost, 43.2},
	}},
	{"b", "floating-b-minus", "chassis", nil, []stateCase{
		{"marked on", AsMarked, isOn, nil, 0},
		{"marked off", AsMarked, isOff, nil, 4.45},
		{"reversed on", Reversed, isOn, nil, 4.47},
		{"reversed off", Reversed, isOff, nil, 0},
		{"marked on, neutral lost", AsMarked, isOn, lost, 4.45},
		{"C shorted, marked on", AsMarked, isOn, shortedPart("C1"), 0},
		{"C shorted, marked off", AsMarked, isOff, shortedPart("C1"), 43.2},
		{"C shorted, reversed on", Reversed, isOn, shortedPart("C1"), 60.4},
		{"C shorted, reversed off", Reversed, isOff, shortedPart("C1"), 0},
		{"C shorted, marked on, neutral lost", AsMarked, isOn, shortedPart("C1", lostNeutral), 43.2},
	}},
	{"b 470k and 0.047 uF", "floating-b-minus", "chassis", []string{`value = "0.1 uF"`, `value = "0.047 uF"`, `bands = "red red yellow silver"`, `value = "470k"`},
		[]stateCase{{"reversed on", Reversed, isOn, nil, 2.12}}},
	{"b 220k and 0.05 uF", "floating-b-minus", "chassis", []string{`value = "0.1 uF"`, `value = "0.05 uF"`}, []stateCase{{"reversed on", Reversed, isOn, nil, 2.30}}},
	{"b 220k and 0.2 uF", "floating-b-minus", "chassis", []string{`value = "0.1 uF"`, `value = "0.2 uF"`}, []stateCase{{"reversed on", Reversed, isOn, nil, 8.77}}},
	{"b 0.01 uF alone", "floating-b-minus", "chassis", []string{`value = "0.1 uF"`, `value = "0.01 uF"`},
		// the gang's 60 pF and an ohm or so of the oscillator coil are beside it: 10.06 nF
		[]stateCase{{"reversed on", Reversed, isOn, opened("R1", "R7"), 0.4547}}},
	{"b 330k and 0.02 uF", "floating-b-minus", "chassis", []string{`value = "0.1 uF"`, `value = "0.02 uF"`, `bands = "red red yellow silver"`, `value = "330k"`},
		[]stateCase{{"reversed on", Reversed, isOn, opened("R7"), 0.97}}},
	{"d", "tapped-rectifier", "chassis", nil, []stateCase{
		{"marked on", AsMarked, isOn, nil, 0},
		{"reversed on", Reversed, isOn, nil, 60.4},
		{"reversed off", Reversed, isOff, nil, 0},
		// lamp in: 791.5 Ω and 0.05 µF side by side
		{"marked off", AsMarked, isOff, nil, 43.1},
		// section and lamp open: the string is dead, the line filter is not
		{"marked off, rectifier pulled", AsMarked, isOff, pulledTube("V5"), 2.25},
	}},
	{"e", "line-cord-resistor", "chassis", nil, []stateCase{
		{"marked off", AsMarked, isOff, nil, 50.3},
		{"marked on", AsMarked, isOn, nil, 0},
		{"reversed on", Reversed, isOn, nil, 60.4},
		{"reversed off", Reversed, isOff, nil, 0},
		{"marked off, series tube pulled", AsMarked, isOff, pulledTube("V1"), 0},
		{"marked on, neutral lost", AsMarked, isOn, lost, 50.3},
	}},
	{"f", "series-string-doubler", "chassis", nil, []stateCase{
		{"marked on", AsMarked, isOn, nil, 0},
		{"marked off", AsMarked, isOff, nil, 55.0},
		{"marked off, a tube pulled", AsMarked, isOff, pulledTube("V9"), 0},
		{"reversed on", Reversed, isOn, nil, 60.4},
		{"reversed off", Reversed, isOff, nil, 0},
		{"marked on, neutral lost", AsMarked, isOn, lost, 55.0},
	}},
	{"f antenna", "series-string-doubler", "antenna 1", nil, []stateCase{
		{"reversed on", Reversed, isOn, nil, 0.122},
		{"capacitor shorted, reversed on", Reversed, isOn, shortedPart("C5"), 60.4},
	}},
	{"g", "autotransformer", "chassis", nil, []stateCase{
		{"marked on", AsMarked, isOn, nil, 0},
		{"marked off, unloaded", AsMarked, isOff, unloaded, 47.2},
		{"reversed on", Reversed, isOn, nil, 115.6},
		{"reversed off", Reversed, isOff, nil, 0},
		{"marked on, neutral lost, unloaded", AsMarked, isOn, append([]faultName{lostNeutral}, unloaded...), 47.2},
	}},
	{"g earth socket", "autotransformer", "earth socket", nil, []stateCase{{"reversed on", Reversed, isOn, nil, 0.36}}},
	{"h", "line-bypass", "chassis", nil, []stateCase{
		{"marked on", AsMarked, isOn, nil, 0},
		{"reversed on", Reversed, isOn, nil, 0.452},
		{"marked on, neutral lost", AsMarked, isOn, lost, 0.45},
		{"C shorted, reversed on", Reversed, isOn, shortedPart("C1"), 60.4},
	}},
	{"h 0.047 uF", "line-bypass", "chassis", []string{`value = ".01 mfd", rating = "600 V", type = "paper", note = "line bypass"`, `value = "0.047 uF"`},
		[]stateCase{{"reversed on", Reversed, isOn, nil, 2.12}}},
	{"h behind the switch", "line-bypass", "chassis", []string{bypassCapacitor, `C1 = { kind = "capacitor", ends = ["primary start", "chassis"], value = "20 nF" }`},
		[]stateCase{
			{"marked on", AsMarked, isOn, nil, 0.903},
			{"marked off", AsMarked, isOff, nil, 0},
			{"reversed on", Reversed, isOn, nil, 0},
			// the primary carries L2 across to it
			{"reversed off, unloaded", Reversed, isOff, nil, 0.909},
		}},
	{"i", "guitar-amplifier", "jack sleeve", nil, []stateCase{
		{"marked on", AsMarked, isOn, nil, 0},
		{"marked off", AsMarked, isOff, nil, 43.1},
		{"reversed on", Reversed, isOn, nil, 60.4},
		{"reversed off", Reversed, isOff, nil, 0},
		{"marked on, neutral lost", AsMarked, isOn, lost, 43.1},
	}},
	{"j", "three-way-portable", "chassis", nil, []stateCase{
		{"marked on", AsMarked, isOn, nil, 0},
		{"marked off", AsMarked, isOff, nil, 4.36},
		{"reversed on", Reversed, isOn, nil, 4.47},
		{"reversed off", Reversed, isOff, nil, 0},
		{"C shorted, marked off", AsMarked, isOff, shortedPart("C1"), 24.5},
		{"C shorted, reversed on", Reversed, isOn, shortedPart("C1"), 60.4},
		{"C shorted, marked off, rectifier pulled", AsMarked, isOff, pulledTube("V5", faultName{"C1", Shorted}), 0},
		{"C shorted, marked off, filament tube pulled", AsMarked, isOff, pulledTube("V2", faultName{"C1", Shorted}), 24.5},
	}},
	{"k 220 V", "european-dropper", "chassis", nil, []stateCase{
		{"marked on", AsMarked, isOn, nil, 0},
		{"marked off", AsMarked, isOff, nil, 0},
		{"marked, only L1 closed", AsMarked, isOff, []faultName{{"S1", Stuck}}, 52.5},
		{"reversed on", Reversed, isOn, nil, 110.5},
		{"reversed off", Reversed, isOff, nil, 0},
		{"marked on, neutral lost", AsMarked, isOn, lost, 52.5},
		{"marked, only L1 closed, UCH81 pulled", AsMarked, isOff, pulledTube("V1", faultName{"S1", Stuck}), 0},
	}},
	{"k earth socket", "european-dropper", "earth socket", nil, []stateCase{
		{"reversed on", Reversed, isOn, nil, 0.345},
		{"shorted, reversed on", Reversed, isOn, shortedPart("C1"), 110.5},
	}},
	{"k aerial socket", "european-dropper", "aerial socket", nil, []stateCase{{"reversed on", Reversed, isOn, nil, 0.069}}},
	{"k 230 V", "european-dropper", "chassis", []string{`mains = "220 V 50 Hz"`, `mains = "230 V 50 Hz"`}, []stateCase{
		{"reversed on", Reversed, isOn, nil, 115.6},
	}},
	{"k 0.1 uF in the socket", "european-dropper", "earth socket", []string{`value = "5 nF"`, `value = "0.1 uF"`}, []stateCase{{"reversed on", Reversed, isOn, nil, 6.87}}},
	{"l arm", "phonograph", "tone arm", nil, []stateCase{
		{"marked on", AsMarked, isOn, nil, 0},
		{"marked off", AsMarked, isOff, nil, 52.4},
		{"reversed on", Reversed, isOn, nil, 60.4},
		{"reversed off", Reversed, isOff, nil, 0},
		{"marked on, neutral lost", AsMarked, isOn, lost, 52.4},
		// the motor's path stays: 120 / |100 + j603 + 1977.1 − j183.8|
		{"marked off, every tube pulled", AsMarked, isOff, pulledTube("V1", faultName{"V2", Pulled}, faultName{"V3", Pulled}), 56.6},
	}},
	{"l motor board", "phonograph", "motor board", nil, []stateCase{
		{"winding to frame at the L1 end, marked on", AsMarked, isOn, []faultName{{"M1", InsulationOut}}, 60.4},
	}},
	{"m", "isolated-conversion", "chassis", nil, []stateCase{
		{"marked on", AsMarked, isOn, nil, 0},
		{"reversed on", Reversed, isOn, nil, 0.0134},
		// the first named of T1's faults is the primary's start to the secondary's hot end: the
		// windings are in phase, and the chassis stands 2.9 V off the neutral
		{"P1 to s1, marked on", AsMarked, isOn, []faultName{{"T1", InsulationOut}}, 1.46},
		{"P1 to s1, reversed on", Reversed, isOn, []faultName{{"T1", InsulationOut}}, 58.0},
	}},
	{"n", "done-properly", "chassis", nil, []stateCase{
		{"marked on", AsMarked, isOn, nil, 0},
		{"marked off", AsMarked, isOff, nil, 0},
		{"reversed on", Reversed, isOn, nil, 0.213},
		{"reversed off", Reversed, isOff, nil, 0.213},
		{"marked on, neutral lost", AsMarked, isOn, lost, 0.213},
		{"Y shorted, marked on", AsMarked, isOn, shortedPart("C1"), 0},
		{"Y shorted, marked off", AsMarked, isOff, shortedPart("C1"), 0},
		{"Y shorted, reversed on", Reversed, isOn, shortedPart("C1"), 60.4},
		{"Y shorted, reversed off", Reversed, isOff, shortedPart("C1"), 60.4},
		{"Y shorted, marked on, neutral lost", AsMarked, isOn, shortedPart("C1", lostNeutral), 43.2},
	}},
}

// TestStatesOfTheArrangements: the table of states of each classic arrangement.
func TestStatesOfTheArrangements(t *testing.T) {
	for _, x := range arrangements {
		c := newCircuit(t, settest.Load(t, settest.Replaced(t, settest.Example(t, x.example), x.edits...)), Bench{})
		for _, row := range x.rows {
			var faults []*Fault
			for _, f := range row.faults {
				faults = append(faults, faultOf(t, c, f.part, f.kind))
			}
			got := c.Solve(on(c, row.plug, row.at...).WithFaults(faults...)).Read(x.node, "").Milliamps
			if row.want == 0 && got >= 0.1 || row.want > 0 && (got < 0.99*row.want || got > 1.01*row.want) {
				t.Errorf("%s, %s: %.4g mA, want %.4g", x.what, row.state, got, row.want)
			}
		}
	}
}

// TestDepthsOfTheArrangements: how many safeguards stand before each arrangement's bare metal.
func TestDepthsOfTheArrangements(t *testing.T) {
	for _, x := range []struct {
		example, node   string
		depth, asMarked int
	}{
		{"hot-chassis-line-switch", "chassis", 0, 1}, // polarized: reversing it is the one failure
		{"hot-chassis", "chassis", 0, 0},
		{"hot-chassis", "volume shaft", 1, 1}, // behind a knob
		{"floating-b-minus", "chassis", 1, 1},
		{"line-cord-resistor", "chassis", 0, 0},
		{"series-string-doubler", "chassis", 0, 0},
		{"series-string-doubler", "antenna 1", 1, 1},
		{"autotransformer", "chassis", 0, 0},
		{"line-bypass", "chassis", 0, 0}, // its bypass is paper that nobody vouches for
		{"guitar-amplifier", "jack sleeve", 0, 0},
		{"three-way-portable", "chassis", 1, 1},
		{"european-dropper", "chassis", 0, 0},
		{"european-dropper", "earth socket", 1, 1},
		{"phonograph", "tone arm", 0, 0},
		{"phonograph", "motor board", 1, 1},
		{"isolated-conversion", "chassis", 1, 1},
		{"done-properly", "chassis", 1, 2},
	} {
		p := newCircuit(t, settest.Load(t, settest.Example(t, x.example)), Bench{}).Examine(Options{Faults: 2}).Point(x.node)
		if p.Depth != x.depth || p.DepthAsMarked != x.asMarked {
			t.Errorf("%s at %s: depth %d, as marked %d; want %d, %d", x.example, x.node, p.Depth, p.DepthAsMarked, x.depth, x.asMarked)
		}
	}
}
