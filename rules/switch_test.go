package rules

import "testing"

// The switch of a polarized set in the neutral leg: the load hangs on the hot leg ahead of it.
func TestSwitchInNeutralLegOfPolarizedPlug(t *testing.T) {
	r := check(t, polarized, wireHot, switchNeu, loadHB, toChassis)
	one(t, r, "switch-in-neutral", Warning, "S1", "neutral leg as marked (line 2)", "hot leg (line 1)")
	one(t, r, "switch-after-load", Warning, "R1", "line 1")
	silent(t, r, "no-switch") // switch-in-neutral tells it
}

// The remedy applied: the same switch in the hot leg, or one with two poles.
func TestSwitchInHotLegOrInBothIsQuiet(t *testing.T) {
	for _, lines := range [][]string{
		{polarized, switchHot, wireNeut, loadHB, toChassis},
		{polarized, switchTwo, loadHB, toChassis},
		{plain, switchTwo, loadHB, toChassis},
	} {
		r := check(t, lines...)
		silent(t, r, "switch-in-neutral")
		silent(t, r, "switch-after-load")
		silent(t, r, "no-switch")
	}
}

// With a plain plug a switch in either leg is in one leg of which no one knows the name.
func TestPlainPlugHasNoMarkedWay(t *testing.T) {
	one(t, check(t, plain, wireHot, switchNeu, loadHB, toChassis), "switch-in-neutral", Warning, "one leg alone (line 2)", "no one knows which")
	one(t, check(t, plain, switchHot, wireNeut, loadHB, toChassis), "switch-in-neutral", Warning, "one leg alone (line 1)")
}

// A plain plug has something ahead of the switch whatever its way only where both blades have.
func TestPlainPlugSwitchAfterLoadOnBothBlades(t *testing.T) {
	one(t, check(t, plain, wireHot, loadHB, toChassis,
		`S1 = { kind = "switch", ends = ["B-", "b"] }`,
		`R2 = { kind = "resistor", ends = ["b", "line 2"], value = 100 }`), "switch-after-load", Warning, "R1 on line 1", "R2 on line 2")
	silent(t, check(t, plain, wireHot, switchNeu, loadHB, toChassis), "switch-after-load")
}

// A line filter ahead of the switch is one of the parts that stay on the line; one behind is not.
func TestLineFilterAheadOfSwitch(t *testing.T) {
	one(t, check(t, polarized, switchHot, wireNeut, loadHB, toChassis,
		`C1 = { kind = "capacitor", ends = ["line 1", "line 2"], value = "0.05 uF", class = "X2" }`), "switch-after-load", Warning, "C1")
	silent(t, check(t, polarized, switchHot, wireNeut, loadHB, toChassis,
		`C1 = { kind = "capacitor", ends = ["H", "B-"], value = "0.05 uF", class = "X2" }`), "switch-after-load")
}

// A part ahead of the switch whose other end leads nowhere draws nothing.
func TestDeadEndAheadOfSwitch(t *testing.T) {
	silent(t, check(t, polarized, switchHot, wireNeut, loadHB, toChassis,
		`R2 = { kind = "resistor", ends = ["line 1", "drop 250"], value = 250 }`), "switch-after-load")
}

// A voltage plug is set with a tool and is no switch: what hangs behind it hangs ahead of the switch.
func TestVoltagePlugIsNoSwitch(t *testing.T) {
	r := check(t, polarized, switchNeu, loadHB, toChassis,
		`VP1 = { kind = "selector", common = "line 1", throws = ["H", "spare"], positions = ["120 V", "240 V"], fixed = "120 V" }`,
		`R2 = { kind = "resistor", ends = ["spare", "H"], value = 800 }`)
	one(t, r, "switch-after-load", Warning, "R1")
	r = check(t, polarized, wireNeut, loadHB, toChassis,
		`VP1 = { kind = "selector", common = "line 1", throws = ["H", "spare"], positions = ["120 V", "240 V"], fixed = "120 V" }`,
		`R2 = { kind = "resistor", ends = ["spare", "H"], value = 800 }`)
	one(t, r, "no-switch", Notice)
	silent(t, r, "switch-after-load")
}

// An open position of a selector is a switch like another.
func TestSelectorWithOpenThrowIsASwitch(t *testing.T) {
	off := `SW1 = { kind = "selector", common = "line 2", throws = ["B-", ""], positions = ["on", "away"] }`
	one(t, check(t, polarized, wireHot, loadHB, toChassis, off), "switch-in-neutral", Warning, "SW1")
}

// A tone switch on a set whose B-minus is the neutral leg is no line switch.
func TestToneSwitchIsNoLineSwitch(t *testing.T) {
	r := check(t, polarized, wireHot, wireNeut, loadHB, toChassis,
		`S2 = { kind = "switch", ends = ["B-", "tone"] }`,
		`C2 = { kind = "capacitor", ends = ["tone", "plate"], value = "0.01 uF" }`,
		`R2 = { kind = "resistor", ends = ["plate", "H"], value = "100k" }`)
	one(t, r, "no-switch", Notice)
	silent(t, r, "switch-in-neutral")
}

// The motor's own switch in the neutral leg of a set whose line switch is in the hot leg.
func TestMotorSwitchBehindLineSwitch(t *testing.T) {
	r := check(t, polarized, switchHot, wireNeut, loadHB, toChassis,
		`S2 = { kind = "switch", ends = ["B-", "motor end"] }`,
		`M1 = { kind = "motor", ends = ["H", "motor end"], volts = 120, watts = 12 }`)
	silent(t, r, "switch-in-neutral")
	silent(t, r, "no-switch")
}

func TestNoSwitchAtAll(t *testing.T) {
	one(t, check(t, polarized, wireHot, wireNeut, loadHB, toChassis), "no-switch", Notice)
	// With nothing but a capacitor on the line the switch counts all the same.
	capacitor := `CX = { kind = "capacitor", ends = ["H", "B-"], value = "0.1 uF", class = "X2" }`
	silent(t, check(t, polarized, switchHot, wireNeut, capacitor, toChassis), "no-switch")
}

// Two switches of their own, one in each leg, are not the two poles of one: with the one in the
// neutral leg off, the set is dead to the eye and hangs on the hot leg by the other.
func TestTwoSwitchesOneInEachLeg(t *testing.T) {
	neutral := `S2 = { kind = "switch", ends = ["line 2", "B-"] }`
	f := one(t, check(t, polarized, switchHot, neutral, loadHB, toChassis), "switch-in-neutral", Warning,
		"S2 opens only the neutral leg", "hot leg (line 1)", "unless S1 in that leg is off too")
	if len(f.Parts) != 1 || f.Parts[0] != "S2" {
		t.Errorf("told of %v", f.Parts)
	}
	one(t, check(t, plain, switchHot, neutral, loadHB, toChassis), "switch-in-neutral", Warning,
		"S1 opens one leg alone (line 1) and S2 the other (line 2)", "no one knows which")

	// A lamp that goes on burning, and a part that no switch takes off, make the set no less dead.
	lamp := `LP1 = { kind = "lamp", ends = ["H", "line 2"], volts = 120, amps = 0.05 }`
	always := `R2 = { kind = "resistor", ends = ["line 1", "line 2"], value = "100k" }`
	for _, more := range []string{lamp, always} {
		one(t, check(t, polarized, switchHot, neutral, loadHB, toChassis, more), "switch-in-neutral", Warning, "S2 opens only")
	}

	// A second switch in the neutral leg behind one of two poles takes nothing off the hot leg either.
	one(t, check(t, polarized, `S1 = { kind = "switch", poles = [["line 1", "H"], ["line 2", "n"]] }`,
		`S2 = { kind = "switch", ends = ["n", "B-"] }`, loadHB, toChassis), "switch-in-neutral", Warning, "S2 opens only")
}

// A motor's own switch in the neutral leg stays no line switch where a third switch stops the rest.
func TestMotorSwitchBesideAnother(t *testing.T) {
	r := check(t, polarized, switchHot, wireNeut, toChassis,
		`S3 = { kind = "switch", ends = ["H", "play"] }`,
		`R1 = { kind = "resistor", ends = ["play", "B-"], value = 800 }`,
		`S2 = { kind = "switch", ends = ["B-", "motor end"] }`,
		`M1 = { kind = "motor", ends = ["H", "motor end"], volts = 120, watts = 12 }`)
	silent(t, r, "switch-in-neutral")
}

// One class X capacitor behind the fuse, with what drains it, is worth a note and no more; one without a
// fuse, of no class, two of them, or one to the chassis, is not.
func TestLoneFilterBehindAFuse(t *testing.T) {
	with := func(parts ...string) *Report {
		return check(t, append([]string{polarized, `F1 = { kind = "fuse", ends = ["line 1", "f"], amps = 0.5 }`,
			`S1 = { kind = "switch", ends = ["f", "H"] }`, wireNeut, loadHB, toChassis}, parts...)...)
	}
	filter := func(name, from, to, class string) string {
		return name + ` = { kind = "capacitor", ends = ["` + from + `", "` + to + `"], value = "0.1 uF"` + class + ` }`
	}
	x2, drain := `, class = "X2"`, `R9 = { kind = "resistor", ends = ["f", "line 2"], value = "1 meg" }`
	one(t, with(filter("C1", "f", "line 2", x2)), "switch-after-load", Notice, "C1", "class X capacitor behind a fuse")
	one(t, with(filter("C1", "f", "line 2", x2), drain), "switch-after-load", Notice, "C1 hangs")
	for name, r := range map[string]*Report{
		"no fuse":     with(filter("C1", "line 1", "line 2", x2)),
		"no class":    with(filter("C1", "f", "line 2", "")),
		"two":         with(filter("C1", "f", "line 2", x2), filter("C2", "f", "line 2", x2)),
		"the chassis": with(filter("C1", "f", "chassis", x2)),
		"a load":      with(filter("C1", "f", "line 2", x2), `R9 = { kind = "resistor", ends = ["f", "line 2"], value = 800 }`),
	} {
		if f := findings(r, "switch-after-load"); len(f) != 1 || f[0].Signal != Warning {
			t.Errorf("%s:\n%s", name, messages(r))
		}
	}
}
