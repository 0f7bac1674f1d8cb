package setfile

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
	"coldcheck/netlist/internal/tomltext"
)

func TestEveryKindIsBuilt(t *testing.T) {
	for _, k := range netlist.Kinds() {
		if partBuilders[k.Kind] == nil {
			t.Errorf("nothing builds a %s", k.Kind)
		}
	}
}

// Each kind's line of the table makes a set, alone with a plug and a touch point.
func TestKindExamplesLoad(t *testing.T) {
	for _, k := range netlist.Kinds() {
		t.Run(string(k.Kind), func(t *testing.T) {
			text := filetest.BenchHead + k.Example + "\n"
			if k.Kind == netlist.KindPlug {
				text = strings.Replace(filetest.BenchHead, `PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }`, k.Example, 1)
			}
			set, err := Load("f", strings.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			name, _, _ := strings.Cut(k.Example, " ")
			if p := set.Part(name); p == nil || p.Kind != k.Kind || !strings.EqualFold(fmt.Sprintf("%T", p.Detail), "*netlist."+string(k.Kind)) {
				t.Errorf("%s is no %s", name, k.Kind)
			}
		})
	}
}

// Each key's example is TOML and writes that key.
func TestKeyExamplesAreWritten(t *testing.T) {
	lists := map[string][]netlist.KeyInfo{
		"parts": netlist.PartKeys(), "set": netlist.SetKeys(), "nodes": netlist.NodeKeys(), "readings": netlist.ReadingKeys(), "tube types": netlist.TubeTypeKeys(),
		"heater": netlist.HeaterKeys(), "tap": netlist.TapKeys(), "section": netlist.SectionKeys(), "deck": netlist.DeckKeys(),
	}
	for _, k := range netlist.Kinds() {
		lists[string(k.Kind)] = k.Keys
	}
	for list, keys := range lists {
		if len(keys) == 0 {
			t.Errorf("%s has no keys", list)
		}
		for _, k := range keys {
			p := tomltext.Parse("f", []byte(k.Example))
			if p.Root == nil || len(p.Root.Entries) != 1 || p.Root.Entries[0].Key != k.Name {
				t.Errorf("%s: the example of %s is %s", list, k.Name, k.Example)
			}
			if k.Meaning == "" || k.Sort == "" {
				t.Errorf("%s: %s lacks its meaning or its sort", list, k.Name)
			}
			if (k.Sort == netlist.SortWord) != (len(k.Words) > 0) {
				t.Errorf("%s: %s is %q with the words %q", list, k.Name, k.Sort, k.Words)
			}
			if k.Sort == netlist.SortValue && k.Unit.Plural() == "" {
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
	base := map[netlist.Kind]string{
		netlist.KindPlug:        ``,
		netlist.KindCapacitor:   `ends = ["line 1", "chassis"], value = "1 nF"`,
		netlist.KindTransformer: `windings = { a = ["line 1", "chassis"] }`,
		netlist.KindRectifier:   `anode = "line 1", cathode = "chassis"`,
		netlist.KindInsulation:  `ends = ["line 1", "chassis"]`,
	}
	tried := 0
	for _, k := range netlist.Kinds() {
		for _, key := range slices.Concat(k.Keys, netlist.PartKeys()) {
			line, known := base[k.Kind]
			if key.Sort != netlist.SortWord || !known || k.Kind == netlist.KindPlug {
				continue
			}
			for _, word := range key.Words {
				text := filetest.BenchHead + fmt.Sprintf("X1 = { kind = %q, %s, %s = %q", k.Kind, line, key.Name, word)
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

// The fixture that is held to read and write every kind leaves none of their keys out.
func TestEveryKindFileUsesEveryKindAndKey(t *testing.T) {
	data, err := os.ReadFile("testdata/valid/every-kind.toml")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := Parse("f", data)
	if err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	for _, p := range doc.Parts {
		for _, e := range p.Keys.Entries {
			used[p.Kind+"."+e.Key] = true
		}
	}
	for _, k := range netlist.Kinds() {
		for _, key := range k.Keys {
			if name := string(k.Kind) + "." + key.Name; !used[name] && name != "plug.ends" {
				t.Errorf("the file does not use %s", name)
			}
		}
	}
}
