package text

import (
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
)

// TestPath: a string of heaters and a row of wires are one phrase each; what stands alone, or in
// twos, is told as it is.
func TestPath(t *testing.T) {
	c := analysistest.Of(t, analysistest.HeaterString)
	for _, x := range []struct {
		name          string
		way           analysis.Polarity
		s1            string
		from, to      string
		want, between string
	}{
		{"heaters-and-wires-fold", analysis.AsMarked, "off", "line 1", "chassis",
			"PL1 > line 1 > R1 > h0 > heaters of V1, V2, V3 > B- > wires W1, W2, W3 > chassis", "nothing"},
		{"two-heaters-do-not-fold", analysis.AsMarked, "off", "h0", "h2", "h0 > V1 heater > h1 > V2 heater > h2", "nothing"},
		{"two-wires-do-not-fold", analysis.AsMarked, "off", "B-", "w2", "B- > W1 > w1 > W2 > w2", "nothing"},
		{"switch", analysis.Reversed, "on", "line 2", "B-", "PL1 > line 2 > S1 > B-", "nothing"},
		{"safeguards", analysis.AsMarked, "off", "chassis", "clip", "chassis > C1 > mid > I1 > clip",
			"C1 (capacitor) and I1 (insulation, no safeguard)"},
		{"no-step", analysis.AsMarked, "off", "line 1", "line 1", "PL1 > line 1", "nothing"},
	} {
		t.Run(x.name, func(t *testing.T) {
			w := c.Wiring(c.StateOf(x.way, map[string]string{"S1": x.s1}))
			p, ok := w.Shortest(x.from, x.to, analysis.Query{})
			if !ok {
				t.Fatal("no path")
			}
			if got := Path(c.Set, p); got != x.want {
				t.Errorf("Path = %q, want %q", got, x.want)
			}
			if got := barriers(c.Set, p); got != x.between {
				t.Errorf("Barriers = %q, want %q", got, x.between)
			}
		})
	}
}

// TestPathFromAMarkedPlug: a blade has a name where something marks it.
func TestPathFromAMarkedPlug(t *testing.T) {
	for style, want := range map[string]string{
		"plain": "PL1 > line 2 > R1 > chassis", "polarized": "PL1 neutral > line 2 > R1 > chassis",
	} {
		c := analysistest.With(t, `PL1 = { kind = "plug", style = "`+style+`", hot = "line 1", neutral = "line 2" }
R1 = { kind = "resistor", ends = ["line 2", "chassis"], value = "1k" }
R2 = { kind = "resistor", ends = ["line 1", "chassis"], value = "1k" }`, "chassis")
		p, ok := c.Wiring(c.StateOf(analysis.Reversed, nil)).Shortest("line 2", "chassis", analysis.Query{})
		if got := Path(c.Set, p); !ok || got != want {
			t.Errorf("a %s plug: %q, want %q", style, got, want)
		}
	}
}
