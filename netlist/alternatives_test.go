package netlist

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestAlternatives: the keys that stand in each other's place, of every kind that has such.
func TestAlternatives(t *testing.T) {
	want := map[Kind][][]string{
		KindPlug:     {{"hot", "neutral"}, {"ends"}},
		KindSwitch:   {{"ends"}, {"poles"}},
		KindSelector: {{"common", "throws"}, {"decks"}},
		KindResistor: {{"value"}, {"bands"}, {"body_end_dot"}},
		KindMotor:    {{"amps"}, {"watts"}},
		KindLamp:     {{"volts", "amps"}, {"type"}},
	}
	for _, k := range Kinds() {
		if diff := cmp.Diff(want[k.Kind], Alternatives(k.Keys)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", k.Kind, diff)
		}
	}
}
