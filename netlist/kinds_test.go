package netlist

import (
	"slices"
	"strings"
	"testing"

	"coldcheck/netlist/internal/words"
)

func TestEveryKindIsInTheTable(t *testing.T) {
	want := []Kind{
		KindPlug, KindSwitch, KindSelector, KindFuse, KindWire, KindResistor, KindPotentiometer, KindThermistor, KindCapacitor, KindCoil,
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

// The words that a file may write for a kind, and which it may not.
func TestWordsThatAreTaken(t *testing.T) {
	for word, want := range map[string]Kind{
		"resistor": KindResistor, "Resistor": KindResistor, "valve": KindTube, "condenser": KindCapacitor, "pot": KindPotentiometer,
		"rheostat": KindPotentiometer, "volume_control": KindPotentiometer, "Volume - control": KindPotentiometer, "choke": KindCoil,
		"field-coil": KindCoil, "voice coil": KindCoil, "SPEAKER": KindCoil, "output transformer": KindTransformer, "bulb": KindLamp,
		"dial lamp": KindLamp, "pilot lamp": KindLamp, "jumper": KindWire, "strap": KindWire, "line cord": KindPlug,
		"selenium rectifier": KindRectifier, "ballast": KindResistor, "ntc": KindThermistor, "can": KindCan,
		"": "", "cap": "", "linecord": "", "resistors": "", "valves": "", "diode": "", strings.Repeat("valve", 100): "",
	} {
		if got := KindMeant(word); want == "" && got != nil || want != "" && (got == nil || got.Kind != want) {
			t.Errorf("KindMeant(%q) = %v, want %s", word, got, want)
		}
	}
	for section, want := range map[string]Kind{
		"capacitors": KindCapacitor, "Capacitors": KindCapacitor, "condensers": KindCapacitor, "line cords": KindPlug, "NTCs": KindThermistor,
		"output_transformers": KindTransformer, "batteries": KindBattery, "cans": KindCan, "plugs": "", "capacitor": "", "pot": "", "": "",
	} {
		if got := SectionKind(section); want == "" && got != nil || want != "" && (got == nil || got.Kind != want) {
			t.Errorf("SectionKind(%q) = %v, want %s", section, got, want)
		}
	}
	for _, k := range Kinds() {
		for _, w := range k.Taken {
			if !slices.Contains(k.Words, w) {
				t.Errorf("%q of %s is none of its words", w, k.Kind)
			}
		}
	}
}

// No word means two kinds.
func TestWordsAreUnique(t *testing.T) {
	owner := map[string]Kind{}
	for _, k := range append(slices.Clone(Kinds()), *Can()) {
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
