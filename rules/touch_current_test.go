package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// coupled is a chassis that capacitors of class Y1 join to line 1, in the order of the file.
func coupled(nanofarads ...float64) []string {
	lines := []string{polarized, loadHB, wireHot, wireNeut}
	for i, nf := range nanofarads {
		lines = append(lines, fmt.Sprintf(`C%d = { kind = "capacitor", ends = ["line 1", "chassis"], value = "%g nF", class = "Y1" }`, i+1, nf))
	}
	return lines
}

// At 120 V 60 Hz 11.06 nF let 0.5 mA through: 13 nF startle, 9 nF (0.407 mA) are within a fifth below,
// 8 nF (0.362 mA) are not.
func TestCurrentWithinAFifthBelow(t *testing.T) {
	one(t, check(t, coupled(13)...), "touch-current", Warning, "chassis startles", "through C1")
	f := one(t, check(t, coupled(9)...), "touch-current", Notice, "chassis comes within a fifth of startling", "0.407 mA")
	if !strings.Contains(f.Figures, "at the limit") {
		t.Error(f.Figures)
	}
	silent(t, check(t, coupled(8)...), "touch-current")
}

// Parts side by side carry by their size: each with a tenth or more is named, the largest first.
func TestEveryPartThatCarriesATenth(t *testing.T) {
	f := one(t, check(t, coupled(2, 10, 4)...), "touch-current", Warning, "through C2 (0.01 µF, class Y1), C3 (4 nF, class Y1) and C1 (2 nF, class Y1)")
	if !slices.Equal(f.Parts[:3], []string{"C2", "C3", "C1"}) {
		t.Errorf("parts %v", f.Parts)
	}
	f = one(t, check(t, coupled(1, 12)...), "touch-current", Warning, "through C2 (0.012 µF, class Y1)")
	if slices.Contains(f.Parts, "C1") {
		t.Errorf("of 1 in 13 nF it tells too: %v", f.Parts)
	}
}

// Two things that may open, each of which alone leaves 20 nF to the body: both are told, and of one alone there is no list.
func TestEachThatOpensIsTold(t *testing.T) {
	const (
		earthed = `PL1 = { kind = "plug", style = "grounding", hot = "line 1", neutral = "line 2", earth = "lug" }`
		through = `C1 = { kind = "capacitor", ends = ["H", "chassis"], value = "20 nF", class = "Y1" }`
		each    = "each of these alone makes it startle: "
	)
	f := one(t, check(t, earthed, wireHot, wireNeut, loadHB, through, `F1 = { kind = "fuse", ends = ["lug", "chassis"], amps = 1 }`), "touch-current", Warning, "chassis startles once")
	if notes := strings.Join(f.Notes, "\n"); !strings.Contains(notes, each) || !strings.Contains(notes, "F1 open") || !strings.Contains(notes, "earth contact") {
		t.Errorf("notes %q", f.Notes)
	}
	f = one(t, check(t, earthed, wireHot, wireNeut, loadHB, through, `W3 = { kind = "wire", ends = ["lug", "chassis"] }`), "touch-current", Warning, "chassis startles once the earth contact is open")
	if strings.Contains(strings.Join(f.Notes, "\n"), each) {
		t.Errorf("of one it tells a list: %q", f.Notes)
	}
}

// While a rectifier conducts a reservoir holds its voltage: it is in the path, and no safeguard.
func TestReservoirIsNoSafeguard(t *testing.T) {
	f := one(t, check(t, polarized, wireHot, wireNeut, loadHB, `D1 = { kind = "rectifier", anode = "H", cathode = "B+" }`,
		`C1 = { kind = "capacitor", ends = ["B+", "chassis"], value = "20 uF" }`), "touch-current", Danger)
	if strings.Contains(f.Message+f.Between, "C1") || !slices.Contains(f.Parts, "C1") {
		t.Errorf("%s\nbetween %s\nparts %v", f.Message, f.Between, f.Parts)
	}
}

// A path without safeguards that carries next to nothing is not the one that is told.
func TestPathTellsWhatCarries(t *testing.T) {
	// 2 MΩ of a coil carry 0.06 mA, 40 nF 1.8 mA.
	f := one(t, check(t, polarized, wireHot, wireNeut, loadHB, `C1 = { kind = "capacitor", ends = ["H", "chassis"], value = "40 nF" }`,
		`L1 = { kind = "coil", ends = ["H", "chassis"], ohms = 2000000 }`), "touch-current", Warning, "through C1")
	if got := f.Path.Parts(); !slices.Contains(got, "C1") {
		t.Errorf("the path goes through %v", got)
	}
}

// Two resistors of 800 Ω halve the line for a capacitor to the chassis. With either open it gets the whole
// in one polarity of the plug: 13 nF startle then, 9 nF (0.407 mA) come within a fifth, 8 nF (0.362 mA) do not.
func TestCurrentWithinAFifthBelowOnceOpen(t *testing.T) {
	with := func(nanofarads float64) *Report {
		return check(t, polarized, wireHot, wireNeut, `R1 = { kind = "resistor", ends = ["H", "x"], value = 800 }`,
			`R2 = { kind = "resistor", ends = ["x", "B-"], value = 800 }`,
			fmt.Sprintf(`C1 = { kind = "capacitor", ends = ["x", "chassis"], value = "%g nF", class = "Y1" }`, nanofarads))
	}
	one(t, with(13), "touch-current", Warning, "chassis startles once R1 is open", "through C1")
	f := one(t, with(9), "touch-current", Notice, "chassis comes within a fifth of startling once R1 is open: 0.407 mA")
	if f.Parts[0] != "R1" || !strings.Contains(f.Figures, "at the limit") || len(f.Notes) > 0 {
		t.Error(f.Parts, f.Figures, f.Notes)
	}
	silent(t, with(8), "touch-current")
	// What comes as near with nothing failed is told once.
	one(t, check(t, append(coupled(9), `R2 = { kind = "resistor", ends = ["chassis", "y"], value = 800 }`)...), "touch-current", Notice, "with nothing failed")
}
