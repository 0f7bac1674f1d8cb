package netlist

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
)

func TestEveryKindIsInTheTable(t *testing.T) {
	want := []Kind{
		KindPlug, KindSwitch, KindSelector, KindFuse, KindWire, KindResistor, KindPotentiometer, KindCapacitor, KindCoil,
		KindMotor, KindLamp, KindTransformer, KindTube, KindRectifier, KindBattery, KindInsulation,
	}
	var got []Kind
	for _, k := range Kinds() {
		got = append(got, k.Kind)
		if partBuilders[k.Kind] == nil {
			t.Errorf("nothing builds a %s", k.Kind)
		}
		if (k.Section == "") != (k.Kind == KindPlug) {
			t.Errorf("the section of %s is %q", k.Kind, k.Section)
		}
		if k.Meaning == "" || len(k.Words) == 0 || len(k.Terminals) == 0 || k.Example == "" {
			t.Errorf("%s lacks its meaning, its words, its terminals or its example", k.Kind)
		}
		for _, terminal := range k.Terminals {
			if findKey(k.Keys, terminal) == nil {
				t.Errorf("%s has the terminal %s, which is no key", k.Kind, terminal)
			}
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("the table has %v, want %v", got, want)
	}
}

// Each kind's line of the table makes a set, alone with a plug and a touch point.
func TestKindExamplesLoad(t *testing.T) {
	for _, k := range Kinds() {
		t.Run(string(k.Kind), func(t *testing.T) {
			text := benchHead + k.Example + "\n"
			if k.Kind == KindPlug {
				text = strings.Replace(benchHead, `PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }`, k.Example, 1)
			}
			set, err := Load("f", strings.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			name, _, _ := strings.Cut(k.Example, " ")
			if p := set.Part(name); p == nil || p.Kind != k.Kind || p.Detail.kind() != k.Kind {
				t.Errorf("%s is no %s", name, k.Kind)
			}
		})
	}
}

// Each key's example is TOML and writes that key.
func TestKeyExamplesAreWritten(t *testing.T) {
	lists := map[string][]KeyInfo{
		"parts": PartKeys(), "set": SetKeys(), "nodes": NodeKeys(), "readings": ReadingKeys(), "tube types": TubeTypeKeys(),
		"heater": heaterKeys, "tap": tapKeys, "section": sectionKeys, "deck": deckKeys,
	}
	for _, k := range Kinds() {
		lists[string(k.Kind)] = k.Keys
	}
	for list, keys := range lists {
		if len(keys) == 0 {
			t.Errorf("%s has no keys", list)
		}
		for _, k := range keys {
			p := parseTable("f", []byte(k.Example))
			if p.root == nil || len(p.root.Entries) != 1 || p.root.Entries[0].Key != k.Name {
				t.Errorf("%s: the example of %s is %s", list, k.Name, k.Example)
			}
			if k.Meaning == "" || k.Sort == "" {
				t.Errorf("%s: %s lacks its meaning or its sort", list, k.Name)
			}
			if (k.Sort == SortWord) != (len(k.Words) > 0) {
				t.Errorf("%s: %s is %q with the words %q", list, k.Name, k.Sort, k.Words)
			}
			if k.Sort == SortValue && units[k.Unit].plural == "" {
				t.Errorf("%s: %s has no unit", list, k.Name)
			}
			if k.Required && k.Default != "" {
				t.Errorf("%s: %s is required and has a default", list, k.Name)
			}
		}
	}
}

// Every word of every choice is taken.
func TestEveryChoiceIsTaken(t *testing.T) {
	base := map[Kind]string{
		KindPlug:        ``,
		KindCapacitor:   `ends = ["line 1", "chassis"], value = "1 nF"`,
		KindTransformer: `windings = { a = ["line 1", "chassis"] }`,
		KindRectifier:   `anode = "line 1", cathode = "chassis"`,
		KindInsulation:  `ends = ["line 1", "chassis"]`,
	}
	tried := 0
	for _, k := range Kinds() {
		for _, key := range slices.Concat(k.Keys, PartKeys()) {
			line, known := base[k.Kind]
			if key.Sort != SortWord || !known || k.Kind == KindPlug {
				continue
			}
			for _, word := range key.Words {
				text := benchHead + fmt.Sprintf("X1 = { kind = %q, %s, %s = %q", k.Kind, line, key.Name, word)
				if key.Name == "frame_insulation" {
					text += `, frame = "chassis"`
				}
				if _, err := Load("f", strings.NewReader(text+" }\n")); err != nil {
					t.Errorf("%s = %q: %v", key.Name, word, err)
				}
				tried++
			}
		}
	}
	if tried < 40 {
		t.Errorf("only %d words were tried", tried)
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
			if other, ok := owner[foldWord(w)]; ok && other != k.Kind {
				t.Errorf("%q means a %s and a %s", w, other, k.Kind)
			}
			owner[foldWord(w)] = k.Kind
		}
	}
}

// The fixture that is held to read and write every kind leaves none of their keys out.
func TestEveryKindFileUsesEveryKindAndKey(t *testing.T) {
	data, err := os.ReadFile("testdata/valid/every-kind.toml")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := ParseDocument("f", data)
	if err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	for _, p := range doc.Parts {
		for _, e := range p.Keys.Entries {
			used[p.Kind+"."+e.Key] = true
		}
	}
	for _, k := range Kinds() {
		for _, key := range k.Keys {
			if name := string(k.Kind) + "." + key.Name; !used[name] && name != "plug.ends" {
				t.Errorf("the file does not use %s", name)
			}
		}
	}
}
