package rework

import (
	"slices"
	"strings"
	"testing"

	"coldcheck/rules"
)

// Two findings of pairs that share one metal are two; those of the same two, in either order, are one. Of a
// single piece of metal one node in common is enough.
func TestMatchOfPairs(t *testing.T) {
	pair := func(a, b string) rules.Finding {
		return rules.Finding{Rule: rules.LiveBetween, Nodes: []string{a, b}, Message: a + " to " + b}
	}
	known := []rules.Finding{pair("chassis", "antenna"), pair("chassis", "jack")}
	for _, c := range []struct {
		of   rules.Finding
		want string
	}{
		{pair("chassis", "jack"), "chassis to jack"},
		{pair("jack", "chassis"), "chassis to jack"},
		{pair("antenna", "jack"), ""},
		{pair("chassis", "arm"), ""},
	} {
		got := ""
		if g := Match(known, c.of); g != nil {
			got = g.Message
		}
		if got != c.want {
			t.Errorf("%s matches %q, expected %q", c.of.Message, got, c.want)
		}
	}
	metal := rules.Finding{Rule: rules.HotChassis, Nodes: []string{"shaft", "chassis"}}
	if Match([]rules.Finding{metal}, rules.Finding{Rule: rules.HotChassis, Nodes: []string{"chassis"}}) == nil {
		t.Error("one piece of metal under two names is two")
	}
}

// Taking one of three metals off the windings cures what stood between it and each of the others, and
// leaves what stands between those.
func TestComparisonTellsPairsApart(t *testing.T) {
	c := run(t, `[set]
name = "Three metals"
[nodes]
chassis = { touch = "chassis" }
antenna = { touch = "antenna" }
arm = { touch = "pickup" }
[parts]
PL1 = { kind = "plug", style = "polarized", hot = "line 1", neutral = "line 2" }
T1 = { kind = "transformer", windings = { primary = ["line 1", "line 2"], high = ["arm", "chassis"], low = ["chassis", "tap"] }, volts = { primary = 120, high = 120, low = 120 }, insulation = "reinforced" }
W1 = { kind = "wire", ends = ["tap", "antenna"] }
L1 = { kind = "coil", ends = ["antenna", "loop"], ohms = 4 }
`, "[[steps]]\ndo = \"remove\"\npart = \"W1\"\n")
	pairs := func(items []Item) (told []string) {
		for _, i := range items {
			if i.Rule == rules.LiveBetween {
				told = append(told, strings.Join(i.Nodes, "-"))
			}
		}
		return told
	}
	if cured, left := pairs(c.Cured), pairs(c.Left); !slices.Equal(cured, []string{"antenna-arm", "chassis-antenna"}) || !slices.Equal(left, []string{"chassis-arm"}) {
		t.Errorf("cured %q, left %q", cured, left)
	}
}
