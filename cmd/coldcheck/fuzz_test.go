package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/jsonout"
	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/setfile"
)

// The sets that are fuzzed are small, so that many are tried.
const (
	fuzzedParts     = 24
	fuzzedFaults    = 40
	fuzzedPositions = 8
)

// Whatever the file: inspect ends with one of its three statuses, with a message or a result and
// never both; the JSON is as its schema says, has no figure that is none, and tells each touch point
// once; nothing is printed that a terminal acts upon; and the set reads the same a second time. Nor does part print
// such a thing, whatever word it is asked for.
func FuzzInspect(f *testing.F) {
	for _, e := range examples.Sets() {
		f.Add([]byte(e.Text))
	}
	for _, pattern := range []string{"../../netlist/setfile/testdata/valid/*.toml", "../../netlist/setfile/testdata/invalid/*.toml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			f.Fatalf("no files %s: %v", pattern, err)
		}
		for _, file := range files {
			data, err := os.ReadFile(file)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	for _, name := range oddNames {
		f.Add([]byte(oddSet(name)))
	}
	f.Add([]byte(hostileHead))
	for _, word := range []string{"can", "filter cans", "35W4 ", "12sk7-gt", "[readings]", "condensor", "UY-227", "-1", "V1 = {"} {
		f.Add([]byte(word))
	}
	schema := compiledFor(f, "inspect")
	f.Fuzz(func(t *testing.T, data []byte) {
		// Its first line is also asked of part, which takes the words of people.
		if word, _, _ := strings.Cut(string(data), "\n"); word != "" {
			attempt(t, "", "part", "--", word)
		}
		set, err := setfile.Load("-", bytes.NewReader(data))
		if err == nil && tooLarge(set) {
			return
		}
		text := string(data)
		out, _, status := attempt(t, text, "inspect", "--format", "json", "-")
		if (status == statusBad) != (err != nil) {
			t.Fatalf("status %d where loading says %v", status, err)
		}
		if status == statusBad {
			return
		}
		doc, problem := jsonschema.UnmarshalJSON(strings.NewReader(out))
		if problem != nil {
			t.Fatalf("%v\n%s", problem, out)
		}
		if err := schema.Validate(doc); err != nil {
			t.Errorf("%v\n%.2000s", err, out)
		}
		var told jsonout.Inspect
		if err := json.Unmarshal([]byte(out), &told); err != nil {
			t.Fatal(err)
		}
		points := 0
		for _, n := range set.Nodes {
			if n.Touch != "" {
				points++
			}
		}
		if len(told.TouchPoints) != points || told.Set.Name != set.Name {
			t.Errorf("%d touch points of %d, of the set %q", len(told.TouchPoints), points, told.Set.Name)
		}
		again, _, _ := attempt(t, text, "inspect", "--format", "json", "-")
		if again != out {
			t.Error("a second run says something else")
		}
		for _, args := range [][]string{{"inspect", "-"}, {"checklist", "-"}, {"trace", "-"}} {
			attempt(t, text, args...)
		}
	})
}

func tooLarge(set *netlist.Set) bool {
	if len(set.Parts) > fuzzedParts {
		return true
	}
	c, err := analysis.New(set, analysis.Bench{})
	if err != nil {
		return true
	}
	return len(c.Faults) > fuzzedFaults || len(c.Normal()) > 2*fuzzedPositions
}

// compiledFor is the schema of a command's JSON.
func compiledFor(f *testing.F, command string) *jsonschema.Schema {
	f.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(jsonout.SchemaOf(command)))
	if err != nil {
		f.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(command+".json", doc); err != nil {
		f.Fatal(err)
	}
	s, err := c.Compile(command + ".json")
	if err != nil {
		f.Fatal(err)
	}
	return s
}
