package rules

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// fiveTubes is the usual string, 122.8 V at 0.15 A and so 818.7 Ω, behind some ohms.
func fiveTubes(rectifier string, dropper float64, more ...string) []string {
	lines := []string{polarized, switchHot, wireNeut, toChassis,
		fmt.Sprintf(`R1 = { kind = "resistor", ends = ["H", "h5"], value = %g }`, dropper),
		`V5 = { kind = "tube", type = "` + rectifier + `", pins = { 3 = "h5", 4 = "h4" } }`,
		`V4 = { kind = "tube", type = "50C5", pins = { 3 = "h4", 4 = "h3" } }`,
		`V3 = { kind = "tube", type = "12BE6", pins = { 3 = "h3", 4 = "h2" } }`,
		`V2 = { kind = "tube", type = "12BA6", pins = { 3 = "h2", 4 = "h1" } }`,
		`V1 = { kind = "tube", type = "12AV6", pins = { 3 = "h1", 4 = "B-" } }`}
	return append(lines, more...)
}

// glow is the current of heaters of 122.8 V and 0.15 A behind some ohms on 120 V, and what of their volts
// they get: their ohms are 818.7·(1/6 + 5/6·share^0.6).
func glow(ohms float64) (amps, share float64) {
	share = 1
	for range 100 {
		hot := 122.8 / 0.15 * (1/6.0 + 5/6.0*math.Pow(share, 0.6))
		amps = 120 / (hot + ohms + 0.2)
		share = amps * hot / 122.8
	}
	return amps, share
}

// glows is how a string of fiveTubes is told.
func glows(ohms float64) (amps, percent string) {
	a, share := glow(ohms)
	return fmt.Sprintf("%.0f mA of 150 mA", 1e3*a), fmt.Sprintf("%.0f %%", 100*share)
}

// A string without a dropper to speak of gets 98 % of its volts, and 148 mA.
func TestHeaterStringInTolerance(t *testing.T) {
	amps, percent := glows(1)
	f := one(t, check(t, fiveTubes("35W4", 1)...), "heater-string", Notice, "V5, V4, V3, V2 and V1 in series", "123 V", amps, percent)
	if len(f.Parts) != 5 {
		t.Errorf("parts %v", f.Parts)
	}
	// What is right needs no remedy; 95 % does.
	_, percent = glows(24)
	off := one(t, check(t, fiveTubes("35W4", 24)...), "heater-string", Notice, percent)
	if !strings.HasPrefix(f.Remedy, "Nothing") || off.Remedy != HeaterString.Remedy {
		t.Errorf("to do at 98 %%: %s\nat 95 %%: %s", f.Remedy, off.Remedy)
	}
}

// Over 5 % it is said, over 10 % it is a CAUTION.
func TestHeaterStringOffRating(t *testing.T) {
	for _, c := range []struct {
		ohms   float64
		signal Signal
	}{{50, Notice}, {150, Caution}} {
		amps, percent := glows(c.ohms)
		_, share := glow(c.ohms)
		one(t, check(t, fiveTubes("35W4", c.ohms)...), "heater-string", c.signal, "furthest off", amps, percent,
			fmt.Sprintf("takes %.2g", 120-share*122.8))
	}
}

// A tube of another current in the string is named.
func TestWrongTubeInTheString(t *testing.T) {
	one(t, check(t, polarized, switchHot, wireNeut, toChassis,
		`R1 = { kind = "resistor", ends = ["H", "h3"], value = 633 }`,
		`V3 = { kind = "tube", type = "12BE6", pins = { 3 = "h3", 4 = "h2" } }`,
		`V2 = { kind = "tube", type = "6BA6", pins = { 3 = "h2", 4 = "h1" } }`,
		`V1 = { kind = "tube", type = "12AV6", pins = { 3 = "h1", 4 = "B-" } }`), "heater-string", Caution, "V2", "300 mA")
}

// Of a tapped heater the section under the lamp is told and not judged.
func TestTappedSectionIsToldNotJudged(t *testing.T) {
	r := check(t, fiveTubes("35W4", 1, `LP1 = { kind = "lamp", ends = ["h5", "tap"], volts = 6.3, amps = 0.15 }`)...)
	if f := one(t, r, "heater-string", Notice); strings.Contains(strings.Join(f.Notes, "\n"), "LP1") {
		t.Error("a lamp on a tap that is not wired is no lamp across the section")
	}
	lines := fiveTubes("35W4", 1, `LP1 = { kind = "lamp", ends = ["h5", "tap"], volts = 6.3, amps = 0.15 }`)
	lines[5] = `V5 = { kind = "tube", type = "35W4", pins = { 3 = "h4", 4 = "h5", 6 = "tap" } }`
	// The section of 7.5 V has 50 Ω hot, the lamp 42 Ω; both at 3.43 V: 48.7·… = 70.4 mA and 81.5 mA, 152 mA together.
	f := one(t, check(t, lines...), "heater-string", Notice, "152 mA of 150 mA", "102 %")
	if notes := strings.Join(f.Notes, "\n"); !strings.Contains(notes, "70.4 mA") || !strings.Contains(notes, "81.5 mA") {
		t.Errorf("the notes say %q", notes)
	}
}

// Heaters on a winding are judged by what the winding gives with no load: its ohms are a guess.
func TestHeatersOnAWinding(t *testing.T) {
	with := func(volts float64, more ...string) *Report {
		return check(t, append(more, polarized, switchHot, wireNeut, toChassis,
			fmt.Sprintf(`T1 = { kind = "transformer", windings = { primary = ["H", "B-"], heaters = ["a", "b"] }, volts = { primary = 120, heaters = %g } }`, volts),
			`V1 = { kind = "tube", type = "6BA6", pins = { 3 = "a", 4 = "b" } }`,
			`V2 = { kind = "tube", type = "6BE6", pins = { 3 = "a", 4 = "b" } }`)...)
	}
	silent(t, with(6.3), "heater-string")
	// A lamp beside whole heaters shunts no tapped section.
	lamp := `LP1 = { kind = "lamp", ends = ["a", "b"], volts = 6.3, amps = 0.15 }`
	silent(t, with(6.3, lamp), "heater-string")
	one(t, with(5, lamp), "heater-string", Caution, "gets 5 V of its 6.3 V")
	one(t, with(6.8), "heater-string", Notice, "V1 and V2", "gets 6.8 V of its 6.3 V", "108 %")
	one(t, with(5), "heater-string", Caution, "79 %")
}

// Filaments in series behind a dropper from a rectifier: some 148 V through 2 kΩ are 74 mA, half as much
// again as they are made for.
func TestFilamentsFedFromARectifier(t *testing.T) {
	one(t, check(t, append(supplyOf(silicon, reservoir("")),
		`R2 = { kind = "resistor", ends = ["B+", "f2"], value = "2k" }`,
		`V2 = { kind = "tube", type = "1U4", pins = { 7 = "f2", 1 = "f1" } }`,
		`V3 = { kind = "tube", type = "1R5", pins = { 7 = "f1", 1 = "B-" } }`)...), "heater-string", Caution, "V2 and V3", "fed from a rectifier", "of 50 mA")
}

// Strings that branch are not added up.
func TestHeatersThatBranch(t *testing.T) {
	silent(t, check(t, polarized, switchHot, wireNeut, toChassis,
		// 0.45 A through 237.6 Ω leave 13.1 V, 104 %, for three heaters side by side.
		`R1 = { kind = "resistor", ends = ["H", "h"], value = 237.6 }`,
		`V1 = { kind = "tube", type = "12AV6", pins = { 3 = "h", 4 = "B-" } }`,
		`V2 = { kind = "tube", type = "12BA6", pins = { 3 = "h", 4 = "B-" } }`,
		`V3 = { kind = "tube", type = "12BE6", pins = { 3 = "h", 4 = "B-" } }`), "heater-string")
}

func TestNoHeatersNoString(t *testing.T) {
	silent(t, check(t, polarized, switchHot, wireNeut, loadHB, toChassis), "heater-string")
}
