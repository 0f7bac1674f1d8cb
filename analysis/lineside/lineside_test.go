package lineside

import (
	"slices"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist"
)

// screw is metal on nothing: a set has some that can be touched.
const screw = "\nW9 = { kind = \"wire\", ends = [\"screw\", \"lug\"] }"

// of looks at the line of these parts, on a plug from L to N.
func of(t *testing.T, parts string, touch ...string) *Side {
	t.Helper()
	return Of(analysistest.With(t, parts+screw, append(touch, "screw")...))
}

// same holds two lists of names against each other.
func same(t *testing.T, what string, got []string, want ...string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("%s: %q, want %q", what, got, want)
	}
}

// TestSwitches: which conductor a switch opens whole, of which it takes off something, and which it opens alone.
func TestSwitches(t *testing.T) {
	const load = "\nR1 = { kind = \"resistor\", ends = [\"a\", \"b\"], value = 800 }\n"
	const inHot, inNeutral = `S1 = { kind = "switch", ends = ["L", "a"] }`, "S2 = { kind = \"switch\", ends = [\"N\", \"b\"] }\n"
	const strap = `W1 = { kind = "wire", ends = ["N", "b"] }`
	for _, c := range []struct {
		name, parts                    string
		hotFull, hotPartly             []string
		neutralFull, neutralPartly     []string
		onlyHot, onlyNeutral, controls []string
		stops                          []string
	}{
		{"none", load + `W0 = { kind = "wire", ends = ["L", "a"] }` + "\n" + strap, nil, nil, nil, nil, nil, nil, nil, nil},
		{"in the hot one", inHot + load + strap, []string{"S1"}, []string{"S1"}, nil, nil, []string{"S1"}, nil, []string{"S1"}, []string{"S1"}},
		{"in the neutral one", inNeutral + load + `W0 = { kind = "wire", ends = ["L", "a"] }`,
			nil, nil, []string{"S2"}, []string{"S2"}, nil, []string{"S2"}, []string{"S2"}, []string{"S2"}},
		{"with two poles", `S1 = { kind = "switch", poles = [["L", "a"], ["N", "b"]] }` + load,
			[]string{"S1"}, []string{"S1"}, []string{"S1"}, []string{"S1"}, nil, nil, []string{"S1"}, []string{"S1"}},
		{"past a shorted part", inHot + "\nC1 = { kind = \"capacitor\", ends = [\"L\", \"a\"], value = \"10 nF\", type = \"film\", condition = \"failed\" }" + load + strap,
			[]string{"S1"}, []string{"S1"}, nil, nil, []string{"S1"}, nil, []string{"S1"}, []string{"S1"}},
		{"one for each of two branches", inHot + load + strap + "\nS3 = { kind = \"switch\", ends = [\"L\", \"c\"] }\n" + `R2 = { kind = "resistor", ends = ["c", "N"], value = 800 }`,
			[]string{"S1", "S3"}, []string{"S1", "S3"}, nil, nil, []string{"S1", "S3"}, nil, []string{"S1", "S3"}, []string{"S1", "S3"}},
		{"with a load ahead", inHot + load + strap + "\n" + `R2 = { kind = "resistor", ends = ["L", "N"], value = 800 }`,
			[]string{"S1"}, []string{"S1"}, nil, nil, []string{"S1"}, nil, []string{"S1"}, nil},
		{"in each one", inHot + "\n" + inNeutral + load, []string{"S1"}, []string{"S1"}, []string{"S2"}, []string{"S2"}, []string{"S1"}, []string{"S2"}, []string{"S1", "S2"}, []string{"S1", "S2"}},
		{"and one on a dead end", inHot + load + strap + "\nS3 = { kind = \"switch\", ends = [\"a\", \"c\"] }\n" + `R2 = { kind = "resistor", ends = ["c", "d"], value = 800 }`,
			[]string{"S1"}, []string{"S1"}, nil, nil, []string{"S1"}, nil, []string{"S1"}, []string{"S1"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := of(t, c.parts)
			same(t, "hot, whole", s.Hot.Full, c.hotFull...)
			same(t, "hot, partly", s.Hot.Partly, c.hotPartly...)
			same(t, "neutral, whole", s.Neutral.Full, c.neutralFull...)
			same(t, "neutral, partly", s.Neutral.Partly, c.neutralPartly...)
			same(t, "hot alone", s.OnlyIn(s.Hot), c.onlyHot...)
			same(t, "neutral alone", s.OnlyIn(s.Neutral), c.onlyNeutral...)
			same(t, "all", s.Switches(), c.controls...)
			same(t, "that stop all from the hot one", s.Hot.stops, c.stops...)
			same(t, "that stop all from the neutral one", s.Neutral.stops, c.stops...)
		})
	}
}

// TestGovernors: a motor's own switch in one conductor does nothing that the line switch in the other does not,
// and is no line switch; the line switch does more than the motor's.
func TestGovernors(t *testing.T) {
	s := of(t, `
S1 = { kind = "switch", ends = ["N", "c"] }
R1 = { kind = "resistor", ends = ["L", "c"], value = 800 }
S2 = { kind = "switch", ends = ["L", "m"] }
M1 = { kind = "motor", ends = ["m", "c"], volts = 120, amps = 0.15 }
`)
	same(t, "hot, whole", s.Hot.Full, "S2")
	same(t, "hot alone", s.OnlyIn(s.Hot))
	same(t, "neutral alone", s.OnlyIn(s.Neutral), "S1")
	same(t, "what governs the motor's", s.Governors([]string{"S2"}, s.Hot), "S1")
	same(t, "what governs the line switch", s.Governors([]string{"S1"}, s.Neutral))
}

// TestLampAside: of two line switches, one in each conductor, either opens its own alone, also where a pilot lamp
// hangs ahead of one.
func TestLampAside(t *testing.T) {
	s := of(t, `
S1 = { kind = "switch", ends = ["L", "a"] }
S2 = { kind = "switch", ends = ["N", "b"] }
R1 = { kind = "resistor", ends = ["a", "b"], value = 800 }
PL2 = { kind = "lamp", ends = ["L", "b"], volts = 120, amps = 0.1 }
`)
	same(t, "hot alone", s.OnlyIn(s.Hot), "S1")
	same(t, "neutral alone", s.OnlyIn(s.Neutral), "S2")
}

// TestFuses: which fuse each conductor has, what it feeds past every fuse, and what hangs before one.
func TestFuses(t *testing.T) {
	s := of(t, `
F1 = { kind = "fuse", ends = ["L", "a"] }
R1 = { kind = "resistor", ends = ["a", "b"], value = 800 }
R2 = { kind = "resistor", ends = ["L", "b"], value = 900 }
F2 = { kind = "fuse", ends = ["b", "N"] }
`)
	same(t, "hot", s.Hot.Fuses, "F1")
	same(t, "hot, past every fuse", s.Hot.Unfused, "R2")
	same(t, "neutral", s.Neutral.Fuses, "F2")
	same(t, "neutral, past every fuse", s.Neutral.Unfused)
	same(t, "of either", s.Fuses(), "F1", "F2")
	before, behind := s.BeforeFuse(s.Hot, "F1")
	if same(t, "before F1", before, "R2"); behind {
		t.Error("F1 is behind a switch, want ahead of any")
	}
	same(t, "ahead of fuses", s.HangingUnfused(s.Hot), "R2")
	same(t, "ahead of switches", s.HangingAhead(s.Hot), "R1", "R2")

	s = of(t, `
S1 = { kind = "switch", ends = ["L", "s"] }
F1 = { kind = "fuse", ends = ["s", "a"] }
R1 = { kind = "resistor", ends = ["a", "N"], value = 800 }
`)
	if before, behind = s.BeforeFuse(s.Hot, "F1"); !behind || len(before) > 0 {
		t.Errorf("F1: %q before it, behind a switch %v; want none, true", before, behind)
	}
	same(t, "behind the switch", s.Hot.Fuses, "F1")
}

// TestBranchFuses: a fuse behind a resistor that carries on to a lamp is one of a branch; one of which
// a resistor alone hangs, and one ahead of all, are not.
func TestBranchFuses(t *testing.T) {
	s := of(t, `
S1 = { kind = "switch", ends = ["L", "l"] }
R1 = { kind = "resistor", ends = ["l", "a"], value = 47 }
F1 = { kind = "fuse", ends = ["a", "b"] }
PL2 = { kind = "lamp", ends = ["b", "N"], volts = 120, amps = 0.1 }
R2 = { kind = "resistor", ends = ["L", "c"], value = 47 }
F2 = { kind = "fuse", ends = ["c", "d"] }
R3 = { kind = "resistor", ends = ["d", "N"], value = 470 }
F3 = { kind = "fuse", ends = ["L", "e"] }
PL3 = { kind = "lamp", ends = ["e", "N"], volts = 120, amps = 0.1 }
`)
	all := s.BranchFuses()
	if len(all) != 1 || all[0].Fuse != "F1" || all[0].Conductor != s.Hot {
		t.Fatalf("branch fuses %+v, want F1 of the hot conductor", all)
	}
	same(t, "behind", all[0].Behind, "R1")
	same(t, "of the line", s.Hot.Fuses, "F3")
}

// TestAhead: a voltage plug is set with a tool and is no switch, a dead end draws nothing, and a capacitor
// to metal or to an earth does.
func TestAhead(t *testing.T) {
	s := of(t, `
VP1 = { kind = "selector", common = "L", throws = ["v", "spare"], positions = ["120 V", "240 V"], fixed = "120 V" }
W1 = { kind = "wire", ends = ["v", "a"] }
C2 = { kind = "capacitor", ends = ["a", "building earth"], value = "1 nF", type = "film" }
R1 = { kind = "resistor", ends = ["a", "end"], value = 100 }
C1 = { kind = "capacitor", ends = ["a", "metal"], value = "1 nF", type = "film" }
S1 = { kind = "switch", ends = ["a", "b"] }
R2 = { kind = "resistor", ends = ["b", "N"], value = 800 }
`, "metal")
	same(t, "hot", s.HangingAhead(s.Hot), "C2", "C1")
	same(t, "neutral", s.HangingAhead(s.Neutral), "R2")
}

// TestFeeds: whether anything lies between the blades, and what conductors do.
func TestFeeds(t *testing.T) {
	for _, c := range []struct {
		name, parts    string
		feeds, nowhere bool
	}{
		{"a load", `R1 = { kind = "resistor", ends = ["L", "N"], value = 800 }`, true, false},
		{"a capacitor alone", `C1 = { kind = "capacitor", ends = ["L", "N"], value = "10 nF", type = "film" }`, true, false},
		{"a dead end", `R1 = { kind = "resistor", ends = ["L", "a"], value = 800 }`, false, true},
		{"a wire", `W1 = { kind = "wire", ends = ["L", "N"] }`, false, false},
	} {
		if s := of(t, c.parts); s.Feeds() != c.feeds || s.LeadsNowhere() != c.nowhere {
			t.Errorf("%s: feeds %v, leads nowhere %v; want %v, %v", c.name, s.Feeds(), s.LeadsNowhere(), c.feeds, c.nowhere)
		}
	}
	s := of(t, `
S1 = { kind = "switch", ends = ["L", "a"] }
R1 = { kind = "resistor", ends = ["a", "N"], value = 800 }
`)
	for _, c := range []struct {
		a, b                 string
		joined, ever, always bool
	}{{"L", "a", true, false, false}, {"a", "N", false, true, false}, {"N", "L", false, true, true}, {"L", "L", true, false, false}} {
		if j, e, a := s.EverJoined(c.a, c.b), s.EverAcross(c.a, c.b), s.AlwaysAcross(c.a, c.b); j != c.joined || e != c.ever || a != c.always {
			t.Errorf("%s to %s: joined %v, across at times %v, always %v; want %v, %v, %v", c.a, c.b, j, e, a, c.joined, c.ever, c.always)
		}
	}
}

// TestGaps: a part stands between the line and metal where it alone must fail; of two good ones in series
// neither does, but once the other lets go; metal that a load joins to the line has no gap. Each is told once, whatever the
// switch does.
func TestGaps(t *testing.T) {
	s := of(t, `
R1 = { kind = "resistor", ends = ["L", "joined"], value = 800 }
C1 = { kind = "capacitor", ends = ["L", "near"], value = "1 nF", type = "film" }
C2 = { kind = "capacitor", ends = ["L", "m"], value = "1 nF", type = "film" }
C3 = { kind = "capacitor", ends = ["m", "far"], value = "1 nF", type = "film" }
C4 = { kind = "capacitor", ends = ["near", "x"], value = "1 nF", type = "film" }
C5 = { kind = "capacitor", ends = ["L", "papered"], value = "1 nF", type = "paper" }
C6 = { kind = "capacitor", ends = ["L", "N"], value = "1 nF", type = "film" }
S1 = { kind = "switch", ends = ["L", "on"] }
R2 = { kind = "resistor", ends = ["on", "N"], value = 800 }
`, "joined", "near", "far", "papered")
	metals := []string{"joined", "near", "far", "papered"}
	g := s.Gaps(metals)
	passing := s.GapsPassing(metals, func(ch analysis.Channel) bool { return ch.Part == "C3" })
	for _, c := range []struct {
		name, part, a, b string
		g                *Gaps
		want             []int
	}{
		{"a load", "R1", "L", "joined", g, nil},
		{"the one capacitor", "C1", "L", "near", g, []int{1}},
		{"the one, its ends the other way", "C1", "near", "L", g, []int{1}},
		{"a dead end", "C4", "near", "x", g, nil},
		{"one that no one vouches for", "C5", "L", "papered", g, []int{3}},
		{"one across the line", "C6", "L", "N", g, nil},
		{"one of two", "C2", "L", "m", g, nil},
		{"one of two, the other let go", "C2", "L", "m", passing, []int{2}},
		{"the other of two", "C3", "m", "far", passing, nil},
		{"one of two, all capacitors let go", "C2", "L", "m", g.ThroughCapacitors(), []int{2}},
		{"a load, looked for without it", "R1", "L", "joined", s.GapsWithout(metals, "R1"), []int{0}},
	} {
		if got := c.g.Around(c.part, c.a, c.b); !slices.Equal(got, c.want) {
			t.Errorf("%s: %s keeps off %v, want %v", c.name, c.part, got, c.want)
		}
	}
	partners, shorted := g.SeriesPartners()
	same(t, "beside C2", partners["C2"], "C3")
	same(t, "beside C3", partners["C3"], "C2")
	same(t, "beside C1", partners["C1"])
	same(t, "of several", shorted, "C2", "C3")
}

// TestTieOf: a winding on the line that shares a point with another, one that is tapped, and one that is
// apart.
func TestTieOf(t *testing.T) {
	for _, c := range []struct {
		name, windings, volts, load string
		want                        Tie
		ok                          bool
	}{
		{"shared", `line = ["L", "N"], load = ["out", "N"]`, `line = 120, load = 60`, `["out", "N"]`, Tie{Node: "N", Winding: "line", Other: "load"}, true},
		{"tapped", `low = ["mid", "N"], high = ["L", "mid"]`, `low = 60, high = 60`, `["mid", "N"]`, Tie{Node: "mid", Tapped: true}, true},
		{"in series", `low = ["mid", "N"], high = ["L", "mid"], load = ["out", "back"]`, `low = 60, high = 60, load = 60`, `["out", "back"]`, Tie{}, false},
		{"apart", `line = ["L", "N"], load = ["out", "back"]`, `line = 120, load = 60`, `["out", "back"]`, Tie{}, false},
	} {
		circuit := analysistest.With(t, `T1 = { kind = "transformer", windings = { `+c.windings+` }, volts = { `+c.volts+" } }\n"+`R1 = { kind = "resistor", ends = `+c.load+`, value = 800 }`+screw, "screw")
		p := circuit.Set.Part("T1")
		if got, ok := Of(circuit).TieOf("T1", p.Detail.(*netlist.Transformer)); got != c.want || ok != c.ok {
			t.Errorf("%s: %+v, %v; want %+v, %v", c.name, got, ok, c.want, c.ok)
		}
	}
}

// TestPlainPlug: of a plug whose blades are alike the conductors are those that the file names first and second.
func TestPlainPlug(t *testing.T) {
	s := of(t, `PL1 = { kind = "plug", ends = ["one", "two"] }
S1 = { kind = "switch", ends = ["two", "a"] }
R1 = { kind = "resistor", ends = ["one", "a"], value = 800 }`)
	if s.Hot.Blade != "one" || s.Neutral.Blade != "two" || s.Hot.Other != s.Neutral || s.Neutral.Other != s.Hot {
		t.Errorf("blades %s and %s, want one and two, each the other's other", s.Hot.Blade, s.Neutral.Blade)
	}
	same(t, "the second alone", s.OnlyIn(s.Neutral), "S1")
}
