package netlist

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Abs(b) }

var valueTexts = []struct {
	text string
	unit Unit
	want float64
}{
	{"220k", Ohm, 220e3},
	{"220 kohm", Ohm, 220e3},
	{"220 k ohms", Ohm, 220e3},
	{"220K", Ohm, 220e3},
	{"220 kΩ", Ohm, 220e3},
	{"220 k\u2126", Ohm, 220e3},
	{"2.2 meg", Ohm, 2.2e6},
	{"2.2 Megohm", Ohm, 2.2e6},
	{"2.2 MEG", Ohm, 2.2e6},
	{"1.2M", Ohm, 1.2e6},
	{"4k7", Ohm, 4700},
	{"4K7", Ohm, 4700},
	{"2M2", Ohm, 2.2e6},
	{"4R7", Ohm, 4.7},
	{"4k7 ohm", Ohm, 4700},
	{"10R", Ohm, 10},
	{"450", Ohm, 450},
	{"450 ohm", Ohm, 450},
	{"1e3", Ohm, 1000},
	{" 10 meg ", Ohm, 10e6},
	{"+5", Ohm, 5},
	{"5.", Ohm, 5},
	{"1 TΩ", Ohm, 1e12},
	{"0.05 uF", Farad, 0.05e-6},
	{".05 mfd", Farad, 0.05e-6},
	{".05 MFD", Farad, 0.05e-6},
	{"0.05 µF", Farad, 0.05e-6},      // micro sign
	{"0.05 \u03bcF", Farad, 0.05e-6}, // Greek mu
	{"0.25 mf", Farad, 0.25e-6},
	{"0.25 MF", Farad, 0.25e-6},
	{"0.25 mF", Farad, 0.25e-6},
	{"250 mmf", Farad, 250e-12},
	{"250 mmfd", Farad, 250e-12},
	{"250 MMF", Farad, 250e-12},
	{"250 uuF", Farad, 250e-12},
	{"250 µµF", Farad, 250e-12},
	{"250 pf", Farad, 250e-12},
	{"250PF", Farad, 250e-12},
	{"47 nF", Farad, 47e-9},
	{"47NF", Farad, 47e-9},
	{"4n7F", Farad, 4.7e-9},
	{"1 F", Farad, 1},
	{"1.5 H", Henry, 1.5},
	{"20 mH", Henry, 20e-3},
	{"190 uH", Henry, 190e-6},
	{"15 mA", Ampere, 15e-3},
	{"0.15", Ampere, 0.15},
	{"40 uA", Ampere, 40e-6},
	{"6.3 V", Volt, 6.3},
	{"6.3 volts", Volt, 6.3},
	{"1 kV", Volt, 1000},
	{"0.5 W", Watt, 0.5},
	{"60 Hz", Hertz, 60},
	{"60 hz", Hertz, 60},
	{"60 cycles", Hertz, 60},
	{"60 Cycles", Hertz, 60},
	{"1/2 meg", Ohm, 0.5e6},
	{"1/2 W", Watt, 0.5},
	{"3/4 A", Ampere, 0.75},
	{"1/4W", Watt, 0.25},
	{"10/20 k", Ohm, 500},
	{"220,000", Ohm, 220e3},
	{"1,000,000 ohms", Ohm, 1e6},
	{"2,200.5", Ohm, 2200.5},
	{"117v", Volt, 117},
	{"20 mfd", Farad, 20e-6},
	{"16.7Hz", Hertz, 16.7},
}

func TestParseValue(t *testing.T) {
	for _, tt := range valueTexts {
		if got, err := ParseValue(tt.text, tt.unit); err != nil || !near(got, tt.want) {
			t.Errorf("ParseValue(%q, %s) = %v, %v, want %v", tt.text, tt.unit, got, err, tt.want)
		}
	}
}

func TestParseValueRefuses(t *testing.T) {
	tests := []struct {
		text string
		unit Unit
		want string // a fragment of what is said
	}{
		{"", Ohm, "empty"},
		{"-5k", Ohm, "negative"},
		{"−5k", Ohm, "negative"}, // a minus sign as typeset
		{"0", Ohm, "zero"},
		{"0k", Ohm, "zero"},
		{"nan", Ohm, "not a value in ohms"},
		{"inf", Ohm, "not a value in ohms"},
		{"1e999", Ohm, "not a finite number"},
		{"2 T", Ohm, "beyond belief"},
		{"5 V", Ohm, "in volts, and ohms are wanted"},
		{"5 kk", Ohm, "not a value"},
		{"5 5", Ohm, "not a value"},
		{"4k7k", Ohm, "not a value"},
		{"4.5k7", Ohm, "not a value"},
		{"4k", Volt, ""}, // a prefix alone will do
		{"2,2k", Ohm, "has a comma"},
		{"1,00", Ohm, "has a comma"},
		{"1,0000", Ohm, "has a comma"},
		{"1234,000", Ohm, "has a comma"},
		{"1,000,00", Ohm, "has a comma"},
		{"1/0 W", Watt, "is a fraction"},
		{"1/2/3 W", Watt, "is a fraction"},
		{"1/2k7", Ohm, "not a value"},
		{"1/2 V", Ohm, "in volts, and ohms are wanted"},
		{"1/2", Farad, "has no unit"},
		{"½ W", Watt, "not a value"},
		{"0.05", Farad, "has no unit"},
		{"47n", Farad, "has no unit"},
		{"4n7", Farad, "has no unit"},
		{"50 m", Farad, "has no unit"},
		{"4m7F", Farad, "not a value"},
		{"2 F", Farad, "beyond belief"},
		{"1 kF", Farad, "not a value"},
		{"0.0001 pF", Farad, "beyond belief"},
		{"5 A", Volt, "in amps, and volts are wanted"},
		{"15 MA", Ampere, "beyond belief"},
		{"60 bicycles", Hertz, "not a value in hertz"},
		{"ohm", Ohm, "not a value"},
		{"k", Ohm, "not a value"},
		{".", Ohm, "not a value"},
	}
	for _, tt := range tests {
		got, err := ParseValue(tt.text, tt.unit)
		switch {
		case tt.want == "":
			if err != nil {
				t.Errorf("ParseValue(%q, %s): %v", tt.text, tt.unit, err)
			}
		case err == nil || !strings.Contains(err.Error(), tt.want):
			t.Errorf("ParseValue(%q, %s) = %v, %v, want an error that says %q", tt.text, tt.unit, got, err, tt.want)
		case got != 0:
			t.Errorf("ParseValue(%q, %s) = %v beside the error", tt.text, tt.unit, got)
		}
	}
}

func TestFormatValue(t *testing.T) {
	tests := []struct {
		x    float64
		unit Unit
		want string
	}{
		{220e3, Ohm, "220 kΩ"},
		{2.2e6, Ohm, "2.2 MΩ"},
		{4.7, Ohm, "4.7 Ω"},
		{0.47, Ohm, "0.47 Ω"},
		{1e12, Ohm, "1 TΩ"},
		{999.9999, Ohm, "1 kΩ"},
		{0.1e-6, Farad, "0.1 µF"},
		{0.047e-6, Farad, "0.047 µF"},
		{4.7e-9, Farad, "4.7 nF"},
		{250e-12, Farad, "250 pF"},
		{40e-6, Farad, "40 µF"},
		{2e-3, Farad, "2000 µF"},
		{15e-3, Ampere, "15 mA"},
		{1.5, Ampere, "1.5 A"},
		{40e-6, Ampere, "40 µA"},
		{120, Volt, "120 V"},
		{0.75, Volt, "0.75 V"},
		{1200, Volt, "1200 V"},
		{0.5, Watt, "0.5 W"},
		{60, Hertz, "60 Hz"},
		{20e-3, Henry, "20 mH"},
		{1.0 / 3, Volt, "0.333333 V"},
		{0, Ampere, "0 A"},
		{-12.5, Volt, "-12.5 V"},
		// Each prefix from where it begins, and what is just below.
		{1e9, Ohm, "1 GΩ"}, {0.999e9, Ohm, "999 MΩ"}, {0.01, Ohm, "0.01 Ω"}, {9e-3, Ohm, "9 mΩ"}, {1e-3, Ohm, "1 mΩ"}, {9e-4, Ohm, "900 µΩ"},
		{1, Farad, "1 F"}, {0.5, Farad, "500000 µF"}, {1e-8, Farad, "0.01 µF"}, {9.9e-9, Farad, "9.9 nF"}, {1e-9, Farad, "1 nF"}, {9e-10, Farad, "900 pF"}, {5e-13, Farad, "0.5 pF"},
		{1, Henry, "1 H"}, {0.9, Henry, "900 mH"}, {1e-3, Henry, "1 mH"}, {9e-4, Henry, "900 µH"}, {1e-6, Henry, "1 µH"}, {9e-7, Henry, "900 nH"}, {1e-9, Henry, "1 nH"}, {9e-10, Henry, "900 pH"},
		{1e4, Volt, "10 kV"}, {9999, Volt, "9999 V"}, {0.1, Volt, "0.1 V"}, {0.09, Volt, "90 mV"}, {1e-3, Volt, "1 mV"}, {9e-4, Volt, "900 µV"},
		{1, Ampere, "1 A"}, {0.9, Ampere, "900 mA"}, {1e-3, Ampere, "1 mA"}, {1e-6, Ampere, "1 µA"}, {9e-7, Ampere, "900 nA"}, {1e-9, Ampere, "1 nA"}, {9e-10, Ampere, "900 pA"},
		{1e3, Watt, "1 kW"}, {999, Watt, "999 W"}, {0.1, Watt, "0.1 W"}, {0.09, Watt, "90 mW"}, {1e-3, Watt, "1 mW"}, {9e-4, Watt, "900 µW"}, {1e-6, Watt, "1 µW"}, {9e-7, Watt, "900 nW"},
		{1e4, Hertz, "10 kHz"}, {9999, Hertz, "9999 Hz"},
	}
	for _, tt := range tests {
		if got := FormatValue(tt.x, tt.unit); got != tt.want {
			t.Errorf("FormatValue(%v, %s) = %q, want %q", tt.x, tt.unit, got, tt.want)
		}
	}
}

// What is printed is read back as the same value to six digits.
func TestValuesSurvivePrinting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom(Units).Draw(t, "unit")
		facts := units[unit]
		power := rapid.Float64Range(math.Log10(facts.min)+1e-6, math.Log10(facts.max)-1e-6).Draw(t, "power")
		x := math.Pow(10, power)
		text := FormatValue(x, unit)
		back, err := ParseValue(text, unit)
		if err != nil {
			t.Fatalf("%v is printed as %q, which is refused: %v", x, text, err)
		}
		if math.Abs(back-x) > 5.001e-6*x {
			t.Fatalf("%v is printed as %q and read back as %v", x, text, back)
		}
		if again := FormatValue(back, unit); again != text {
			t.Fatalf("%v is printed as %q, read back and printed as %q", x, text, again)
		}
	})
}

// Blanks are free, and a prefix only moves the point.
func TestValuesScaleWithTheirPrefix(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		digits := rapid.IntRange(1, 999).Draw(t, "digits")
		blank := rapid.SampledFrom([]string{"", " ", "  "}).Draw(t, "blank")
		p := rapid.SampledFrom([]struct {
			prefix string
			scale  float64
		}{{"", 1}, {"k", 1e3}, {"K", 1e3}, {"M", 1e6}, {"meg", 1e6}, {"G", 1e9}, {"m", 1e-3}}).Draw(t, "prefix")
		word := rapid.SampledFrom([]string{"", "ohm", "ohms", "Ω"}).Draw(t, "word")
		text := FormatValue(float64(digits), Ohm)
		text = strings.TrimSuffix(strings.TrimSuffix(text, " Ω"), " kΩ") + blank + p.prefix + blank + word
		got, err := ParseValue(text, Ohm)
		if err != nil || !near(got, float64(digits)*p.scale) {
			t.Fatalf("ParseValue(%q) = %v, %v, want %v", text, got, err, float64(digits)*p.scale)
		}
	})
}

func TestParsingNeverPanics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom(Units).Draw(t, "unit")
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[-+.0-9kKMmunpµFHVAWΩeE/, ]{0,12}`)).Draw(t, "text")
		x, err := ParseValue(text, unit)
		if least, most := unit.Range(); err == nil && (x < least || x > most) {
			t.Fatalf("ParseValue(%q, %s) = %v, which is out of range", text, unit, x)
		}
		if err != nil && x != 0 {
			t.Fatalf("ParseValue(%q, %s) = %v beside the error %v", text, unit, x, err)
		}
	})
}

func TestParseBands(t *testing.T) {
	tests := []struct {
		text            string
		ohms, tolerance float64
	}{
		{"yellow violet yellow gold", 470e3, 5},
		{"yellow violet yellow", 470e3, 20},
		{"red red orange silver", 22e3, 10},
		{"Brown Black Black Red Brown", 10e3, 1},
		{"brown black black red brown red", 10e3, 1},
		{"green blue gold", 5.6, 20},
		{"brown gray purple", 18e7, 20},
		{"yellow, violet, silver, gold", 0.47, 5},
		{"brown black pink", 0.01, 20},
	}
	for _, tt := range tests {
		ohms, tolerance, err := ParseBands(tt.text)
		if err != nil || ohms != tt.ohms || tolerance != tt.tolerance {
			t.Errorf("parseBands(%q) = %v, %v, %v, want %v, %v", tt.text, ohms, tolerance, err, tt.ohms, tt.tolerance)
		}
	}
}

func TestParseDot(t *testing.T) {
	for text, want := range map[string]float64{
		"red green yellow": 250e3, "red red red": 2200, "Green, black, orange": 50e3, "yellow violet gold": 4.7, "grey purple black": 87,
	} {
		if got, err := ParseDot(text); err != nil || !near(got, want) {
			t.Errorf("ParseDot(%q) = %v, %v, want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]string{
		"red": "has 1 colour; write those of body, end and dot", "red green": "has 2 colours", "red green yellow gold": "has 4 colours",
		"red grean yellow": `the end, "grean", is not a colour of the code; did you mean "green"?`, "gold red red": `the body, "gold", does not stand for a digit`,
		"black black red": "is zero ohms", "": "has 0 colours",
	} {
		if got, err := ParseDot(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("ParseDot(%q) = %v, %v, want %s", text, got, err, want)
		}
	}
}

// A colour that old resistors never had at its place is a slip of the eye, or of a later day.
func TestLateColours(t *testing.T) {
	for text, want := range map[string]string{
		"yellow violet yellow gold": "", "yellow violet yellow": "", "brown black black red brown": "", "red red red red": "", "grey white black": "",
		"red red red green": "band 4, green", "red red white": "band 3, white", "brown black pink": "band 3, pink", "brown black black red blue": "band 5, blue",
		"red red black gray": "band 4, grey",
	} {
		if got := LateColour(text, false); got != want {
			t.Errorf("LateColour(%q) = %q, want %q", text, got, want)
		}
	}
	if got := LateColour("red red white", true); got != "the dot, white" {
		t.Errorf("a white dot is %q", got)
	}
}

// Each digit and each multiplier of the code (IEC 60062, table 1).
func TestBandsFollowTheCode(t *testing.T) {
	for tens, a := range colours {
		for ones, b := range colours {
			for power, c := range colours {
				ohms, _, err := ParseBands(a + " " + b + " " + c)
				want := float64(10*tens+ones) * math.Pow(10, float64(power))
				if want == 0 {
					if err == nil {
						t.Errorf("%s %s %s is zero and is taken", a, b, c)
					}
				} else if err != nil || !near(ohms, want) {
					t.Errorf("%s %s %s = %v, %v, want %v", a, b, c, ohms, err, want)
				}
			}
		}
	}
}

func TestParseMains(t *testing.T) {
	tests := []struct {
		text         string
		volts, hertz float64
	}{
		{"120 V 60 Hz", 120, 60}, {"220V 50Hz", 220, 50}, {"117 V, 60 Hz", 117, 60}, {"240 volts / 50 hz", 240, 50},
		{"110 V AC 25 Hz", 110, 25}, {"0.12 kV 60 Hz", 120, 60},
		{"120 V 60 cps", 120, 60}, {"117 V 60~", 117, 60}, {"115 volts 60 cy", 115, 60}, {"115 V 60 cycles AC", 115, 60}, {"115 V 60 ~ a.c.", 115, 60}, {"220V 50AC", 220, 50},
		{"117 volts AC 60 cycles", 117, 60}, {"110 V 25 CPS", 110, 25},
	}
	for _, tt := range tests {
		volts, hertz, err := ParseMains(tt.text)
		if err != nil || !near(volts, tt.volts) || hertz != tt.hertz {
			t.Errorf("parseMains(%q) = %v, %v, %v", tt.text, volts, hertz, err)
		}
		if !regexp.MustCompile(MainsPattern()).MatchString(tt.text) {
			t.Errorf("the schema's pattern takes %q not", tt.text)
		}
	}
}

// TestFiguresByPattern: the figure at the start of a text, and the parts of one like 4k7, are what
// the regular expressions find.
func TestFiguresByPattern(t *testing.T) {
	plain := regexp.MustCompile(`^([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?`)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.SampledFrom([]rune("0479..eE+-kRMµμ Ωu,")), 0, 10, -1).Draw(t, "text")
		if got, want := plainNumber(text), plain.FindString(text); got != want {
			t.Fatalf("%q begins with %q, want %q", text, got, want)
		}
		if got, want := infixParts(text), infixNumber().FindStringSubmatch(text); !slices.Equal(got, want) {
			t.Fatalf("%q is read as %q, want %q", text, got, want)
		}
	})
}

// TestBareM: an M alone on ohms is asked after; what says which of the two it means is not.
func TestBareM(t *testing.T) {
	for text, want := range map[string]bool{"250M": true, "1 M": true, "1/2 M": true, "1 meg": false, "2M2": false, "1 Mohm": false, "1k": false, "220M ohm": true, "220 M ohms": true, "220 Mohm": true, "220 Meg ohms": false} {
		if q, err := ParseQuantity(text, Ohm); err != nil || q.BareM != want {
			t.Errorf("%q: %v, %v, want %v", text, q.BareM, err, want)
		}
	}
}

// TestCheckRange: what no part can have is told as what it is.
func TestCheckRange(t *testing.T) {
	for x, want := range map[float64]string{-1: "is negative", 0: "is zero", 1e30: "is beyond belief", math.Inf(1): "not a finite number", 1e-30: "beyond belief"} {
		if err := CheckRange(x, Ohm, "x"); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%g Ω: %v, want %q", x, err, want)
		}
	}
	if err := CheckRange(470, Ohm, "470"); err != nil {
		t.Error(err)
	}
}
