package phrase

import (
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist/settest"
)

// A plug that nothing marks is told by the line that is hot, or where none is the hot one by its way alone; one
// that is marked as it is marked.
func TestPlugWords(t *testing.T) {
	set := func(style, earthed string) *analysis.Circuit {
		parts := `PL1 = { kind = "plug", style = "` + style + `", hot = "line 1", neutral = "line 2" }
R1 = { kind = "resistor", ends = ["line 1", "line 2"], value = "1k" }`
		text := settest.With(parts, "line 1")
		s := settest.Load(t, text)
		s.Earthed = earthed
		return analysistest.New(t, s, analysis.Bench{})
	}
	for _, c := range []struct{ style, earthed, marked, reversed string }{
		{"plain", "", "line 1 hot", "line 2 hot"},
		{"plain", "star", "plug one way round", "plug the other way round"},
		{"plain", "midpoint", "plug one way round", "plug the other way round"},
		{"plain", "nowhere", "plug one way round", "plug the other way round"},
		{"polarized", "", "plug as marked", "plug reversed"},
		{"polarized", "star", "plug as marked", "plug reversed"},
	} {
		circuit := set(c.style, c.earthed)
		if got := PlugOf(circuit, analysis.AsMarked); got != c.marked {
			t.Errorf("%s plug, mains earthed %q: %q, want %q", c.style, c.earthed, got, c.marked)
		}
		if got := PlugOf(circuit, analysis.Reversed); got != c.reversed {
			t.Errorf("%s plug, mains earthed %q: %q, want %q", c.style, c.earthed, got, c.reversed)
		}
		told := InWordsOf(circuit, "live: plug as marked while S1 is off; plug reversed while S1 is on")
		if want := "live: " + c.marked + " while S1 is off; " + c.reversed + " while S1 is on"; told != want {
			t.Errorf("%q, want %q", told, want)
		}
	}
	if got := Stands(set("polarized", ""), analysis.AsMarked); got != "as marked" {
		t.Errorf("below plug: %q", got)
	}
}
