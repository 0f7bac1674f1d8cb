package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// covered examines a set of which a cabinet keeps fingers off the chassis: no one failure makes that live,
// and it is for the class to be told by itself.
func covered(t *testing.T, lines ...string) *Report {
	t.Helper()
	text := strings.Replace(head, `{ touch = "chassis" }`, `{ touch = "chassis", guard = "cabinet" }`, 1)
	return checkSet(t, loadWhole(t, text+strings.Join(lines, "\n")+"\n"), mainsBench)
}

// classTold are the parts that capacitor-class, or where it says the same one-capacitor, tells.
func classTold(r *Report) []string {
	var told []string
	for _, f := range findings(r, "capacitor-class") {
		told = append(told, f.Parts...)
	}
	for _, f := range findings(r, "one-capacitor") {
		for _, part := range f.Parts {
			if strings.Contains(f.Message, part+" (") {
				told = append(told, part)
			}
		}
	}
	slices.Sort(told)
	return slices.Compact(told)
}

// B-minus to chassis on a floating set: only class Y will do.
func TestCapacitorClassToChassis(t *testing.T) {
	with := func(keys string) *Report {
		return covered(t, polarized, switchHot, wireNeut, loadHB,
			fmt.Sprintf(`C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "4.7 nF"%s }`, keys))
	}
	f := one(t, with(`, type = "film", rating = "630 V"`), "capacitor-class", Caution, "C1", "film", "not class Y", "chassis")
	if f.Node() != "chassis" {
		t.Errorf("it speaks of %q", f.Node())
	}
	one(t, with(`, class = "X2"`), "capacitor-class", Caution, "not class Y")
	silent(t, with(`, class = "Y2"`), "capacitor-class")
	silent(t, with(`, class = "X1/Y2"`), "capacitor-class")
	one(t, with(""), "capacitor-class", Caution) // nothing stated: no class is marked

	// Where one-capacitor tells the same, it is told once.
	bare := check(t, polarized, switchHot, wireNeut, loadHB, `C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "4.7 nF", type = "film" }`)
	one(t, bare, "one-capacitor", Warning, "C1", "no safety class")
	silent(t, bare, "capacitor-class")
}

// Two capacitors of 16 V in a row are no barrier of two: each is named. With a class Y one among them the
// others may be what they are, as a tuning gang is.
func TestCapacitorClassInAChain(t *testing.T) {
	with := func(second string) *Report {
		return check(t, polarized, switchHot, wireNeut, loadHB, `C1 = { kind = "capacitor", ends = ["B-", "x"], value = "1 nF", rating = "16 V" }`,
			`C2 = { kind = "capacitor", ends = ["x", "chassis"], value = "1 nF"`+second+` }`)
	}
	r := with(`, rating = "16 V"`)
	silent(t, r, "one-capacitor")
	if told := classTold(r); !slices.Equal(told, []string{"C1", "C2"}) {
		t.Errorf("told of %v:\n%s", told, messages(r))
	}
	silent(t, with(`, class = "Y2", rating = "250 V AC"`), "capacitor-class")
}

// A class, or a rating, that is not made for this line is told beside what one failure does.
func TestCapacitorClassOfTheLine(t *testing.T) {
	with := func(keys string) *Report {
		return checkSet(t, loadWhole(t, `[set]
name = "trial"
mains = "230 V 50 Hz"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", ends = ["a", "b"] }
S1 = { kind = "switch", poles = [["a", "H"], ["b", "B-"]] }
R1 = { kind = "resistor", ends = ["H", "B-"], value = 800 }
C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "1 nF", class = "Y2"`+keys+` }
`), mainsBench)
	}
	one(t, with(`, rating = "125 V AC"`), "capacitor-class", Caution, "rated 125 V AC, below the 230 V of this line")
	if f := one(t, with(`, rating = "125 V AC"`), "one-capacitor", Warning); !strings.Contains(f.Remedy, "replace C1") {
		t.Errorf("the remedy is %s", f.Remedy)
	}
	silent(t, with(`, rating = "250 V AC"`), "capacitor-class")
}

// Y4 is made for lines under 150 V.
func TestClassY4OnAHighLine(t *testing.T) {
	text := func(mains string) string {
		return fmt.Sprintf(`[set]
name = "trial"
mains = "%s"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", ends = ["a", "b"] }
S1 = { kind = "switch", poles = [["a", "H"], ["b", "B-"]] }
R1 = { kind = "resistor", ends = ["H", "B-"], value = 800 }
C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "1 nF", class = "Y4" }
`, mains)
	}
	one(t, checkSet(t, loadWhole(t, text("230 V 50 Hz")), mainsBench), "capacitor-class", Caution, "Y4", "150 V")
	silent(t, checkSet(t, loadWhole(t, text("120 V 60 Hz")), mainsBench), "capacitor-class")
}

func TestCapacitorClassAcrossTheLine(t *testing.T) {
	with := func(keys string) *Report {
		return check(t, polarized, switchHot, wireNeut, loadHB, toChassis,
			fmt.Sprintf(`C1 = { kind = "capacitor", ends = ["H", "B-"], value = "0.047 uF"%s }`, keys))
	}
	one(t, with(`, type = "paper", rating = "400 V"`), "capacitor-class", Caution, "C1", "across the line", "class X")
	silent(t, with(`, class = "X2"`), "capacitor-class")
	silent(t, with(`, class = "Y2"`), "capacitor-class") // tested harder than class X
}

// On a hot chassis no capacitor to the chassis stands between line and hand: the reservoir, the
// bypasses and the buffer are left alone, the line filter lies across the line.
func TestHotChassisIsNotFlooded(t *testing.T) {
	r := check(t, polarized, `S1 = { kind = "switch", ends = ["line 2", "chassis"] }`, wireHot,
		`R1 = { kind = "resistor", ends = ["H", "chassis"], value = 800 }`,
		`D1 = { kind = "rectifier", anode = "H", cathode = "B+", type = "silicon" }`,
		`C1 = { kind = "capacitor", ends = ["H", "chassis"], value = "0.05 uF", type = "film" }`,
		`C2 = { kind = "capacitor", ends = ["B+", "chassis"], value = "40 uF", type = "electrolytic" }`,
		`C3 = { kind = "capacitor", ends = ["B+", "screen"], value = "0.1 uF", type = "film" }`,
		`C4 = { kind = "capacitor", ends = ["screen", "chassis"], value = "0.1 uF", type = "film" }`,
		`R2 = { kind = "resistor", ends = ["B+", "screen"], value = "4.7k" }`,
		`C5 = { kind = "capacitor", ends = ["H", "B+"], value = "0.01 uF", type = "film" }`,
		`C6 = { kind = "capacitor", ends = ["line 2", "chassis"], value = "0.01 uF", type = "film" }`) // across the switch
	one(t, r, "capacitor-class", Caution, "C1", "across the line")
}

// Two suspect capacitors side by side: each is judged as if the other were not there to bridge it.
func TestSuspectCapacitorsSideBySide(t *testing.T) {
	r := check(t, polarized, switchHot, wireNeut, loadHB,
		`C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "0.01 uF", type = "paper" }`,
		`C2 = { kind = "capacitor", ends = ["B-", "chassis"], value = "0.01 uF", type = "paper" }`,
		// On the chassis' side alone, and on B-minus's side alone.
		`C3 = { kind = "capacitor", ends = ["chassis", "voice"], value = "1 uF", type = "film" }`,
		`L1 = { kind = "coil", ends = ["chassis", "voice"], ohms = 4 }`,
		`C4 = { kind = "capacitor", ends = ["B-", "plate"], value = "0.01 uF", type = "film" }`,
		`L2 = { kind = "coil", ends = ["B-", "plate"], ohms = 400 }`)
	if told := classTold(r); !slices.Equal(told, []string{"C1", "C2"}) {
		t.Errorf("told of %v:\n%s", told, messages(r))
	}
}

// Behind a suspect capacitor in series the sound one is what stands there.
func TestSuspectCapacitorInSeries(t *testing.T) {
	r := check(t, polarized, switchHot, wireNeut, loadHB,
		`C1 = { kind = "capacitor", ends = ["B-", "x"], value = "0.01 uF", type = "paper" }`,
		`C2 = { kind = "capacitor", ends = ["x", "chassis"], value = "0.01 uF", type = "film" }`)
	one(t, r, "one-capacitor", Warning, "C2", "C1 (0.01 µF paper, no safety class) is counted as failed")
	silent(t, r, "capacitor-class")
}

// A suspect capacitor that leads nowhere stands between nothing, though its own breakdown would
// carry either side on to its dead end.
func TestSuspectCapacitorToADeadEnd(t *testing.T) {
	r := check(t, polarized, switchHot, wireNeut, loadHB,
		`C1 = { kind = "capacitor", ends = ["B-", "x"], value = "0.01 uF", type = "paper" }`,
		`C2 = { kind = "capacitor", ends = ["x", "chassis"], value = "0.01 uF", type = "paper" }`,
		`C3 = { kind = "capacitor", ends = ["x", "nowhere"], value = "0.01 uF", type = "paper" }`)
	if told := classTold(r); !slices.Equal(told, []string{"C1", "C2"}) {
		t.Errorf("told of %v", told)
	}
}

// Many capacitors to one piece of metal are one finding.
func TestManyCapacitorsAreToldAtOnce(t *testing.T) {
	lines := []string{polarized, switchHot, wireNeut, loadHB}
	for i := range 6 {
		lines = append(lines, fmt.Sprintf(`C%d = { kind = "capacitor", ends = ["B-", "chassis"], value = "100 pF", type = "mica" }`, i+1))
	}
	f := one(t, covered(t, lines...), "capacitor-class", Caution, "6 capacitors")
	if len(f.Parts) != 6 {
		t.Errorf("it names %v", f.Parts)
	}
}

// Two capacitors of 16 V in a row between the line and the chassis, be they electrolytics or films, are no
// barrier: each is told as over its rating, for it must stand the whole line once the other shorts and the
// chassis is earthed, and each as of no class.
func TestTwoSixteenVoltCapacitorsAreNoBarrier(t *testing.T) {
	for _, c := range []struct{ name, a, b string }{
		{"electrolytics", `value = "10 uF", type = "electrolytic", rating = "16 V"`, ""},
		{"electrolytics back to back", `value = "10 uF", type = "electrolytic", rating = "16 V", positive = "x"`, ""},
		{"films", `value = "1 nF", type = "film", rating = "16 V"`, ""},
		{"one of class Y", `value = "1 nF", type = "film", rating = "16 V"`, `value = "1 nF", class = "Y2", rating = "16 V"`},
	} {
		if c.b == "" {
			c.b = c.a
		}
		r := check(t, polarized, switchHot, wireNeut, loadHB,
			`C1 = { kind = "capacitor", ends = ["B-", "x"], `+c.a+` }`, `C2 = { kind = "capacitor", ends = ["x", "chassis"], `+c.b+` }`)
		found := findings(r, "over-rating")
		if len(found) != 2 {
			t.Fatalf("%s:\n%s", c.name, messages(r))
		}
		for i, f := range found {
			for _, words := range []string{fmt.Sprintf("C%d, ", i+1), "stands 170 V", fmt.Sprintf("once chassis is earthed (a hand, an antenna, another set's ground) and C%d, in series with it, shorts", 2-i),
				"it is no barrier between the line and chassis"} {
				if f.Signal != Warning || !strings.Contains(f.Message, words) {
					t.Errorf("%s: %s %s; expected %q", c.name, f.Signal, f.Message, words)
				}
			}
		}
		if told := classTold(r); c.a == c.b && !slices.Equal(told, []string{"C1", "C2"}) {
			t.Errorf("%s: as of no class told of %v", c.name, told)
		}
	}
	// Of 250 V AC and class Y2 both, they are one.
	r := check(t, polarized, switchHot, wireNeut, loadHB,
		`C1 = { kind = "capacitor", ends = ["B-", "x"], value = "1 nF", class = "Y2", rating = "250 V AC" }`,
		`C2 = { kind = "capacitor", ends = ["x", "chassis"], value = "1 nF", class = "Y2", rating = "250 V AC" }`)
	silent(t, r, "over-rating")
	silent(t, r, "capacitor-class")
}
