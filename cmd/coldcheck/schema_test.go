package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	printed "github.com/invopop/jsonschema"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"coldcheck/cmd/coldcheck/jsonout"
	"coldcheck/netlist/examples"
)

// printedSchema is what coldcheck schema prints, compiled. strict lets no key through that it does
// not name.
func printedSchema(t *testing.T, name string, strict bool) *jsonschema.Schema {
	t.Helper()
	text, _ := ran(t, "", "schema", name)
	var doc map[string]any
	if err := json.Unmarshal([]byte(text), &doc); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if doc["$schema"] != "https://json-schema.org/draft/2020-12/schema" {
		t.Errorf("%s: draft %v", name, doc["$schema"])
	}
	if strict {
		defs, _ := doc["$defs"].(map[string]any)
		for _, def := range defs {
			if def, ok := def.(map[string]any); ok && def["properties"] != nil {
				def["additionalProperties"] = false
			}
		}
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(name+".json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// commandSchema is the schema of what a command prints, as printed.
func commandSchema(t *testing.T, command string) *printed.Schema {
	t.Helper()
	text, _ := ran(t, "", "schema", command)
	var s printed.Schema
	if err := json.Unmarshal([]byte(text), &s); err != nil {
		t.Fatal(err)
	}
	return &s
}

// checkJSON holds a text to be JSON that a schema takes.
func checkJSON(t *testing.T, s *jsonschema.Schema, text string) {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Validate(doc); err != nil {
		t.Errorf("%v\n%.2000s", err, text)
	}
}

// TestJSONKeepsToItsSchema: what every command prints as JSON of every example is as its schema
// says, without a key that the schema does not name; also on a bench, and with several files.
func TestJSONKeepsToItsSchema(t *testing.T) {
	schemas := map[string]*jsonschema.Schema{}
	for _, name := range jsonout.SchemaCommands {
		schemas[name] = printedSchema(t, name, true)
	}
	for _, e := range examples.Sets() {
		t.Run(e.Name, func(t *testing.T) {
			for _, name := range []string{"inspect", "states", "trace", "checklist"} {
				args := []string{name, "--format", "json", "-"}
				if name == "states" {
					args = append(args, "--faults", "0")
				}
				out, _ := ran(t, e.Text, args...)
				checkJSON(t, schemas[name], out)
			}
		})
	}
	e, _ := examples.FindSet("three-way-portable")
	for _, name := range []string{"inspect", "states", "trace", "checklist"} {
		out, _ := ran(t, e.Text, name, "--format", "json", "--supply", "isolated", "--earthed", "chassis", "-")
		checkJSON(t, schemas[name], out)
		if !strings.Contains(out, `"supply": "isolated"`) || !strings.Contains(out, `"earthed"`) {
			t.Errorf("%s does not say on which bench", name)
		}
	}
	reworkExamples(t, func(t *testing.T, name string) {
		for _, args := range [][]string{{"set.toml", "plan.toml"}, {"set.toml", "set.toml"}} {
			out, _ := ran(t, "", append([]string{"rework", "--format", "json"}, args...)...)
			checkJSON(t, schemas["rework"], out)
			out, _ = ran(t, "", append([]string{"record", "--format", "json"}, args...)...)
			checkJSON(t, schemas["record"], out)
		}
		out, _ := ran(t, "", "inspect", "--format", "json", "--faults", "1", "set.toml", "set.toml")
		checkJSON(t, schemas["inspect"], out)
	})
	propose, _ := examples.FindSet("hot-chassis-switch-moved")
	out, _ := ran(t, propose.Text, "rework", "--propose", "--format", "json", "-")
	checkJSON(t, schemas["rework"], out)
}

// promised are the keys of format 1, by definition, that may never be renamed nor go away.
var promised = map[string]string{
	"inspect inspect":      "format set touch_points findings between together stored not_judged in_short",
	"inspect inShort":      "nodes signal milliamps milliamps_dc state off",
	"inspect off":          "milliamps milliamps_dc state",
	"inspect set":          "name file volts hertz",
	"inspect point":        "node touch guard depth depth_as_marked normal one_fault fault_sets",
	"inspect worst":        "volts_open volts_meter milliamps volts_dc milliamps_dc state",
	"inspect state":        "plug switches rectifier faults",
	"inspect fault":        "part fault",
	"inspect faultSet":     "cost faults",
	"inspect finding":      "rule signal node nodes parts path state milliamps message remedy caution",
	"inspect pair":         "nodes milliamps milliamps_dc state one_fault depth depth_as_marked fault_sets",
	"inspect reduced":      "asked searched together",
	"inspect together":     "milliamps milliamps_dc state",
	"inspect stored":       "part volts joules seconds",
	"inspect count":        "states of",
	"states statesTable":   "format set states",
	"states statesRow":     "plug switches rectifier faults cleared points",
	"record record":        "format set as_found now steps readings left owner cautions",
	"record recordStep":    "step do part text",
	"states statesReading": "node volts_open volts_meter milliamps volts_dc milliamps_dc",
}

// optional are the keys that stand there only where there is something to say.
var optional = map[string]string{
	"inspect state":     "controls blown without_failed",
	"inspect inspect":   "reduced pairs_left_out",
	"inspect set":       "supply earthed mains_earthed",
	"states statesRow":  "controls",
	"checklist check":   "controls",
	"checklist further": "controls",
	"trace state":       "controls",
}

func TestSchemasKnowTheOptionalKeys(t *testing.T) {
	for place, keys := range optional {
		command, def, _ := strings.Cut(place, " ")
		s := commandSchema(t, command).Definitions[def]
		if s == nil {
			t.Errorf("%s: no definition %s", command, def)
			continue
		}
		for _, key := range strings.Fields(keys) {
			if _, known := s.Properties.Get(key); !known || slices.Contains(s.Required, key) {
				t.Errorf("%s: %s is not there, or is required", place, key)
			}
		}
	}
}

// TestOptionalKeysKeepToTheirSchema: a set that has something to say by each of the optional keys.
func TestOptionalKeysKeepToTheirSchema(t *testing.T) {
	const head = `[set]
name = "Bench set"
earthed = "midpoint"
[nodes]
chassis = { touch = "chassis" }
tip = { touch = "jack" }
[parts]
PL1 = { kind = "plug", ends = ["line 1", "line 2"] }
R9 = { kind = "potentiometer", ends = ["line 1", "far"], wiper = "tip", value = "1 meg" }
R1 = { kind = "resistor", ends = ["chassis", "line 2"], value = 100 }
`
	for _, c := range []struct{ file, command, has string }{
		{head + "F1 = { kind = \"fuse\", ends = [\"line 1\", \"chassis\"], amps = 1 }\nS1 = { kind = \"switch\", ends = [\"chassis\", \"line 2\"] }\n", "inspect", `"blown": [`},
		{head + "C1 = { kind = \"capacitor\", ends = [\"line 1\", \"line 2\"], value = \"0.1 uF\", condition = \"failed\" }\n", "inspect", `"without_failed": true`},
		{head, "inspect", `"R9": "line 1"`},
		{head, "inspect", `"mains_earthed": "midpoint"`},
		{head, "states", `"controls": {"R9": "middle"}`},
		{head, "trace", `"R9": "middle"`},
		{head, "checklist", `"R9": "line 1"`},
	} {
		out, _ := ran(t, c.file, c.command, "--format", "json", "-")
		checkJSON(t, printedSchema(t, c.command, true), out)
		if !strings.Contains(out, c.has) {
			t.Errorf("%s has no %s:\n%s", c.command, c.has, out)
		}
	}
}

func TestSchemasPromiseTheKeys(t *testing.T) {
	for place, keys := range promised {
		command, def, _ := strings.Cut(place, " ")
		s := commandSchema(t, command).Definitions[def]
		if s == nil {
			t.Errorf("%s: no definition %s", command, def)
			continue
		}
		for _, key := range strings.Fields(keys) {
			if !slices.Contains(s.Required, key) {
				t.Errorf("%s: %s is not required; there are %v", command, key, s.Required)
			}
		}
	}
}

// TestSchemasRefuse: a schema that takes anything proves nothing. Each key taken out of a good
// answer, or turned into a list, is refused.
func TestSchemasRefuse(t *testing.T) {
	e, _ := examples.FindSet("three-way-portable")
	for _, name := range []string{"inspect", "states", "trace", "checklist"} {
		s := printedSchema(t, name, false)
		args := []string{name, "--format", "json", "-"}
		if name == "states" {
			args = append(args, "--faults", "0")
		}
		out, _ := ran(t, e.Text, args...)
		var good map[string]any
		if err := json.Unmarshal([]byte(out), &good); err != nil {
			t.Fatal(err)
		}
		for key, value := range good {
			delete(good, key)
			if s.Validate(good) == nil {
				t.Errorf("%s without %s is taken", name, key)
			}
			good[key] = []any{[]any{1}}
			if s.Validate(good) == nil {
				t.Errorf("%s with a list for %s is taken", name, key)
			}
			good[key] = value
		}
		good["added in time"] = true
		if err := s.Validate(good); err != nil {
			t.Errorf("%s with one key more: %v", name, err)
		}
	}
}

// TestSchemasDescribe: every key of every schema says what it means.
func TestSchemasDescribe(t *testing.T) {
	keys := 0
	for _, name := range jsonout.SchemaCommands {
		for def, s := range commandSchema(t, name).Definitions {
			for pair := s.Properties.Oldest(); pair != nil; pair = pair.Next() {
				keys++
				if pair.Value.Description == "" {
					t.Errorf("%s: %s of %s has no description", name, pair.Key, def)
				}
			}
		}
	}
	if keys < 150 {
		t.Errorf("only %d keys", keys)
	}
}

// TestGoldenSchemas: a schema is a promise, so that a change of it is seen. Those of the commands are files of jsonout.
func TestGoldenSchemas(t *testing.T) {
	for _, name := range []string{schemaSet, schemaPlan} {
		got, _ := ran(t, "", "schema", name)
		want := filepath.Join("testdata", "schema", name+".json")
		golden(t, want, got)
	}
}

// TestSchemaCommand: the command answers what it does not know, and writes a file.
func TestSchemaCommand(t *testing.T) {
	for _, args := range [][]string{{"schema"}, {"schema", "a", "b"}, {"schema", "sett"}, {"completion"}, {"completion", "csh"}, {"help", "--manual", "why"}} {
		var out, errs bytes.Buffer
		if status := run(args, nil, &out, &errs); status != statusBad || out.Len() > 0 || !strings.HasPrefix(errs.String(), "coldcheck: ") {
			t.Errorf("%q: status %d, %q, %q", args, status, &out, &errs)
		}
	}
	t.Chdir(t.TempDir())
	if out, status := ran(t, "", "schema", "plan", "--write", "plan.json"); out != "" || status != statusOK {
		t.Errorf("status %d, %q", status, out)
	}
	data, err := os.ReadFile("plan.json")
	if err != nil || !json.Valid(data) {
		t.Errorf("%v, %.100s", err, data)
	}
}
