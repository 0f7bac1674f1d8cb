package trace

import (
	"math"
	"slices"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist/settest"
)

// marked is the state with the plug as marked and all else at rest.
func marked(c *analysis.Circuit) analysis.State { return c.StateOf(analysis.AsMarked, nil) }

// TestForemost: of two capacitors side by side the larger carries the most, and each its share by its size:
// 100 nF and 50 nF pass two thirds and one third.
func TestForemost(t *testing.T) {
	c := analysistest.With(t, `
C1 = { kind = "capacitor", ends = ["L", "metal"], value = "50 nF", type = "film" }
C2 = { kind = "capacitor", ends = ["L", "metal"], value = "100 nF", type = "film" }
`, "metal")
	state := marked(c)
	p := Foremost(c, state, "metal")
	if got := p.Parts(); !slices.Equal(got, []string{"C2"}) || p.From != "L" {
		t.Errorf("by %q, want C2 from L", got)
	}
	for _, part := range []string{"C1", "C2"} {
		if got := ForemostBy(c, state, "metal", part).Parts(); !slices.Equal(got, []string{part}) {
			t.Errorf("by %s: %q", part, got)
		}
	}
	if got := ForemostBy(c, state, "metal", "PL1").Parts(); !slices.Equal(got, []string{"C2"}) {
		t.Errorf("by a part on no path: %q, want C2", got)
	}
	if got := Beside(c, state, p).Parts(); !slices.Equal(got, []string{"C1"}) {
		t.Errorf("beside C2: %q, want C1", got)
	}
	if got := WithoutSafeguards(c, state, "metal"); got != nil {
		t.Errorf("without safeguards: %q, want no path", got.Parts())
	}
	couplers := Couplers(c, state, "metal")
	if len(couplers) != 2 {
		t.Fatalf("couplers %+v, want C2 and C1", couplers)
	}
	for i, want := range []Coupler{{"C2", 2.0 / 3, true}, {"C1", 1.0 / 3, true}} {
		got := couplers[i]
		if got.Part != want.Part || math.Abs(got.Share-want.Share) > 1e-6 || got.Safeguard != want.Safeguard {
			t.Errorf("coupler %d: %+v, want %+v", i, got, want)
		}
	}
}

// TestWorthTelling: beside 100 nF a capacitor is told from a tenth of the current on, and has a path in parallel of
// its own up to five times the impedance.
func TestWorthTelling(t *testing.T) {
	for _, x := range []struct {
		value    string
		couplers int
		beside   int
	}{{"25 nF", 2, 1}, {"12.5 nF", 2, 0}, {"10.5 nF", 1, 0}} {
		c := analysistest.With(t, `
C1 = { kind = "capacitor", ends = ["L", "metal"], value = "`+x.value+`", type = "film" }
C2 = { kind = "capacitor", ends = ["L", "metal"], value = "100 nF", type = "film" }
`, "metal")
		state := marked(c)
		if got := Couplers(c, state, "metal"); len(got) != x.couplers {
			t.Errorf("%s: couplers %+v, want %d", x.value, got, x.couplers)
		}
		if got := Beside(c, state, Foremost(c, state, "metal")).Parts(); len(got) != x.beside {
			t.Errorf("%s: beside it %q, want %d", x.value, got, x.beside)
		}
	}
}

// TestCarrying: beside a load of 9 kΩ a capacitor of 10 µF, 265 Ω at 60 Hz, carries the most; one of 1 nF
// carries next to nothing, and the load's path is all there is to tell. Either way the load's is the path
// without safeguards.
func TestCarrying(t *testing.T) {
	for _, x := range []struct {
		value    string
		foremost string
		carrying []string
	}{{"10 uF", "C1", []string{"C1"}}, {"1 nF", "R1", nil}} {
		c := analysistest.With(t, `
R1 = { kind = "resistor", ends = ["L", "metal"], value = "9 kohm" }
C1 = { kind = "capacitor", ends = ["L", "metal"], value = "`+x.value+`", type = "film" }
`, "metal")
		state := marked(c)
		free := WithoutSafeguards(c, state, "metal")
		if got := free.Parts(); !slices.Equal(got, []string{"R1"}) {
			t.Errorf("%s: without safeguards %q, want R1", x.value, got)
		}
		if got := Foremost(c, state, "metal").Parts(); !slices.Equal(got, []string{x.foremost}) {
			t.Errorf("%s: foremost %q, want %s", x.value, got, x.foremost)
		}
		if got := Carrying(c, state, free).Parts(); !slices.Equal(got, x.carrying) {
			t.Errorf("%s: carrying more %q, want %q", x.value, got, x.carrying)
		}
	}
}

// TestNoPath: where nothing leads there is no path, nothing that carries, and no share.
func TestNoPath(t *testing.T) {
	c := analysistest.With(t, `W1 = { kind = "wire", ends = ["metal", "lug"] }`, "metal")
	state := marked(c)
	if p, by := Foremost(c, state, "metal"), ForemostBy(c, state, "metal", "W1"); p != nil || by != nil {
		t.Errorf("paths %q and %q, want none", p.Parts(), by.Parts())
	}
	if got := Couplers(c, state, "metal"); len(got) != 0 {
		t.Errorf("couplers %+v, want none", got)
	}
	if got := Carrying(c, state, nil); got != nil {
		t.Errorf("carrying %q, want none", got.Parts())
	}
}

// TestSources: current comes from the hot blade alone, whichever that is; from both where both are hot; on a
// bench that parts the mains from earth from both, but where the neutral is earthed there from the hot one.
func TestSources(t *testing.T) {
	const parts = `C1 = { kind = "capacitor", ends = ["L", "metal"], value = "10 nF", type = "film" }`
	usual := settest.With(parts, "metal")
	split := `[set]
name = "Split phase"
mains = "240 V 60 Hz"
earthed = "midpoint"
[nodes]
metal = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", hot = "L", neutral = "N" }
` + parts
	for _, x := range []struct {
		name, file string
		bench      analysis.Bench
		plug       analysis.Polarity
		want       []string
	}{
		{"as marked", usual, analysis.Bench{}, analysis.AsMarked, []string{"L"}},
		{"reversed", usual, analysis.Bench{}, analysis.Reversed, []string{"N"}},
		{"both hot", split, analysis.Bench{}, analysis.AsMarked, []string{"L", "N"}},
		{"isolated", usual, analysis.Bench{Isolated: true}, analysis.AsMarked, []string{"L", "N"}},
		{"isolated, one earthed", usual, analysis.Bench{Isolated: true, Earthed: []string{"N"}}, analysis.AsMarked, []string{"L"}},
		{"isolated, the other earthed", usual, analysis.Bench{Isolated: true, Earthed: []string{"L"}}, analysis.AsMarked, []string{"N"}},
	} {
		c := analysistest.New(t, settest.Load(t, x.file), x.bench)
		if got := Sources(c, c.StateOf(x.plug, nil)); !slices.Equal(got, x.want) {
			t.Errorf("%s: %q, want %q", x.name, got, x.want)
		}
	}
}

// TestHoldsVoltage: a reservoir stands in the way of nothing while a rectifier feeds it; a small capacitor
// does, and so does the reservoir while all rectifiers block.
func TestHoldsVoltage(t *testing.T) {
	c := analysistest.With(t, `
D1 = { kind = "rectifier", anode = "L", cathode = "B+", type = "silicon" }
C1 = { kind = "capacitor", ends = ["B+", "metal"], value = "40 uF", type = "electrolytic" }
C2 = { kind = "capacitor", ends = ["B+", "metal"], value = "1 nF", type = "film" }
`, "metal")
	for _, x := range []struct {
		part, rectifier string
		want            bool
	}{{"C1", "D1", true}, {"C1", "", false}, {"C1", analysis.SmallDiodes, false}, {"C2", "D1", false}, {"D1", "D1", false}} {
		state := marked(c)
		state.Rectifier = x.rectifier
		channels := c.Wiring(state).Channels
		at := slices.IndexFunc(channels, func(ch analysis.Channel) bool { return ch.Part == x.part })
		if at < 0 {
			t.Fatalf("no channel of %s", x.part)
		}
		if got := HoldsVoltage(c, analysis.Step{Channel: channels[at]}, state); got != x.want {
			t.Errorf("%s with %q conducting: %v, want %v", x.part, x.rectifier, got, x.want)
		}
	}
	// What carries the current with the rectifier conducting is then no safeguard.
	state := marked(c)
	state.Rectifier = "D1"
	couplers := Couplers(c, state, "metal")
	at := slices.IndexFunc(couplers, func(x Coupler) bool { return x.Part == "C1" })
	if at < 0 || couplers[at].Safeguard {
		t.Errorf("couplers %+v, want C1 among them, and no safeguard", couplers)
	}
}
