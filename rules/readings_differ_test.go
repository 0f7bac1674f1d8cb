package rules

import (
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist/examples"
	"coldcheck/rules/phrase"
)

const coldReading = "[[readings]]\nat = [\"line 2\", \"chassis\"]\n"

func TestReadingsDiffer(t *testing.T) {
	set := []string{plain, switchNeu, wireHot, loadHB, toChassis}
	silent(t, check(t, set...), "readings-differ")
	silent(t, check(t, append(set, coldReading+`ohms = "200 meg"`)...), "readings-differ")

	f := one(t, check(t, append(set, coldReading+`ohms = "22k"`)...), "readings-differ", Notice,
		"the one reading is not", "line 2 to chassis (plug out, S1 on) shows 22 kΩ, not open")
	if len(f.Nodes) != 2 || f.Nodes[1] != "chassis" {
		t.Errorf("speaks of %v", f.Nodes)
	}
	notes := strings.Join(f.Notes, "\n")
	for _, words := range []string{"CY leaks, 22 kΩ", "fits", "predicts 22", "if CY leaks", "is live now"} {
		if !strings.Contains(notes, words) {
			t.Errorf("no %q in the notes:\n%s", words, notes)
		}
	}
}

// What is live already is not told again as what an explanation would make of it.
func TestReadingsDifferTellsOnlyNewHazards(t *testing.T) {
	r := check(t, plain, switchNeu, wireHot, loadHB, `W3 = { kind = "wire", ends = ["B-", "chassis"] }`, coldReading+`ohms = 0`,
		"[[readings]]\nat = [\"line 1\", \"line 2\"]\nohms = 1600")
	f := one(t, r, "readings-differ", Notice, "line 1 to line 2")
	for _, n := range f.Notes {
		if strings.Contains(n, "is live now") {
			t.Errorf("told: %s", n)
		}
	}
	if !strings.Contains(f.Remedy, "measure R1") {
		t.Errorf("remedy: %s", f.Remedy)
	}
}

func TestReadingsThatNothingExplains(t *testing.T) {
	r := check(t, plain, switchNeu, wireHot, loadHB, toChassis,
		coldReading+`ohms = "22k"`, coldReading+`ohms = "220k"`, coldReading+`ohms = "2.2M"`)
	f := one(t, r, "readings-differ", Notice)
	if notes := strings.Join(f.Notes, "\n"); !strings.Contains(notes, "no one thing and no two faults explain every reading") || strings.Contains(notes, "is live now") {
		t.Errorf("notes:\n%s", notes)
	}
}

func TestReadingsProveStatedFailure(t *testing.T) {
	failed := `C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "0.1 uF", condition = "failed" }`
	r := check(t, plain, switchNeu, wireHot, loadHB, failed, coldReading+`ohms = 0`)
	one(t, r, "readings-differ", Notice, "C1: the readings bear out what the file states")
	// The failure and the readings that bear it out are two findings; the chassis is live by the first.
	one(t, r, "hot-chassis", Danger, "chassis")
	silent(t, check(t, plain, switchNeu, wireHot, loadHB, failed, "[[readings]]\nat = [\"line 1\", \"line 2\"]\nohms = 800"), "readings-differ")
}

// Readings were taken on the mains: another bench does not make them differ.
func TestReadingsAreOfTheMains(t *testing.T) {
	hot := "[[readings]]\nat = [\"chassis\", \"building earth\"]\nvolts = 117\nplug = \"reversed\""
	r := checkOn(t, analysis.Bench{Isolated: true}, plain, switchNeu, wireHot, loadHB, toChassis, hot)
	silent(t, r, "readings-differ")
}

// Each example with readings is explained by what its first lines tell.
func TestReadingsOfExamples(t *testing.T) {
	for name, want := range map[string]string{
		"line-bypass-leaky":            "C1 leaks, 32 kΩ",
		"hot-chassis-switch-moved":     "S1 is in the other leg, behind line 1",
		"floating-b-minus-plug-turned": "the plug stood the other way round than noted",
		"line-cord-resistor-drifted":   "R1 is 260 Ω, not 170 Ω",
	} {
		e, ok := examples.FindSet(name)
		if !ok {
			t.Fatalf("no example %s", name)
		}
		f := one(t, checkSet(t, loadWhole(t, e.Text), analysis.Bench{}), "readings-differ", Notice)
		if len(f.Notes) == 0 || !strings.HasPrefix(f.Notes[0], want) || !strings.Contains(f.Notes[0], "(fits") {
			t.Errorf("%s: %s", name, strings.Join(f.Notes, "\n"))
		}
	}
}

func TestFigureWords(t *testing.T) {
	for _, c := range []struct {
		q    diagnose.Quantity
		x    float64
		want string
	}{
		{diagnose.OhmsRead, 220e3, "220 kΩ"}, {diagnose.OhmsRead, 0.04, "0 Ω"}, {diagnose.OhmsRead, 2e8, "open"},
		{diagnose.VoltsRead, 117.6, "118 V"}, {diagnose.VoltsRead, 0.001, "0 V"}, {diagnose.VoltsDCRead, -12.34, "-12.3 V DC"},
		{diagnose.MilliampsRead, 4.4821, "4.48 mA"},
	} {
		if got := phrase.Meter(c.q, c.x); got != c.want {
			t.Errorf("%g %s: %q, want %q", c.x, c.q, got, c.want)
		}
	}
}
