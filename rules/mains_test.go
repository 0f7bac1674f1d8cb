package rules

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"coldcheck/analysis"
)

// checkEarthed examines a set of head and these lines on mains of 240 V that are earthed there.
func checkEarthed(t *testing.T, earthed string, lines ...string) *Report {
	t.Helper()
	text := strings.Replace(head, `name = "trial"`, fmt.Sprintf("name = \"trial\"\nmains = \"240 V 60 Hz\"\nearthed = %q", earthed), 1)
	return checkSet(t, loadWhole(t, text+strings.Join(lines, "\n")+"\n"), analysis.Bench{})
}

// A chassis wired to one leg is live whichever way the plug stands where both legs are hot: at 120 V each
// side of the midpoint, at 240/√3 V each in a star. On mains earthed nowhere it waits for the other leg to
// meet earth.
func TestChassisOnOneOfTwoHotLegs(t *testing.T) {
	hot := []string{polarized, wireHot, `W2 = { kind = "wire", ends = ["line 2", "chassis"] }`, `R1 = { kind = "resistor", ends = ["H", "chassis"], value = 800 }`}
	for earthed, volts := range map[string]string{"midpoint": "120 V to earth", "star": "139 V to earth"} {
		r := checkEarthed(t, earthed, hot...)
		f := one(t, r, "hot-chassis", Danger, "chassis is on the line itself: either way of the plug")
		if !strings.Contains(f.Figures, volts) {
			t.Errorf("%s: %s", earthed, f.Figures)
		}
		silent(t, r, "polarity-only")
	}
	r := checkEarthed(t, "nowhere", hot...)
	f := one(t, r, "hot-chassis", Warning, "chassis is on the line itself: live as soon as line 1 meets earth")
	if !strings.Contains(f.Figures, "240 V to earth") || !strings.Contains(strings.Join(f.Notes, "\n"), "judged with line 1 earthed") {
		t.Errorf("%s\n%q", f.Figures, f.Notes)
	}
	silent(t, r, "polarity-only")
	one(t, checkEarthed(t, "neutral", hot...), "polarity-only", Danger, "plug is reversed")
}

// Once a leg of mains that are earthed nowhere is on an earth, the other is live now.
func TestEarthOnMainsEarthedNowhere(t *testing.T) {
	r := checkEarthed(t, "nowhere", polarized, loadHB, wireNeut, switchHot, `W3 = { kind = "wire", ends = ["line 1", "building earth"] }`,
		`W4 = { kind = "wire", ends = ["B-", "chassis"] }`)
	one(t, r, "hot-chassis", Danger, "chassis is on the line itself")
	one(t, r, "earthed-line", Danger, "building earth is tied to the leg line 1", "puts line 2 at the full line volts")
}

// Through a load from either leg: with one pole open the chassis hangs on the other leg through 800 Ω.
func TestLoadFromTheOtherLeg(t *testing.T) {
	lines := []string{polarized, `S1 = { kind = "switch", ends = ["line 1", "chassis"] }`, `R1 = { kind = "resistor", ends = ["line 2", "chassis"], value = 800 }`}
	f := one(t, checkEarthed(t, "midpoint", lines...), "hot-chassis", Danger)
	if notes := strings.Join(f.Notes, "\n"); !strings.Contains(notes, "also live through resistor R1: either way of the plug while S1 is off") {
		t.Error(notes)
	}
	lines[1] = `S1 = { kind = "switch", ends = ["line 1", "H"] }`
	f = one(t, checkEarthed(t, "midpoint", lines...), "live-through-load", Danger, "live through resistor R1: either way of the plug")
	if f.Path == nil || f.Path.From != "line 2" {
		t.Errorf("the path comes from %+v", f.Path)
	}
	one(t, checkEarthed(t, "nowhere", lines...), "live-through-load", Warning, "on the line through resistor R1: live as soon as line 1 meets earth")
}

// A leg lost upstream is told by its name.
func TestLegLost(t *testing.T) {
	// Two equal loads to the chassis balance while both legs stand; with one lost the other is alone.
	r := checkEarthed(t, "midpoint", polarized, `R1 = { kind = "resistor", ends = ["line 1", "chassis"], value = 800 }`, `R2 = { kind = "resistor", ends = ["line 2", "chassis"], value = 800 }`)
	for _, leg := range []string{"line 1", "line 2"} {
		if words := "the leg " + leg + " is lost upstream"; !strings.Contains(messages(r), words) {
			t.Errorf("it does not say %q:\n%s", words, messages(r))
		}
	}
}

// On mains of which no leg is the neutral, a switch, a fuse or a load has no right leg to be in.
func TestLineSideWithBothLegsHot(t *testing.T) {
	fuse1 := `F1 = { kind = "fuse", ends = ["line 1", "f"], amps = 0.5 }`
	for earthed, why := range map[string]string{"midpoint": "both legs are hot (the mains are earthed at their midpoint)",
		"star": "both legs are hot (two lines of a three-phase network)", "nowhere": "neither leg is earthed"} {
		r := checkEarthed(t, earthed, polarized, fuse1, `S1 = { kind = "switch", ends = ["f", "H"] }`, wireNeut, loadHB, toChassis)
		one(t, r, "switch-in-neutral", Warning, "S1 opens one leg alone (line 1)", why, "still hangs on the other (line 2)")
		one(t, r, "fuse-misplaced", Caution, "fuse F1 stands in one leg alone (line 1)", why)
		silent(t, r, "switch-after-load")
		silent(t, r, "no-switch")

		r = checkEarthed(t, earthed, polarized, fuse1, `F2 = { kind = "fuse", ends = ["line 2", "g"], amps = 0.5 }`,
			`S1 = { kind = "switch", poles = [["f", "H"], ["g", "B-"]] }`, loadHB, toChassis)
		for _, rule := range []string{"switch-in-neutral", "switch-after-load", "fuse-misplaced", "no-fuse", "no-switch"} {
			silent(t, r, rule)
		}

		r = checkEarthed(t, earthed, polarized, switchTwo, loadHB, toChassis, `C1 = { kind = "capacitor", ends = ["line 1", "line 2"], value = "0.1 uF", class = "Y2" }`)
		if found := findings(r, "switch-after-load"); len(found) != 2 || !strings.Contains(found[1].Message, "leg line 2") || !strings.Contains(found[0].Message, why) {
			t.Errorf("%s: %s", earthed, messages(r))
		}
	}
}

// No text of a set on such mains speaks of a hot and a neutral leg.
func TestNoHotLegWhereBothAre(t *testing.T) {
	legs := regexp.MustCompile(`(?i)(the|a) (hot|neutral) (leg|one|side)|neutral leg|narrow blade|the neutral\b`)
	for _, earthed := range []string{"midpoint", "star", "nowhere"} {
		for _, lines := range [][]string{
			{polarized, wireHot, `W2 = { kind = "wire", ends = ["line 2", "chassis"] }`, `R1 = { kind = "resistor", ends = ["H", "chassis"], value = 800 }`},
			{plain, switchHot, wireNeut, loadHB, `C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "0.1 uF", type = "paper" }`},
			{polarized, switchTwo, loadHB, toChassis, `F1 = { kind = "fuse", ends = ["H", "x"], amps = 9 }`, `R2 = { kind = "resistor", ends = ["x", "B-"], value = 800 }`},
			{polarized, `R1 = { kind = "resistor", ends = ["line 1", "chassis"], value = 800 }`, `R2 = { kind = "resistor", ends = ["line 2", "chassis"], value = 800 }`},
			{polarized, wireHot, wireNeut, loadHB, toChassis, "[nodes.post]", `touch = "ground"`, "[parts.W9]", `kind = "wire"`, `ends = ["B-", "post"]`},
		} {
			for _, f := range checkEarthed(t, earthed, lines...).Findings {
				if m := legs.FindString(f.words()); m != "" {
					t.Errorf("%s, %s says %q: %s", earthed, f.Rule.Name, m, f.words())
				}
			}
		}
	}
}

// A jack on a control's wiper, or a terminal wired to B-minus, lacks a coupling: that is the remedy, not to
// move a B-minus that is nowhere on it. What of the line side is as it should be is not asked for.
func TestRemedyOfWhatLacksACoupling(t *testing.T) {
	fuse := `F1 = { kind = "fuse", ends = ["line 1", "f"], amps = 0.5 }`
	switched := `S1 = { kind = "switch", ends = ["f", "H"] }`
	jack := func(parts ...string) *Report {
		return checkSet(t, loadWhole(t, `[set]
name = "trial"
[nodes]
tip = { touch = "jack" }
[parts]
`+strings.Join(append([]string{loadHB, wireNeut}, parts...), "\n")+"\n"), analysis.Bench{})
	}
	wiper := `R2 = { kind = "potentiometer", ends = ["audio", "B-"], wiper = "tip", value = "1 meg" }`
	f := one(t, jack(polarized, fuse, switched, wiper), "polarity-only", Danger, "tip is live")
	if f.Remedy != "put a class Y capacitor of 4.7 nF or less, and nothing else, between R2 and tip: it passes the signal and holds off the line; or take tip off the set; "+
		"or feed the set through an isolating transformer" {
		t.Error(f.Remedy)
	}
	// With a plain plug, and no fuse, the line side is wanting too.
	f = one(t, jack(plain, switchHot, wiper), "polarity-only", Danger)
	if !strings.HasSuffix(f.Remedy, "isolating transformer; fuse and switch go into the hot leg, with a polarized plug where outlets take one") {
		t.Error(f.Remedy)
	}
	// A wire is named by where it comes from; metal that carries B-minus keeps the remedy of B-minus.
	f = one(t, jack(polarized, `S1 = { kind = "switch", ends = ["line 1", "H"] }`, `W3 = { kind = "wire", ends = ["B-", "tip"] }`), "polarity-only", Danger)
	if !strings.HasPrefix(f.Remedy, "put a class Y capacitor of 4.7 nF or less, and nothing else, between B- and tip:") {
		t.Error(f.Remedy)
	}
	f = one(t, check(t, polarized, switchHot, wireNeut, loadHB, `W3 = { kind = "wire", ends = ["B-", "chassis"] }`), "polarity-only", Danger)
	if !strings.HasPrefix(f.Remedy, liftOff) {
		t.Error(f.Remedy)
	}
	both := []string{polarized, wireHot, wireNeut, loadHB, `W3 = { kind = "wire", ends = ["B-", "tip"] }`, toChassis, "[nodes.tip]", `touch = "jack"`}
	f = one(t, checkEarthed(t, "midpoint", both...), "hot-chassis", Danger)
	if !strings.Contains(f.Remedy, "between B- and tip: ") || !strings.HasSuffix(f.Remedy, legRemedy) {
		t.Error(f.Remedy)
	}
}
