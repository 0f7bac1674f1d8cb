package schema_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
	"coldcheck/netlist/internal/schema"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
)

// TestSchemaAgreesOnParts: for a part of any kind with keys of its kind in any choice, one of them
// perhaps misspelt or of another kind, the schema never refuses what the program takes, and takes
// only what the program refuses for a reason that no schema can see.
func TestSchemaAgreesOnParts(t *testing.T) {
	s := compiled(t, setfile.Schema())
	var all []netlist.KeyInfo
	kinds := netlist.KindsAndCan()
	for _, k := range kinds {
		all = append(all, k.Keys...)
	}
	taken, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(kinds).Draw(t, "kind")
		word := rapid.SampledFrom(append([]string{string(kind.Kind), strings.ToUpper(string(kind.Kind))}, kind.Taken...)).Draw(t, "word")
		if kind.Kind == netlist.KindPlug {
			t.Skip("a set has one already")
		}
		var keys []string
		for _, k := range slices.Concat(kind.Keys, netlist.PartKeys()[1:]) {
			if k.Required && rapid.IntRange(0, 9).Draw(t, "given") > 0 || !k.Required && rapid.IntRange(0, 3).Draw(t, "given") == 0 {
				keys = append(keys, k.Example)
			}
		}
		if rapid.IntRange(0, 5).Draw(t, "foreign") == 0 {
			if k := rapid.SampledFrom(all).Draw(t, "key"); !slices.Contains(keys, k.Example) && kind.Key(k.Name) == nil {
				keys = append(keys, k.Example)
			}
		}
		text := filetest.BenchHead + fmt.Sprintf("X1 = { kind = %q, %s }\n", word, strings.Join(keys, ", "))
		_, wrong := setfile.Load("f", strings.NewReader(text))
		refusal := judge(s, []byte(text))
		switch {
		case wrong == nil && refusal != nil:
			t.Fatalf("the program takes it, the schema says %v\n%s", refusal, text)
		case wrong != nil && refusal == nil && !onlyWhole(wrong):
			t.Fatalf("the schema takes it, the program says %v\n%s", wrong, text)
		case wrong == nil:
			taken++
		default:
			refused++
		}
	})
	if least := (taken + refused) / 10; taken < least || refused < least { // of a hundred, ten of each
		t.Errorf("%d taken and %d refused prove little", taken, refused)
	}
}

// onlyWhole reports whether all that is wrong is such that one value by itself does not show it.
func onlyWhole(err error) bool {
	for line := range strings.Lines(err.Error()) {
		if !slices.ContainsFunc([]string{
			"is not one of its ends", "they must be two different points", "has no position", "name every throw", "has no winding",
			"says nothing of its winding", "is the common itself", "has no pin", "is wired to", "all decks have as many",
			"fall as it warms", "in positive; write one for each section", "in rating; write one for each section",
		}, func(words string) bool { return strings.Contains(line, words) }) {
			return false
		}
	}
	return true
}

// wrongLines are lines that neither the program nor the schema takes.
var wrongLines = []string{
	`X1 = { kind = "resistor", ends = ["a", "b"] }`,
	`X1 = { kind = "resistor", ends = ["a", "b"], value = "1k", bands = "red red red" }`,
	`X1 = { kind = "resistor", ends = ["a", "a"], value = "1k" }`,
	`X1 = { kind = "resistor", ends = ["a"], value = "1k" }`,
	`X1 = { kind = "resistor", ends = ["a", "b"], value = "1k", tolerance = "110 per cent" }`,
	`X1 = { kind = "resistor", ends = ["a", "b"], value = "1k", watts = 1, rating = 1 }`,
	`X1 = { kind = "resistor", ends = ["a", "b"], body_end_dot = "red green" }`,
	`X1 = { kind = "resistor", ends = ["a", "b"], body_end_dot = "red green yellow", value = 5 }`,
	`X1 = { kind = "thermistor", ends = ["a", "b"], hot = 44 }`,
	`X1 = { kind = "lamp", ends = ["a", "b"], type = "45" }`,
	`X1 = { kind = "lamp", ends = ["a", "b"], type = "44", volts = 6.3 }`,
	`X1 = { kind = "lamp", ends = ["a", "b"], volts = 6.3 }`,
	`X1 = { kind = "can", sections = ["1 uF"], positive = ["a"] }`,
	`X1 = { kind = "can", sections = [1], positive = ["a"], negative = "b" }`,
	`X1 = { kind = "can", sections = [], positive = [], negative = "b" }`,
	`X1 = { kind = "can", sections = ["1 uF"], positive = ["a"], negative = "b", ends = ["a", "b"] }`,
	`X1 = { kind = "can", sections = ["1 uF"], positive = ["a"], negative = "b", frame = "chassis" }`,
	`X1 = { kind = "volume control s", ends = ["a", "b"], value = "1k" }`,
	"[cans]\nX1 = { kind = \"can\", sections = [\"1 uF\"], positive = [\"a\"], negative = \"b\" }",
	"[condenser]\nX1 = { ends = [\"a\", \"b\"], value = \"1 nF\" }",
	"[[readings]]\nat = [\"a\", \"b\"]\nvolts = 1\nlifted = \"BOND\"",
	"[[readings]]\nat = [\"a\", \"b\"]\nvolts = 1\ncontrols = [\"R1\"]",
	"[tube_types.x]\ncathodes = [1]\nworking = [{ plate = 2, cathode = 1, plate_volts = 100 }]",
	"[tube_types.x]\ncathodes = [1]\nworking = [{ plate = 2, cathode = 1, plate_volts = 100, plate_milliamps = 1, screen = 3 }]",
	"[tube_types.x]\ncathodes = [1]\ngrids = [{ anode = 2, cathode = 1 }]",
	"[tube_types.x]\ncathodes = [1]\nalso = \"y\"",
	`X1 = { kind = "capacitor", ends = ["a", "b"], value = 0.1 }`,
	`X1 = { kind = "capacitor", ends = ["a", "b"], value = "1 nF", class = "Z1" }`,
	`X1 = { kind = "capacitor", ends = ["a", "b"], value = "1 nF", frame = "chassis", type = "electrolytic" }`,
	`X1 = { kind = "lamp", ends = ["a", "b"], volts = 6.3, amps = 0.15, frame = "chassis" }`,
	`X1 = { kind = "insulation", ends = ["a", "b"], frame_insulation = "basic" }`,
	`X1 = { kind = "motor", ends = ["a", "b"], volts = 120 }`,
	`X1 = { kind = "switch", ends = ["a", "b"], poles = [["c", "d"]] }`,
	`X1 = { kind = "selector", common = "a" }`,
	`X1 = { kind = "selector", common = "a", throws = ["b"] }`,
	`X1 = { kind = "selector", common = "a", decks = [{ common = "b", throws = ["c", "d"] }] }`,
	`X1 = { kind = "tube", type = "35W4", pins = { h = "a" } }`,
	`X1 = { kind = "wire", ends = ["a", ""] }`,
	`X1 = { kind = "wire", ends = ["a", "` + strings.Repeat("b", netlist.MaxNameRunes+1) + `"] }`,
	`supply = { kind = "wire", ends = ["a", "b"] }`,
	`"X 1" = { kind = "wire", ends = ["a", "b"] }`,
	`X1 = { kind = "vacuum tube", type = "35W4", pins = { 3 = "a" } }`,
	"[nodes.\"building earth\"]\ntouch = \"chassis\"",
	"[nodes.a]\nguard = \"knob\"",
	"[[readings]]\nat = [\"a\", \"b\"]\nvolts = 1\nohms = 2",
	"[[readings]]\nat = [\"a\", \"b\"]",
	"[[readings]]\nat = [\"a\", \"b\"]\nvolts = -1",
	"[[readings]]\nat = [\"a\", \"b\"]\nohms = 1\nplug = \"reversed\"",
	"[tube_types.x]\nheater = { pins = [3], volts = 6, amps = 1 }",
	"[tube_types.x]\ncathodes = [100]",
	"[caps]\nX1 = { ends = [\"a\", \"b\"], value = \"1 nF\" }",
	"[capacitors]\nX1 = { kind = \"capacitor\", ends = [\"a\", \"b\"], value = \"1 nF\" }",
}

// TestSchemaRefusesSlips: slips that one makes in a line, and in a plan.
func TestSchemaRefusesSlips(t *testing.T) {
	set, plans := compiled(t, setfile.Schema()), compiled(t, plan.Schema())
	for _, line := range wrongLines {
		text := filetest.BenchHead + line + "\n"
		if err := judge(set, []byte(text)); err == nil || err == errNoTOML {
			t.Errorf("the schema says %v of\n%s", err, line)
		}
		if _, err := setfile.Load("f", strings.NewReader(text)); err == nil {
			t.Errorf("the program takes\n%s", line)
		}
	}
	for _, step := range []string{
		`part = "R1"`,
		`do = "mend"`,
		`do = "remove"`,
		"do = \"remove\"\npart = \"R1\"\nas = { value = 1 }",
		"do = \"fit\"\npart = \"R1\"\nas = { ends = [\"a\", \"b\"], value = \"1k\" }",
		"do = \"replace\"\npart = \"R1\"\nas = { kind = \"resistor\", ends = [\"a\", \"b\"] , valeu = \"1k\" }",
		"do = \"replace\"\npart = \"R1\"\nas = { valeu = \"1k\" }",
		"do = \"replace\"\npart = \"R1\"\nas = { kind = \"resistor\", rating = \"350 V\", value = \"1k\" }",
		"do = \"replace\"\npart = \"R1\"\nas = { }",
		"do = \"move\"\npart = \"R1\"\nfrom = \"a\"",
		"do = \"change\"\npart = \"R1\"\nas = { kind = \"wire\" }",
		"do = \"change\"\npart = \"R1\"\nas = { }",
		"do = \"mark\"\nnode = \"a\"\nas = { guard = \"fence\" }",
		"do = \"mark\"\npart = \"a\"\nas = { guard = \"knob\" }",
	} {
		if err := judge(plans, []byte("plan = \"try\"\n[[steps]]\n"+step+"\n")); err == nil || err == errNoTOML {
			t.Errorf("the schema says %v of the step\n%s", err, step)
		}
	}
	for _, step := range []string{ // what a replacement does not say is the other part's
		"do = \"replace\"\npart = \"R1\"\nas = { value = \"1k\" }",
		"do = \"replace\"\npart = \"R1\"\nas = { kind = \"condenser\", value = \"1 nF\", class = \"Y2\" }",
		"do = \"replace\"\npart = \"R1\"\nas = { kind = \"switch\" }",
		"do = \"replace\"\npart = \"PL1\"\nas = { kind = \"plug\", style = \"polarized\" }",
	} {
		if err := judge(plans, []byte("plan = \"try\"\n[[steps]]\n"+step+"\n")); err != nil {
			t.Errorf("the schema says %v of the step\n%s", err, step)
		}
	}
	for _, text := range []string{"plan = \"x\"\n", "plan = \"\"\n[[steps]]\ndo = \"remove\"\npart = \"R1\"\n", "[[steps]]\ndo = \"remove\"\npart = \"R1\"\n",
		"plan = \"x\"\nsteps = []\n", "format = 2\nplan = \"x\"\n[[steps]]\ndo = \"remove\"\npart = \"R1\"\n"} {
		if err := judge(plans, []byte(text)); err == nil || err == errNoTOML {
			t.Errorf("the schema says %v of the plan\n%s", err, text)
		}
		if _, err := plan.Parse("p", []byte(text)); err == nil {
			t.Errorf("the program takes the plan\n%s", text)
		}
	}
}

// TestSchemaNamesEveryKey: each key of the table is in the schema of its table, with what it means.
func TestSchemaNamesEveryKey(t *testing.T) {
	for i := range netlist.Kinds() {
		k := &netlist.Kinds()[i]
		for _, withKind := range []bool{false, true} {
			properties, _ := schema.Kind(k, withKind)["properties"].(schema.Object)
			for _, key := range slices.Concat(k.Keys, netlist.PartKeys()[1:]) {
				s, _ := properties[key.Name].(schema.Object)
				described := fmt.Sprint(s["description"])
				if !strings.Contains(described, key.Meaning) || !strings.Contains(described, key.Example) || key.Default != "" && !strings.Contains(described, "left out: "+key.Default) {
					t.Errorf("%s: %s is described as %v", k.Kind, key.Name, s["description"])
				}
			}
			if _, has := properties["kind"]; has != withKind {
				t.Errorf("%s: the key kind is there: %v, want %v", k.Kind, has, withKind)
			}
		}
	}
}

// oddValues are values that few keys take.
var oddValues = []string{`"nonsense"`, `""`, "true", "-1", "0.5", "7", `"7"`, `"10 V"`, `"1 k"`, `"1 uF"`, `"a"`, `["a"]`, `["a", "b"]`, `["a", "b", "c"]`, "[]", "{}", `{ a = "b" }`, `[{ a = "b" }]`, `["1 uF"]`, "[7]"}

// TestSchemaAgreesOnOddValues: for each key of each kind, and each value that is odd for it, the schema takes no line
// that the program refuses for that value alone, and refuses none that the program takes.
func TestSchemaAgreesOnOddValues(t *testing.T) {
	s := compiled(t, setfile.Schema())
	for _, k := range netlist.KindsAndCan() {
		if k.Kind == netlist.KindPlug {
			continue // a set has one already
		}
		for _, key := range slices.Concat(k.Keys, netlist.PartKeys()[1:]) {
			if k.Kind == netlist.KindTube && key.Name == "type" {
				continue // the catalogue and the file's own types say which there are
			}
			for _, odd := range oddValues {
				keys := []string{key.Name + " = " + odd}
				for _, other := range k.Keys {
					if other.Required && other.Name != key.Name {
						keys = append(keys, other.Example)
					}
				}
				text := filetest.BenchHead + fmt.Sprintf("X1 = { kind = %q, %s }\n", k.Kind, strings.Join(keys, ", "))
				_, wrong := setfile.Load("f", strings.NewReader(text))
				refusal := judge(s, []byte(text))
				if wrong == nil && refusal != nil || wrong != nil && refusal == nil && !onlyWhole(wrong) {
					t.Errorf("the program says %v, the schema %v\n%s", wrong, refusal, text)
				}
			}
		}
	}
}
