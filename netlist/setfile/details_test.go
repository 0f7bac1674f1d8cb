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

// TestWindingBesideWindings: a winding that stands as a key of its own is told once and read as one of them, with and
// without others, so that the volts of each are those of a winding.
func TestWindingBesideWindings(t *testing.T) {
	for keys, count := range map[string]int{
		`primary = ["line 1", "line 2"], secondary = ["a", "chassis"], volts = { primary = 120, secondary = 6 }`:                2,
		`windings = { primary = ["line 1", "line 2"] }, secondary = ["a", "chassis"], volts = { primary = 120, secondary = 6 }`: 1,
	} {
		set, err := Load("f", strings.NewReader(filetest.BenchHead+"T1 = { kind = \"transformer\", "+keys+" }\n"))
		problems := problemsOf(t, set, err)
		if len(problems) != count || !strings.Contains(problems[0].Text, "its windings stand in one table") {
			t.Errorf("%s: %v", keys, problems)
		}
	}
}

// TestOddRatings: a line break is a blank like others; a text that no rating is is refused in words.
func TestOddRatings(t *testing.T) {
	file := func(rating string) string {
		return filetest.BenchHead + `C1 = { kind = "capacitor", ends = ["line 1", "chassis"], value = "1 nF", rating = "` + rating + "\" }\n"
	}
	set, err := Load("f", strings.NewReader(file(`400\nV`)))
	if err != nil || set.Part("C1").Detail.(*netlist.Capacitor).Rating != 400 {
		t.Errorf("400 V on two lines: %v", err)
	}
	for _, rating := range []string{`\n`, "AC", "~", "400 V AC DC"} {
		set, err := Load("f", strings.NewReader(file(rating)))
		if problems := problemsOf(t, set, err); len(problems) != 1 || !strings.Contains(problems[0].Text, "rating of ") {
			t.Errorf("%q: %v", rating, problems)
		}
	}
}

// TestEmptyNames: a name that says nothing stands for no line that could not be read, so it is told: a set without a
// tube's type would be none.
func TestEmptyNames(t *testing.T) {
	const tube = `V1 = { kind = "tube", type = "35W4", pins = { 3 = "line 1", 4 = "chassis" } }`
	for text, want := range map[string]string{
		strings.Replace(tube, "35W4", "", 1):                                                                 "type of V1 is empty",
		strings.Replace(tube, "35W4", "  ", 1):                                                               "type of V1 is empty",
		tube + "\n[[readings]]\nat = [\"line 1\", \"chassis\"]\nvolts = 1\npulled = [\"\"]":                  "the set has no tube \"\"",
		tube + "\n[[readings]]\nat = [\"line 1\", \"chassis\"]\nvolts = 1\nlifted = [\" \"]":                 "the set has no part with two leads \"\"",
		tube + "\n[[readings]]\nat = [\"line 1\", \"chassis\"]\nvolts = 1\nswitches = { \"\" = \"on\" }":     "the set has no switch or selector \"\"",
		tube + "\n[[readings]]\nat = [\"line 1\", \"chassis\"]\nvolts = 1\ncontrols = { \"\" = \"middle\" }": "the set has no control \"\"",
	} {
		set, err := Load("f", strings.NewReader(filetest.BenchHead+text+"\n"))
		if problems := problemsOf(t, set, err); len(problems) != 1 || !strings.Contains(problems[0].Text, want) {
			t.Errorf("%s\n%v", text, problems)
		}
	}
	// A type that a line says which could not be read is not complained of besides.
	set, err := Load("f", strings.NewReader(filetest.BenchHead+strings.Replace(tube, "35W4", "mine", 1)+"\n[tube_types]\nmine = { cathodes = [1] oops }\n"))
	if problems := problemsOf(t, set, err); strings.Contains(problems.Error(), "not known") {
		t.Errorf("a type on a line that cannot be read: %v", problems)
	}
}

// TestWrittenSectionsStandApart: an empty line stands before each section, and none within one.
func TestWrittenSectionsStandApart(t *testing.T) {
	set := loadValid(t, "every-kind")
	var b strings.Builder
	if err := Write(&b, set.Document()); err != nil {
		t.Fatal(err)
	}
	before, sections := "", 0
	for line := range strings.Lines(b.String()) {
		if header := strings.HasPrefix(line, "["); header != (before == "\n") && line != "\n" {
			t.Errorf("%q stands after %q", line, before)
		} else if header {
			sections++
		}
		before = line
	}
	if sections < 10 {
		t.Errorf("%d sections are few", sections)
	}
}
