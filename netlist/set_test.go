package netlist

import (
	"slices"
	"strings"
	"testing"
)

// twinDiode is a made-up type: a tapped heater on 2, 3 and 1, a rectifier, a small diode, a pentode.
var twinDiode = &TubeType{
	Heater:     &Heater{Pins: [2]int{2, 3}, Volts: 12.6, Amps: 0.15, Tap: &Tap{Pin: 1, Volts: 6.3, From: 2}},
	Cathodes:   []int{4},
	Elements:   map[int]string{12: "shell"},
	Rectifiers: []Section{{5, 4}},
	Diodes:     []Section{{6, 7}},
	Grids:      []Section{{8, 9}},
	Working:    []Working{{Plate: 10, Screen: 11, Cathode: 9}},
}

// TestPins: every pin that a type says anything of, each once and in order, is called by what it is.
func TestPins(t *testing.T) {
	want := []string{"heater tap", "heater", "heater", "cathode", "plate", "diode plate", "cathode", "grid", "cathode", "plate", "screen", "shell"}
	numbers := twinDiode.PinNumbers()
	if len(numbers) != len(want) {
		t.Fatalf("pins %v", numbers)
	}
	for i, pin := range numbers {
		if pin != i+1 || twinDiode.PinName(pin) != want[i] {
			t.Errorf("pin %d is %s, want %d and %s", pin, twinDiode.PinName(pin), i+1, want[i])
		}
	}
	if name := twinDiode.PinName(13); name != "unnamed" {
		t.Errorf("pin 13 is %s", name)
	}
	triode := &TubeType{Working: []Working{{Plate: 1, Cathode: 2}}}
	if pins := triode.PinNumbers(); !slices.Equal(pins, []int{1, 2}) {
		t.Errorf("a triode has pins %v", pins)
	}
	for pin := range 5 {
		if got := twinDiode.Heater.HasPin(pin); got != (pin >= 1 && pin <= 3) {
			t.Errorf("pin %d is of the heater: %v", pin, got)
		}
	}
	tube := &Tube{Type: twinDiode, Pins: []Pin{{2, "a"}, {3, "b"}}}
	if tube.Node(2) != "a" || tube.Node(3) != "b" || tube.Node(4) != "" {
		t.Errorf("pins lead to %q, %q, %q", tube.Node(2), tube.Node(3), tube.Node(4))
	}
}

// TestFilaments: a heater that is a cathode is a filament; one beside a cathode of its own is none.
func TestFilaments(t *testing.T) {
	heater := &Heater{Pins: [2]int{1, 7}}
	for name, c := range map[string]struct {
		tube *TubeType
		want bool
	}{
		"filament":             {&TubeType{Heater: heater, Working: []Working{{Plate: 2, Cathode: 7}}}, true},
		"filament diode":       {&TubeType{Heater: heater, Rectifiers: []Section{{2, 1}}}, true},
		"cathode":              {&TubeType{Heater: heater, Cathodes: []int{3}, Working: []Working{{Plate: 2, Cathode: 3}}}, false},
		"cathode of no table":  {&TubeType{Heater: heater, Working: []Working{{Plate: 2, Cathode: 3}}}, false},
		"no heater":            {&TubeType{Working: []Working{{Plate: 2, Cathode: 7}}}, false},
		"nothing said, a file": {&TubeType{Heater: heater, FromFile: true}, true},
		"nothing said":         {&TubeType{Heater: heater}, false},
	} {
		if got := c.tube.DirectlyHeated(); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// TestPartsOfASet: parts and points are found by name, the plug by its kind, touch points in the order of the file.
func TestPartsOfASet(t *testing.T) {
	set := NewSet(&Document{File: "set.toml"})
	plug := &Plug{Hot: "L", Neutral: "N"}
	for _, p := range []*Part{{Name: "R1", Kind: KindResistor, Detail: &Resistor{}}, {Name: "PL1", Kind: KindPlug, Detail: plug}} {
		set.AddPart(p)
	}
	for _, n := range []*Node{{Name: "screws", Touch: "fastener"}, {Name: "L"}, {Name: "chassis", Touch: "chassis"}} {
		set.AddNode(n)
	}
	if p, of := set.Plug(); p != set.Parts[1] || of != plug {
		t.Errorf("the plug is %v", p)
	}
	if set.Part("R1") != set.Parts[0] || set.Part("R2") != nil || set.Node("L") != set.Nodes[1] || set.Node("M") != nil {
		t.Error("a part or a point is not found by its name, or one that is not there is")
	}
	if points := set.TouchPoints(); len(points) != 2 || points[0].Name != "screws" || points[1].Name != "chassis" {
		t.Errorf("touch points %v", points)
	}
	if p, of := NewSet(&Document{}).Plug(); p != nil || of != nil {
		t.Error("an empty set has a plug")
	}
	for earthed, want := range map[string]bool{"": false, EarthedNeutral: false, EarthedMidpoint: true, EarthedStar: true, EarthedNowhere: true} {
		if got := (&Set{Earthed: earthed}).BothHot(); got != want {
			t.Errorf("%q: both hot %v", earthed, got)
		}
	}
	for _, touch := range TouchKinds {
		if got := Coupled(touch); got != slices.Contains([]string{"antenna", "ground", "jack"}, touch) {
			t.Errorf("%s: coupled %v", touch, got)
		}
	}
}

// TestTwoLeads: what can be taken out of one place by its two leads.
func TestTwoLeads(t *testing.T) {
	two, three := make([]Terminal, 2), make([]Terminal, 3)
	for name, c := range map[string]struct {
		part Part
		want bool
	}{
		"resistor": {Part{Kind: KindResistor, Terminals: two}, true},
		"selector": {Part{Kind: KindSelector, Terminals: three}, false},
		"plug":     {Part{Kind: KindPlug, Terminals: two}, false},
		"tube":     {Part{Kind: KindTube, Terminals: two}, false},
		"control":  {Part{Kind: KindPotentiometer, Terminals: three, Detail: &Potentiometer{Ends: Ends{"a", "b"}, Wiper: "c"}}, false},
	} {
		if got := c.part.HasTwoLeads(); got != c.want {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// TestProblemsInOrder: by line, then column, and what is told twice once.
func TestProblemsInOrder(t *testing.T) {
	var all Problems
	for _, at := range [][2]int{{3, 1}, {1, 9}, {1, 2}, {3, 1}} {
		all.Addf(Pos{"set.toml", at[0], at[1]}, "slip %d", 7)
	}
	want := "set.toml:1:2: slip 7\nset.toml:1:9: slip 7\nset.toml:3:1: slip 7"
	if got := all.Sorted().Error(); got != want {
		t.Errorf("told:\n%s", got)
	}
	if got := (Pos{File: "set.toml"}).String(); got != "set.toml" {
		t.Errorf("without a line: %s", got)
	}
}

// TestMains: volts and hertz, AC alone, within belief.
func TestMains(t *testing.T) {
	for text, want := range map[string][2]float64{
		"120 V 60 Hz": {120, 60}, "230V/50Hz": {230, 50}, "117 volts AC, 60 cycles": {117, 60}, "1000 V 1000 Hz": {1000, 1000}, " 110 V a.c. 25 Hz ": {110, 25},
	} {
		if volts, hertz, err := ParseMains(text); err != nil || volts != want[0] || hertz != want[1] {
			t.Errorf("%s: %g V, %g Hz, %v", text, volts, hertz, err)
		}
	}
	for text, want := range map[string]string{
		"110 V DC": "only AC mains", "120": "needs volts and hertz", "1001 V 60 Hz": "beyond belief", "120 V 1.1 kHz": "beyond belief", "x V 60 Hz": "mains:",
	} {
		if _, _, err := ParseMains(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
}

// TestNames: of points any that can be written in a line, of parts a few letters.
func TestNames(t *testing.T) {
	if name, wrong := CheckNodeName(" line 1 "); name != "line 1" || wrong != "" {
		t.Errorf("%q, %q", name, wrong)
	}
	if name, wrong := CheckNodeName(strings.Repeat("é", MaxNameRunes)); len(name) != 2*MaxNameRunes || wrong != "" {
		t.Errorf("a name of the most letters is refused: %s", wrong)
	}
	for text, want := range map[string]string{" ": "is empty", strings.Repeat("a", MaxNameRunes+1): "is longer than", "a\tb": "control character"} {
		if _, wrong := CheckNodeName(text); !strings.Contains(wrong, want) {
			t.Errorf("%q: %q", text, wrong)
		}
	}
	for name, want := range map[string]bool{"C1": true, "PL-1_a": true, "": false, "C 1": false, strings.Repeat("C", 32): true, strings.Repeat("C", 33): false} {
		if got := IsPartName(name); got != want {
			t.Errorf("%q is a part's name: %v", name, got)
		}
	}
}

// TestTouchWords: names that speak of metal in reach, whole words alone.
func TestTouchWords(t *testing.T) {
	for name, want := range map[string]string{
		"chassis": "chassis", "volume shaft": "control", "Tuning-Shafts": "control", "cabinet screws": "fastener", "earth terminal": "ground",
		"antenna lead": "antenna", "mid": "", "tankshaft": "", "tone arm": "pickup",
	} {
		if _, kind := TouchWord(name); kind != want {
			t.Errorf("%s is a %q, want %q", name, kind, want)
		}
	}
}
