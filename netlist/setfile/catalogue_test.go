package setfile

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
)

func TestCatalogueIsConsistent(t *testing.T) {
	types, problems := readTypes([]byte(tubesTOML))
	for _, p := range problems {
		t.Error(p)
	}
	all := Catalogue()
	if len(all) < 60 || len(all) != len(types) {
		t.Errorf("the catalogue has %d types of %d read, want 60 and more", len(all), len(types))
	}
	if !slices.IsSortedFunc(all, func(a, b *netlist.TubeType) int { return strings.Compare(a.Name, b.Name) }) {
		t.Error("the catalogue is not sorted")
	}
	// Read one by one the types are what they are read all at once.
	slices.SortFunc(types, func(a, b *netlist.TubeType) int { return strings.Compare(a.Name, b.Name) })
	if diff := cmp.Diff(types, all); diff != "" {
		t.Error(diff)
	}
	for _, tt := range all {
		t.Run(strings.ReplaceAll(tt.Name, "/", "-"), func(t *testing.T) { checkType(t, tt) })
	}
}

func checkType(t *testing.T, tt *netlist.TubeType) {
	if tt.Use == "" || tt.Base == "" || tt.FromFile {
		t.Error("it lacks its use or its base, or is said to be a file's")
	}
	if tt.Heater == nil {
		t.Fatal("it has no heater")
	}
	checkHeater(t, tt.Heater)
	checkElectrodes(t, tt)
	checkSections(t, tt)
	for pin, name := range tt.Elements {
		if name == "" {
			t.Errorf("pin %d has no name", pin)
		}
	}
	for _, pin := range tt.PinNumbers() {
		if name := tt.PinName(pin); name == "unnamed" || pin > 14 {
			t.Errorf("pin %d is %s", pin, name)
		}
	}
	if found, several := FindTubeType(tt.Name); found != tt || several != nil {
		t.Errorf("its name finds %v, %v", found, several)
	}
}

func checkHeater(t *testing.T, h *netlist.Heater) {
	t.Helper()
	if h.Pins[0] == h.Pins[1] || h.Volts < 1 || h.Volts > 120 || h.Amps < 0.02 || h.Amps > 3.5 {
		t.Errorf("its heater is %+v", *h)
	}
	if tap := h.Tap; tap != nil && (tap.Volts >= h.Volts || tap.From != h.Pins[0] && tap.From != h.Pins[1] ||
		tap.Pin == h.Pins[0] || tap.Pin == h.Pins[1]) {
		t.Errorf("its tap is %+v of a heater %+v", *tap, *h)
	}
}

// checkElectrodes: no pin is two things that exclude each other.
func checkElectrodes(t *testing.T, tt *netlist.TubeType) {
	t.Helper()
	for _, c := range tt.Cathodes {
		if tt.Heater.HasPin(c) {
			t.Errorf("its cathode, pin %d, is a pin of its heater", c)
		}
	}
	for _, s := range tt.Rectifiers {
		if s.Anode == s.Cathode || tt.Heater.HasPin(s.Anode) || slices.Contains(tt.Cathodes, s.Anode) {
			t.Errorf("its rectifying section is %+v", s)
		}
		if !tt.Heater.HasPin(s.Cathode) && !slices.Contains(tt.Cathodes, s.Cathode) {
			t.Errorf("the cathode of its section, pin %d, is neither a cathode nor a heater pin", s.Cathode)
		}
	}
}

// checkSections: what conducts one way or amplifies stands on pins of their own, in figures that a tube may have.
func checkSections(t *testing.T, tt *netlist.TubeType) {
	t.Helper()
	isCathode := func(pin int) bool {
		return slices.Contains(tt.Cathodes, pin) || tt.Heater.HasPin(pin) && len(tt.Cathodes) == 0
	}
	named := func(pin int, what ...string) bool {
		return slices.ContainsFunc(what, func(word string) bool { return strings.Contains(tt.PinName(pin), word) })
	}
	for _, s := range tt.Diodes {
		if !isCathode(s.Cathode) || tt.Heater.HasPin(s.Anode) || !named(s.Anode, "diode", "plate") {
			t.Errorf("a diode is %+v, of %s and %s", s, tt.PinName(s.Anode), tt.PinName(s.Cathode))
		}
	}
	for _, s := range tt.Grids {
		if !isCathode(s.Cathode) || tt.Heater.HasPin(s.Anode) || !named(s.Anode, "grid") {
			t.Errorf("a grid is %+v, of %s and %s", s, tt.PinName(s.Anode), tt.PinName(s.Cathode))
		}
	}
	for _, w := range tt.Working {
		if !isCathode(w.Cathode) || !named(w.Plate, "plate", "anode", "target") || w.PlateVolts < 20 || w.PlateVolts > 500 || w.PlateAmps < 5e-5 || w.PlateAmps > 0.2 {
			t.Errorf("a working point is %+v, of %s", w, tt.PinName(w.Plate))
		}
		if w.Screen != 0 && (!named(w.Screen, "screen", "grids") || w.ScreenVolts < 20 || w.ScreenVolts > 500 || w.ScreenAmps <= 0 || w.ScreenAmps > 0.05) {
			t.Errorf("a working point is %+v, of screen %s", w, tt.PinName(w.Screen))
		}
	}
	if d := tt.Drop; (d.Volts > 0) != (d.Amps > 0) || d.Volts > 0 && (len(tt.Rectifiers) == 0 || d.Volts < 5 || d.Volts > 100 || d.Amps < 0.01 || d.Amps > 1) {
		t.Errorf("its drop is %+v", d)
	}
	for _, name := range tt.Also {
		if found, several := FindTubeType(name); found != tt || several != nil {
			t.Errorf("its other name %s finds %v, %v", name, found, several)
		}
	}
}

// Each name, and each without its suffix, means one type.
func TestNamesOfTheCatalogueAreTheirOwn(t *testing.T) {
	owner := map[string]string{}
	for _, tt := range Catalogue() {
		for _, name := range append([]string{tt.Name}, tt.Also...) {
			for _, base := range tubeBases(name) {
				if other := owner[base]; other != "" && other != tt.Name {
					t.Errorf("%s means %s and %s", base, other, tt.Name)
				}
				owner[base] = tt.Name
			}
		}
	}
}

// What the catalogue takes for granted it says, and which type carries what.
func TestCatalogueKnows(t *testing.T) {
	tube := func(name string) *netlist.TubeType { t.Helper(); tt, _ := FindTubeType(name); return tt }
	doubtful := 0
	for _, tt := range Catalogue() {
		if tt.Doubtful != "" {
			doubtful++
		}
	}
	if doubtful != 19 || tube("25Z4").Doubtful != "pins 5 and 8" || tube("35W4").Doubtful != "" {
		t.Errorf("%d types are doubtful", doubtful)
	}
	if got, want := tube("12SQ7").Diodes, []netlist.Section{{Anode: 4, Cathode: 3}, {Anode: 5, Cathode: 3}}; !slices.Equal(got, want) {
		t.Errorf("the diodes of a 12SQ7 are %v", got)
	}
	if got, want := tube("50C5").Grids, []netlist.Section{{Anode: 2, Cathode: 1}, {Anode: 5, Cathode: 1}}; !slices.Equal(got, want) {
		t.Errorf("the grids of a 50C5 are %v", got)
	}
	if got := tube("12SK7").Working; len(got) != 1 || got[0].PlateAmps != 0.013 || got[0].Screen != 6 {
		t.Errorf("a 12SK7 works at %v", got)
	}
	if got := tube("35W4").Drop; got.Volts <= 0 || got.Amps <= 0 {
		t.Errorf("the drop of a 35W4 is %v", got)
	}
	for name, want := range map[string]bool{"1R5": true, "5Y3GT": true, "35W4": false, "PY81": false} {
		if tt := tube(name); tt.DirectlyHeated() != want {
			t.Errorf("%s is directly heated: %v", name, !want)
		}
	}
}

func TestFindTubeType(t *testing.T) {
	tests := []struct {
		in, want string
	}{
		{"35W4", "35W4"}, {"35w4", "35W4"}, {"35 W4", "35W4"}, {"35Z5", "35Z5GT"}, {"35Z5GT", "35Z5GT"}, {"35Z5-GT/G", "35Z5GT"},
		{"50L6G", "50L6GT"}, {"12SA7GT/G", "12SA7"}, {"12SK7M", "12SK7"}, {"12AX7A", "12AX7"}, {"6SN7GTB", "6SN7GT"},
		{"5U4GB", "5U4G"}, {"39", "39/44"}, {"44", "39/44"}, {"6Z4", "84/6Z4"}, {"UCH81", "UCH81"}, {"uch-81", "UCH81"},
		{"ECC83", "12AX7"}, {"ecc 83", "12AX7"}, {"6bm8", "ECL82"}, {"6BQ5A", "EL84"}, {"GZ34", "5AR4"}, {"6SF5GT", "6SF5"},
		{"35W9", ""}, {"", ""}, {"GT", ""}, {"W4", ""}, {"35", ""},
	}
	for _, tt := range tests {
		got, several := FindTubeType(tt.in)
		switch {
		case tt.want == "" && (got != nil || len(several) > 0):
			t.Errorf("FindTubeType(%q) = %v, %v, want none", tt.in, got, several)
		case tt.want != "" && (got == nil || got.Name != tt.want):
			t.Errorf("FindTubeType(%q) = %v, %v, want %s", tt.in, got, several, tt.want)
		}
	}
}

// Where two types differ in their suffix alone, a third suffix fits both and so neither.
func TestSeveralTypesFit(t *testing.T) {
	text := strings.Replace(filetest.BenchHead, "[parts]", `[tube_types]
"99X9" = { heater = { pins = [1, 2], volts = 6, amps = 1 } }
"99X9GT" = { heater = { pins = [3, 4], volts = 6, amps = 1 } }
[parts]`, 1)
	for name, want := range map[string]string{"99X9": "99X9", "99X9GT": "99X9GT", "99x9": "99X9"} {
		set, err := Load("f", strings.NewReader(text+`V1 = { kind = "tube", type = "`+name+`", pins = {`+map[string]string{"99X9": "1", "99X9GT": "3"}[want]+` = "line 1" } }`))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if d := set.Part("V1").Detail.(*netlist.Tube); d.Type.Name != want || !d.Type.FromFile || d.TypeName != name {
			t.Errorf("%s is taken as %s", name, d.Type.Name)
		}
	}
	set, err := Load("f", strings.NewReader(text+`V1 = { kind = "tube", type = "99X9G", pins = { 1 = "line 1" } }`))
	problems := problemsOf(t, set, err)
	if len(problems) != 1 || !strings.Contains(problems[0].Text, `several tube types fit "99X9G"; write which one it is: "99X9" or "99X9GT"`) {
		t.Errorf("got %v", problems)
	}
}

// The table that an unknown type's error prints can be pasted, is refused as long as it is not
// filled in, and then makes the type known.
func TestBlockOfAnUnknownTypeCanBePasted(t *testing.T) {
	text := filetest.BenchHead + `V1 = { kind = "tube", type = "99 \"X\"", pins = { 3 = "line 1", 4 = "chassis", 5 = "line 1", 7 = "b" } }` + "\n"
	set, err := Load("f", strings.NewReader(text))
	problems := problemsOf(t, set, err)
	_, block, found := strings.Cut(problems[0].Text, "manual:\n")
	if !found || len(problems) != 1 {
		t.Fatalf("got %v", problems)
	}
	set, err = Load("f", strings.NewReader(text+block))
	for _, p := range problemsOf(t, set, err) {
		if p.Pos.Line <= strings.Count(text, "\n") {
			t.Errorf("beside the block itself: %v", p)
		}
	}
	filled := strings.NewReplacer("pins = [0, 0], volts = 0, amps = 0", "pins = [3, 4], volts = 35, amps = 0.15",
		"anode = 0, cathode = 0", "anode = 5, cathode = 7", "cathodes   = [0]", "cathodes = [7]").Replace(block)
	set, err = Load("f", strings.NewReader(text+filled))
	if err != nil {
		t.Fatal(err)
	}
	if d := set.Part("V1").Detail.(*netlist.Tube); len(d.Pins) != 4 || len(d.Type.Rectifiers) != 1 || d.Type.Heater.Volts != 35 {
		t.Errorf("the type is %+v", d.Type)
	}
}
