package setfile

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"coldcheck/netlist"
)

// bases are how many pins each base has, and between which of them its heaters are. Octal and seven-pin miniature
// bases have more than one way; the filaments of battery types are between the outer pins of the latter.
var bases = map[string]struct {
	pins    int
	heaters [][2]int
}{
	"UX 4-pin":         {4, [][2]int{{1, 4}}},
	"UX 5-pin":         {5, [][2]int{{1, 5}}},
	"UX 6-pin":         {6, [][2]int{{1, 6}}},
	"UX 7-pin, small":  {7, [][2]int{{1, 7}}},
	"UX 7-pin, medium": {7, [][2]int{{1, 7}}},
	"octal":            {8, [][2]int{{2, 7}, {7, 8}, {2, 8}}},
	"loktal":           {8, [][2]int{{1, 8}}},
	"rimlock":          {8, [][2]int{{1, 8}}},
	"miniature 7-pin":  {7, [][2]int{{3, 4}, {1, 7}}},
	"noval":            {9, [][2]int{{4, 5}}},
}

// Each type's pins are those of its base, and its heater is where that base has heaters.
func TestPinsFitTheirBase(t *testing.T) {
	for _, tt := range Catalogue() {
		base, ok := bases[tt.Base]
		if !ok {
			t.Errorf("%s has the base %q, of which nothing is known here", tt.Name, tt.Base)
			continue
		}
		for _, pin := range tt.PinNumbers() {
			if pin > base.pins {
				t.Errorf("%s has a pin %d on a %s base of %d pins", tt.Name, pin, tt.Base, base.pins)
			}
		}
		if !slices.Contains(base.heaters, tt.Heater.Pins) {
			t.Errorf("the heater of %s is between pins %v of a %s base", tt.Name, tt.Heater.Pins, tt.Base)
		}
		direct := tt.Base == "miniature 7-pin" && tt.Heater.Pins == [2]int{1, 7} || tt.Base == "octal" && tt.Heater.Pins == [2]int{2, 8}
		if direct && tt.Heater.Volts > 5 {
			t.Errorf("%s has %g V where this base has filaments", tt.Name, tt.Heater.Volts)
		}
	}
}

// usualStrings are the heaters of usual sets, family by family, with the volts that are left of the mains for what else is in
// series: a dropping resistor, a line cord with a resistance, a rectifier that the catalogue has not.
var usualStrings = []struct {
	family      string
	amps        float64
	tubes       string
	mains       float64
	least, most float64 // volts that are left; less than none where the string is rated a little over its mains
}{
	{"octal, 150 mA", 0.15, "12SA7 12SK7 12SQ7 50L6GT 35Z5GT", 120, -5, 0},
	{"octal, 150 mA, six tubes", 0.15, "12SA7 12SK7 12SK7 12SQ7 35L6GT 35Z5GT", 120, -5, 0},
	{"octal, 150 mA, top caps", 0.15, "12A8GT 12K7GT 12Q7GT 35L6GT 45Z5GT", 120, 0, 5},
	{"octal, 150 mA, five tubes", 0.15, "12SA7 12SK7 12SQ7 35L6GT 35Z5GT", 120, 10, 15},
	{"miniature, 150 mA", 0.15, "12BE6 12BA6 12AV6 50C5 35W4", 120, -5, 0},
	{"miniature, 150 mA, six tubes", 0.15, "12BA6 12BE6 12BA6 12AT6 35C5 35W4", 120, -5, 0},
	{"loktal, 150 mA", 0.15, "14Q7 14A7 14B6 50A5 35Y4", 120, -5, 0},
	{"miniature, 100 mA", 0.1, "18FX6 18FW6 18FY6 32ET5", 120, 30, 40},
	{"octal, 300 mA, line cord", 0.3, "6A8 6K7 6Q7 25A6 25Z6", 120, 45, 55},
	{"UX, 300 mA, line cord", 0.3, "6A7 78 75 43 25Z5", 120, 45, 55},
	{"U series, rimlock, 100 mA", 0.1, "UCH42 UAF42 UAF42 UL41 UY41", 117, 0, 5},
	{"U series, noval, 100 mA", 0.1, "UCC85 UCH81 UBF89 UABC80 UL84 UY85", 220, 40, 60},
	{"C series, 200 mA", 0.2, "CCH35 EF39 EBC33 CL33 CY31", 220, 140, 155},
	{"battery types, 50 mA", 0.05, "1R5 1T4 1U5 3V4", 7, -0.1, 0.1},
}

// The heaters of each usual string take one current, and add up to its mains.
func TestUsualStringsAddUp(t *testing.T) {
	for _, s := range usualStrings {
		left := s.mains
		for _, name := range strings.Fields(s.tubes) {
			tube, _ := FindTubeType(name)
			if tube == nil {
				t.Errorf("%s: there is no %s", s.family, name)
				continue
			}
			left -= tube.Heater.Volts
			if math.Abs(tube.Heater.Amps-s.amps) > 1e-9 {
				t.Errorf("%s: %s takes %g A", s.family, name, tube.Heater.Amps)
			}
		}
		if left < s.least || left > s.most {
			t.Errorf("%s: %.1f V are left of %g V, want %g to %g V", s.family, left, s.mains, s.least, s.most)
		}
	}
}

var (
	numbered = regexp.MustCompile(`^(\d+)[A-Z]`) // 35W4: the figure is the heater's volts
	lettered = regexp.MustCompile(`^([ECHPU])[ABCFHLMY]`)
)

// ratedVolts are the volts that the figure of a name stands for, where that is another.
var ratedVolts = map[int][]float64{1: {1.4}, 2: {2.5}, 3: {2.8, 3.15}, 6: {6.3}, 7: {6.3}, 12: {12.6}, 14: {12.6}, 17: {16.8}}

// ratedAmps are the currents that the first letter of a name stands for.
var ratedAmps = map[string]float64{"C": 0.2, "H": 0.15, "P": 0.3, "U": 0.1}

// The heater of each type is what its name says of it: the volts by the figure in front, the current by the first letter.
func TestHeatersAreAsNamed(t *testing.T) {
	seen := 0
	for _, tt := range Catalogue() {
		if m := numbered.FindStringSubmatch(tt.Name); m != nil && tt.Name != "1V" { // 1V was named before there was a rule
			figure, _ := strconv.Atoi(m[1])
			want := ratedVolts[figure]
			if want == nil {
				want = []float64{float64(figure)}
			}
			if !slices.Contains(want, tt.Heater.Volts) {
				t.Errorf("%s has a heater of %g V", tt.Name, tt.Heater.Volts)
			}
			seen++
		}
		if m := lettered.FindStringSubmatch(tt.Name); m != nil {
			if want := ratedAmps[m[1]]; want != 0 && math.Abs(tt.Heater.Amps-want) > 1e-9 || want == 0 && tt.Heater.Volts != 6.3 {
				t.Errorf("%s has a heater of %g V, %g A", tt.Name, tt.Heater.Volts, tt.Heater.Amps)
			}
			seen++
		}
	}
	if seen < 200 {
		t.Errorf("only %d names were read", seen)
	}
}

// Types of which pins are taken for granted are there, and each says which.
func TestDoubtfulTypesSayWhichPins(t *testing.T) {
	doubtful := 0
	for _, tt := range Catalogue() {
		if tt.Doubtful == "" {
			continue
		}
		doubtful++
		if !strings.Contains(tt.Doubtful, "pin") {
			t.Errorf("%s is doubtful, and does not say which pins: %s", tt.Name, tt.Doubtful)
		}
		for _, m := range regexp.MustCompile(`\d+`).FindAllString(tt.Doubtful, -1) {
			if pin, _ := strconv.Atoi(m); !slices.Contains(tt.PinNumbers(), pin) {
				t.Errorf("%s has no pin %d, and is said to be doubtful there", tt.Name, pin)
			}
		}
	}
	if doubtful < 19 {
		t.Errorf("only %d types are doubtful", doubtful)
	}
}

// A type by another name of it is the type, its suffix left out too; of a file's own types likewise.
func TestOtherNamesAreTheType(t *testing.T) {
	others := 0
	for _, tt := range Catalogue() {
		for _, name := range tt.Also {
			others++
			if found, _ := FindTubeType(strings.ToLower(name)); found != tt {
				t.Errorf("%s in small letters is not %s", name, tt.Name)
			}
			set, err := Load("f", strings.NewReader("[set]\nname = \"bench\"\n[nodes]\nchassis = { touch = \"chassis\" }\n[parts]\nPL1 = { kind = \"plug\", ends = [\"a\", \"chassis\"] }\n"+
				"V1 = { kind = \"tube\", type = "+strconv.Quote(name)+", pins = { "+strconv.Itoa(tt.Heater.Pins[0])+" = \"a\", "+strconv.Itoa(tt.Heater.Pins[1])+" = \"chassis\" } }\n"))
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			if d := set.Part("V1").Detail.(*netlist.Tube); d.Type.Name != tt.Name || d.TypeName != name {
				t.Errorf("%s is taken as %s", name, d.Type.Name)
			}
		}
	}
	if others < 50 {
		t.Errorf("only %d other names", others)
	}
}
