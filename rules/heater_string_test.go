package rules

import (
	"fmt"
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

// 120 V on 818.7 Ω and 1 Ω: 146.4 mA, 98 % of 0.15 A.
func TestHeaterStringInTolerance(t *testing.T) {
	f := one(t, check(t, fiveTubes("35W4", 1)...), "heater-string", Notice, "V5, V4, V3, V2 and V1 in series", "123 V", "146 mA of 150 mA", "98 %")
	if len(f.Parts) != 5 {
		t.Errorf("parts %v", f.Parts)
	}
	// What is right needs no remedy; 95 % does, 120 V on 818.7 + 24 Ω being 142.4 mA.
	off := one(t, check(t, fiveTubes("35W4", 24)...), "heater-string", Notice, "95 %")
	if !strings.HasPrefix(f.Remedy, "Nothing") || off.Remedy != HeaterString.Remedy {
		t.Errorf("to do at 98 %%: %s\nat 95 %%: %s", f.Remedy, off.Remedy)
	}
}

// Over 5 % it is said, over 10 % it is a CAUTION: 120 V on 818.7 + 60 Ω is 136.6 mA (91 %), on
// 818.7 + 150 Ω 123.9 mA (83 %).
func TestHeaterStringOffRating(t *testing.T) {
	one(t, check(t, fiveTubes("35W4", 60)...), "heater-string", Notice, "furthest off", "91 %")
	one(t, check(t, fiveTubes("35W4", 150)...), "heater-string", Caution, "furthest off", "83 %", "takes 18.6 V")
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
	// 120 V on 791.6 + 1 Ω: 151.4 mA in the string; 82.2 mA of it in the lamp, 69.1 mA in the section.
	f := one(t, check(t, lines...), "heater-string", Notice, "151 mA of 150 mA", "101 %")
	if notes := strings.Join(f.Notes, "\n"); !strings.Contains(notes, "69.1 mA") || !strings.Contains(notes, "82.") {
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

// Filaments in series behind a dropper from a rectifier: what they get is not worked out.
func TestFilamentsFedFromARectifier(t *testing.T) {
	one(t, check(t, append(supplyOf(silicon, reservoir("")),
		`R2 = { kind = "resistor", ends = ["B+", "f2"], value = "2k" }`,
		`V2 = { kind = "tube", type = "1U4", pins = { 7 = "f2", 1 = "f1" } }`,
		`V3 = { kind = "tube", type = "1R5", pins = { 7 = "f1", 1 = "B-" } }`)...), "heater-string", Notice, "V2 and V3", "told, not judged")
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
