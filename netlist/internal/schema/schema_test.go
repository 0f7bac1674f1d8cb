package schema_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/internal/filetest"
	"coldcheck/netlist/internal/schema"
	"coldcheck/netlist/internal/tomltext"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
)

// compiled is a schema ready to judge, itself judged by the draft that it names.
func compiled(t testing.TB, s schema.Object) *jsonschema.Schema {
	t.Helper()
	text, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("schema.json", doc); err != nil {
		t.Fatal(err)
	}
	compiled, err := c.Compile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return compiled
}

var errNoTOML = errors.New("no TOML, or a figure that JSON has not")

// asJSON is a TOML file as a schema sees it.
func asJSON(text []byte) (any, error) {
	var content map[string]any
	if _, err := toml.Decode(strings.TrimPrefix(string(text), tomltext.ByteOrderMark), &content); err != nil {
		return nil, errNoTOML
	}
	encoded, err := json.Marshal(content)
	if err != nil {
		return nil, errNoTOML
	}
	return jsonschema.UnmarshalJSON(bytes.NewReader(encoded))
}

// judge is what a schema says of a TOML file.
func judge(s *jsonschema.Schema, text []byte) error {
	content, err := asJSON(text)
	if err != nil {
		return err
	}
	return s.Validate(content)
}

// TestSchemaTakesEveryGoodFile: what the program reads the schema takes: every example, every
// good fixture, every line of the table of kinds.
func TestSchemaTakesEveryGoodFile(t *testing.T) {
	set, plans := compiled(t, setfile.Schema()), compiled(t, plan.Schema())
	files := map[string]string{}
	for _, e := range examples.Sets() {
		files[e.Name] = e.Text
	}
	for _, file := range filetest.Fixtures(t, "../../setfile/testdata/valid/*.toml") {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		files[file] = string(data)
	}
	for _, k := range netlist.Kinds() {
		if k.Kind != netlist.KindPlug {
			files["example of "+string(k.Kind)] = filetest.BenchHead + k.Example + "\n"
		}
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if err := judge(set, []byte(files[name])); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	written := examples.Plans()
	if len(files) < 40 || len(written) < 5 {
		t.Errorf("only %d files and %d plans were tried", len(files), len(written))
	}
	for _, p := range written {
		if err := judge(plans, []byte(p.Text)); err != nil {
			t.Errorf("%s: %v", p.Name, err)
		}
		if err := judge(set, []byte(p.Text)); err == nil {
			t.Errorf("%s: a plan passes for a set", p.Name)
		}
	}
	for _, e := range examples.Sets() {
		if err := judge(plans, []byte(e.Text)); err == nil {
			t.Errorf("%s: a set passes for a plan", e.Name)
		}
	}
}

// wholeFileAlone are the bad files that no schema can refuse, with what only the program sees.
var wholeFileAlone = map[string]string{
	"plug-earth-on-blade": "two keys of one point",
	"plug-same-blades":    "two keys of one point",
	"plug-second":         "the count of the plugs",
	"mains-absurd":        "the size of a figure in text",
	"mains-zero":          "the size of a figure in text",
}

// TestSchemaRefusesBadFiles: of the bad files that are TOML the schema refuses each but those of
// which only the whole file shows what is wrong.
func TestSchemaRefusesBadFiles(t *testing.T) {
	s := compiled(t, setfile.Schema())
	refused := 0
	for _, file := range filetest.Fixtures(t, "../../setfile/testdata/invalid/*.toml") {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimSuffix(filepath.Base(file), ".toml")
		switch err := judge(s, data); {
		case errors.Is(err, errNoTOML):
		case wholeFileAlone[name] != "" && err != nil:
			t.Errorf("%s: the schema sees %s after all: %v", name, wholeFileAlone[name], err)
		case wholeFileAlone[name] == "" && err == nil:
			t.Errorf("%s: the schema takes it", name)
		case err != nil:
			refused++
		}
	}
	if refused < 20 {
		t.Errorf("only %d files were refused", refused)
	}
}

// TestPointPattern: a point's name has 1 to 64 characters, blanks around it aside.
func TestPointPattern(t *testing.T) {
	text, _ := schema.CommonDefs()["point"]["pattern"].(string)
	pattern := regexp.MustCompile(text)
	for name, want := range map[string]bool{
		"": false, " ": false, "b": true, strings.Repeat("Ω", 64): true, strings.Repeat("b", 65): false, " " + strings.Repeat("b", 64) + " ": true,
	} {
		if pattern.MatchString(name) != want {
			t.Errorf("%q: taken %v, want %v", name, !want, want)
		}
	}
}
