package trace

import (
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
)

// bridged has metal that a capacitor feeds (4.5 mA at 120 V 60 Hz from 0.1 µF), metal on the
// neutral side with a heater's worth of ohms to the hot one, metal behind sound insulation, and
// metal that a rectifier feeds.
const bridged = `
[set]
name = "Bridged"
[nodes]
"fed" = { touch = "antenna" }
"tied" = { touch = "chassis" }
"screw" = { touch = "fastener" }
"sleeved" = { touch = "trim" }
"rectified" = { touch = "jack" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
C1 = { kind = "capacitor", ends = ["line 1", "fed"], value = "0.1 uF", type = "film" }
R1 = { kind = "resistor", ends = ["line 1", "tied"], value = 800 }
W1 = { kind = "wire", ends = ["tied", "line 2"] }
W2 = { kind = "wire", ends = ["tied", "screw"] }
I1 = { kind = "insulation", ends = ["line 1", "sleeved"] }
D1 = { kind = "rectifier", anode = "line 1", cathode = "rectified", type = "silicon" }
`

func tracesOf(t *testing.T, q Query) map[string]Trace {
	t.Helper()
	c := analysistest.Of(t, bridged)
	byPoint := map[string]Trace{}
	for _, x := range All(c, q) {
		byPoint[x.To] = x
	}
	return byPoint
}

// TestDisagree: where paths and figures say the same nothing is said, else which way they differ.
func TestDisagree(t *testing.T) {
	traces := tracesOf(t, Query{From: FromHot, Paths: 3, Filter: analysis.Filter{Plug: analysis.AsMarked}})
	for _, c := range []struct {
		point     string
		want      Disagreement
		tied      bool
		paths     int
		rectifier string
	}{
		{"fed", CarriesYet, false, 1, ""},
		{"tied", CannotCarry, true, 1, ""},
		{"sleeved", Agree, false, 1, ""},
		{"rectified", Agree, false, 1, "D1"},
	} {
		t.Run(c.point, func(t *testing.T) {
			got := traces[c.point]
			if got.Disagree != c.want || got.Tied != c.tied || len(got.Paths) != c.paths || got.State.Rectifier != c.rectifier {
				t.Errorf("disagree %d, tied %v, %d paths, rectifier %q; want %d, %v, %d, %q",
					got.Disagree, got.Tied, len(got.Paths), got.State.Rectifier, c.want, c.tied, c.paths, c.rectifier)
			}
		})
	}
}

// TestMetal: points that conductors join in every state traced are told at the first of them.
func TestMetal(t *testing.T) {
	traces := tracesOf(t, Query{From: FromHot, Paths: 1})
	if got := traces["tied"]; got.Metal != "tied" || len(got.With) != 1 || got.With[0].Name != "screw" {
		t.Errorf("tied: metal %q with %d more, want itself with screw", got.Metal, len(got.With))
	}
	if got := traces["screw"]; got.Metal != "tied" {
		t.Errorf("screw: metal %q, want tied", got.Metal)
	}
	if got := traces["fed"]; got.Metal != "fed" || len(got.With) != 0 {
		t.Errorf("fed: metal %q with %d more, want itself alone", got.Metal, len(got.With))
	}
}

// TestFrom: each end of a trace is where it was asked for.
func TestFrom(t *testing.T) {
	for _, c := range []struct{ from, node, side string }{
		{FromHot, "line 1", FromHot}, {FromNeutral, "line 2", FromNeutral}, {"tied", "tied", ""},
	} {
		got := tracesOf(t, Query{From: c.from, To: "fed", Paths: 1, Filter: analysis.Filter{Plug: analysis.AsMarked}})["fed"]
		if got.From != c.node || got.Side != c.side {
			t.Errorf("from %s: %q (%q), want %q (%q)", c.from, got.From, got.Side, c.node, c.side)
		}
	}
}

// TestFewestSafeguards: of both plug polarities the path with the fewest is found, and none where
// nothing leads.
func TestFewestSafeguards(t *testing.T) {
	c := analysistest.Of(t, `
[set]
name = "Two ways"
[nodes]
"metal" = { touch = "chassis" }
"clip" = { touch = "antenna" }
"alone" = { touch = "trim" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
C1 = { kind = "capacitor", ends = ["line 1", "metal"], value = "0.1 uF", type = "film" }
R1 = { kind = "resistor", ends = ["metal", "line 2"], value = 800 }
C2 = { kind = "capacitor", ends = ["metal", "clip"], value = "100 pF", type = "mica" }
W1 = { kind = "wire", ends = ["alone", "bolt"] }
`)
	for _, x := range []struct {
		node, from string
		cost       int
		ok         bool
	}{{"metal", "line 2", 0, true}, {"clip", "line 2", 1, true}, {"alone", "", 0, false}} {
		if p, ok := FewestSafeguards(c, x.node); ok != x.ok || p.From != x.from || p.Cost() != x.cost {
			t.Errorf("%s: found %v, from %q with %d safeguards; want %v, from %q with %d", x.node, ok, p.From, p.Cost(), x.ok, x.from, x.cost)
		}
	}
}
