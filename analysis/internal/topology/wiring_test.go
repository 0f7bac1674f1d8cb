package topology

import (
	"slices"
	"testing"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/circuit/circuittest"
)

// TestEnds: where a path from the hot side ends. The neutral blade and every earth with what conductors
// join to them, until the neutral or one of the earths is lost; losing one leaves the other.
func TestEnds(t *testing.T) {
	c := circuittest.With(t, `PL1 = { kind = "plug", style = "grounding", hot = "L", neutral = "N", earth = "frame" }
S1 = { kind = "switch", ends = ["N", "B-"] }
W1 = { kind = "wire", ends = ["frame", "chassis"] }
W2 = { kind = "wire", ends = ["pipe", "building earth"] }
R1 = { kind = "resistor", ends = ["L", "B-"], value = 800 }
R2 = { kind = "resistor", ends = ["pipe", "B-"], value = 800 }`, "chassis", "pipe")
	neutral, earth, pipe := circuittest.Fault(t, c, circuit.SupplyName, circuit.NeutralLost), circuittest.Fault(t, c, circuit.SupplyName, circuit.EarthLost),
		circuittest.Fault(t, c, "W2", circuit.EarthLost)
	for _, x := range []struct {
		what   string
		plug   circuit.Polarity
		at     string
		faults []*circuit.Fault
		want   []string
	}{
		{"whole", circuit.AsMarked, "on", nil, []string{"B-", "N", "building earth", "chassis", "frame", "pipe"}},
		{"switched off", circuit.AsMarked, "off", nil, []string{"N", "building earth", "chassis", "frame", "pipe"}},
		{"reversed", circuit.Reversed, "on", nil, []string{"L", "building earth", "chassis", "frame", "pipe"}},
		{"neutral lost", circuit.AsMarked, "on", []*circuit.Fault{neutral}, []string{"building earth", "chassis", "frame", "pipe"}},
		{"the plug's earth lost", circuit.AsMarked, "on", []*circuit.Fault{earth}, []string{"B-", "N", "building earth", "pipe"}},
		{"the wire to the building's earth open", circuit.AsMarked, "on", []*circuit.Fault{pipe}, []string{"B-", "N", "building earth", "chassis", "frame"}},
		{"all of them", circuit.AsMarked, "on", []*circuit.Fault{neutral, earth, pipe}, []string{"building earth"}},
	} {
		got := NewWirings(c).Of(circuittest.On(c, x.plug, "S1", x.at).WithFaults(x.faults...)).Ends()
		slices.Sort(got)
		if got = slices.Compact(got); !slices.Equal(got, x.want) {
			t.Errorf("%s: paths end at %q, want %q", x.what, got, x.want)
		}
	}
}
