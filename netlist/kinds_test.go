package netlist

import (
	"slices"
	"strings"
	"testing"

	"coldcheck/netlist/internal/words"
)

func TestEveryKindIsInTheTable(t *testing.T) {
	want := []Kind{
		KindPlug, KindSwitch, KindSelector, KindFuse, KindWire, KindResistor, KindPotentiometer, KindCapacitor, KindCoil,
		KindMotor, KindLamp, KindTransformer, KindTube, KindRectifier, KindBattery, KindInsulation,
	}
	var got []Kind
	for _, k := range Kinds() {
		got = append(got, k.Kind)
		if (k.Section == "") != (k.Kind == KindPlug) {
			t.Errorf("the section of %s is %q", k.Kind, k.Section)
		}
		if k.Meaning == "" || len(k.Words) == 0 || len(k.Terminals) == 0 || k.Example == "" {
			t.Errorf("%s lacks its meaning, its words, its terminals or its example", k.Kind)
		}
		for _, terminal := range k.Terminals {
			if FindKey(k.Keys, terminal) == nil {
				t.Errorf("%s has the terminal %s, which is no key", k.Kind, terminal)
			}
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("the table has %v, want %v", got, want)
	}
}

func TestWordsOfTheTrade(t *testing.T) {
	tests := map[string]Kind{
		"valve": KindTube, "Valves": KindTube, "condenser": KindCapacitor, "condensers": KindCapacitor, "pot": KindPotentiometer,
		"choke": KindCoil, "bulb": KindLamp, "cord": KindPlug, "line cord": KindPlug, "jumper": KindWire, "switches": KindSwitch,
		"fuses": KindFuse, "batteries": KindBattery, "Resistor": KindResistor, "dial-lamp": KindLamp, "diode": KindRectifier,
	}
	for word, want := range tests {
		if got := KindByWord(word); got == nil || got.Kind != want {
			t.Errorf("KindByWord(%q) = %v, want %s", word, got, want)
		}
	}
	for _, word := range []string{"", "wombat", strings.Repeat("valve", 100)} {
		if got := KindByWord(word); got != nil {
			t.Errorf("KindByWord(%q) = %s, want none", word, got.Kind)
		}
	}
}

// No word means two kinds.
func TestWordsAreUnique(t *testing.T) {
	owner := map[string]Kind{}
	for _, k := range Kinds() {
		for _, w := range slices.Concat([]string{string(k.Kind), k.Section}, k.Words) {
			if w == "" {
				continue
			}
			if other, ok := owner[words.FoldWord(w)]; ok && other != k.Kind {
				t.Errorf("%q means a %s and a %s", w, other, k.Kind)
			}
			owner[words.FoldWord(w)] = k.Kind
		}
	}
}
