package rules

import (
	"fmt"
	"slices"
	"testing"
)

// B-minus to chassis on a floating set: only class Y will do.
func TestCapacitorClassToChassis(t *testing.T) {
	with := func(keys string) *Report {
		return check(t, polarized, switchHot, wireNeut, loadHB,
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
	if n := len(findings(r, "capacitor-class")); n != 2 {
		t.Errorf("%d of two capacitors told:\n%s", n, messages(r))
	}
}

// Behind a suspect capacitor in series the sound one is what stands there.
func TestSuspectCapacitorInSeries(t *testing.T) {
	r := check(t, polarized, switchHot, wireNeut, loadHB,
		`C1 = { kind = "capacitor", ends = ["B-", "x"], value = "0.01 uF", type = "paper" }`,
		`C2 = { kind = "capacitor", ends = ["x", "chassis"], value = "0.01 uF", type = "film" }`)
	one(t, r, "capacitor-class", Caution, "C2")
}

// A suspect capacitor that leads nowhere stands between nothing, though its own breakdown would
// carry either side on to its dead end.
func TestSuspectCapacitorToADeadEnd(t *testing.T) {
	r := check(t, polarized, switchHot, wireNeut, loadHB,
		`C1 = { kind = "capacitor", ends = ["B-", "x"], value = "0.01 uF", type = "paper" }`,
		`C2 = { kind = "capacitor", ends = ["x", "chassis"], value = "0.01 uF", type = "paper" }`,
		`C3 = { kind = "capacitor", ends = ["x", "nowhere"], value = "0.01 uF", type = "paper" }`)
	var told []string
	for _, f := range findings(r, "capacitor-class") {
		told = append(told, f.Parts...)
	}
	if !slices.Equal(told, []string{"C1", "C2"}) {
		t.Errorf("told of %v", told)
	}
}

// Many capacitors to one piece of metal are one finding.
func TestManyCapacitorsAreToldAtOnce(t *testing.T) {
	lines := []string{polarized, switchHot, wireNeut, loadHB}
	for i := range 6 {
		lines = append(lines, fmt.Sprintf(`C%d = { kind = "capacitor", ends = ["B-", "chassis"], value = "100 pF", type = "mica" }`, i+1))
	}
	f := one(t, check(t, lines...), "capacitor-class", Caution, "6 capacitors")
	if len(f.Parts) != 6 {
		t.Errorf("it names %v", f.Parts)
	}
}
