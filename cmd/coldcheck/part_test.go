package main

import (
	"encoding/json"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"coldcheck/netlist"
	"coldcheck/netlist/setfile"
)

// partPages are all that part tells of the format, page by page, each in words with one blank between them.
func partPages(t *testing.T) map[string]string {
	t.Helper()
	pages := map[string]string{}
	for _, name := range slices.Concat(kindNames(), []string{string(netlist.KindCan)}, topicNames()) {
		out, _ := ran(t, "", "part", name, "--width", "100")
		pages[name] = out
	}
	return pages
}

// oneLine puts a page on one line, as no width breaks it.
func oneLine(page string) string { return strings.Join(strings.Fields(page), " ") }

// writtenKey is a key of a schema's description: how it is written.
var writtenKey = regexp.MustCompile(`; written (.*)$`)

// schemaKeys are the keys of a schema, each with how its description says that it is written; "" where it says nothing.
func schemaKeys(node any, into map[string]map[string]bool) {
	switch node := node.(type) {
	case []any:
		for _, item := range node {
			schemaKeys(item, into)
		}
	case map[string]any:
		properties, _ := node["properties"].(map[string]any)
		for name, of := range properties {
			if into[name] == nil {
				into[name] = map[string]bool{}
			}
			described, _ := of.(map[string]any)
			description, _ := described["description"].(string)
			written := ""
			if m := writtenKey.FindStringSubmatch(description); m != nil {
				written = m[1]
			}
			into[name][written] = true
		}
		for _, item := range node {
			schemaKeys(item, into)
		}
	}
}

// TestPartTellsEveryKey: every key that the schema of a set file or of a plan knows, at whatever depth, stands on a
// page of part, with the example that the schema has of it. A key that is added and told nowhere fails here.
func TestPartTellsEveryKey(t *testing.T) {
	pages := partPages(t)
	var all strings.Builder
	for _, name := range slices.Sorted(maps.Keys(pages)) {
		all.WriteString(oneLine(pages[name]) + "\n")
	}
	keys := map[string]map[string]bool{}
	for _, name := range []string{"set", "plan"} {
		text, _ := ran(t, "", "schema", name)
		var doc any
		if err := json.Unmarshal([]byte(text), &doc); err != nil {
			t.Fatal(err)
		}
		schemaKeys(doc, keys)
	}
	if len(keys) < 70 {
		t.Fatalf("only %d keys were found", len(keys))
	}
	for _, name := range slices.Sorted(maps.Keys(keys)) {
		row := regexp.MustCompile(`(?m)^  ` + name + ` +\S`)
		example := regexp.MustCompile(`(?m)^ {4,}(` + name + ` = \S|\[+` + name + `\b)`)
		told := slices.ContainsFunc(slices.Collect(maps.Values(pages)), func(page string) bool { return row.MatchString(page) && example.MatchString(page) })
		if !told {
			t.Errorf("no page tells of the key %s with an example", name)
		}
		for written := range keys[name] {
			if !strings.Contains(all.String(), oneLine(written)) {
				t.Errorf("the example of %s is on no page: %s", name, written)
			}
		}
	}
}

// What a page has to copy is taken by the program where it stands in a set.
func TestPartLinesCanBeCopied(t *testing.T) {
	const (
		set   = "[set]\nname = \"bench\"\n"
		nodes = "[nodes]\nchassis = { touch = \"chassis\" }\n"
		plug  = "[parts]\nPL1 = { kind = \"plug\", ends = [\"line 1\", \"line 2\"] }\n"
		rest  = "[wires]\nW1 = { ends = [\"line 2\", \"chassis\"] }\n[switches]\nS1 = { ends = [\"line 1\", \"a\"] }\n"
	)
	frames := map[string][2]string{
		"set":   {"", nodes + plug + rest},
		"nodes": {set, plug + rest + "[insulations]\nI1 = { ends = [\"volume shaft\", \"chassis\"] }\nI2 = { ends = [\"antenna lead\", \"chassis\"] }\n"},
		"parts": {set + nodes, rest},
	}
	for _, topic := range netlist.Topics() {
		frame, ok := frames[topic.Name]
		if !ok {
			frame = [2]string{set + nodes + plug + rest, ""}
		}
		text := frame[0] + topic.Example + "\n" + frame[1]
		if _, err := setfile.Load("f", strings.NewReader(text)); err != nil {
			t.Errorf("%s: %v\n%s", topic.Name, err, text)
		}
	}
}

// lineToCopy is the line of a page of part that is there to be copied, "" where there is none.
func lineToCopy(page string) string {
	_, rest, _ := strings.Cut(page, "A line to copy")
	_, rest, _ = strings.Cut(rest, "\n")
	line, _, _ := strings.Cut(rest, "\n")
	return strings.TrimSpace(line)
}

// TestPrintedLinesAreTaken: the line that part prints of a kind, and of every tube type of the catalogue with all its
// pins, is a line of a set file as it stands there.
func TestPrintedLinesAreTaken(t *testing.T) {
	const (
		head = "[set]\nname = \"bench\"\n[nodes]\nchassis = { touch = \"chassis\" }\n"
		rest = "PL9 = { kind = \"plug\", hot = \"line 1\", neutral = \"line 2\" }\nW9 = { kind = \"wire\", ends = [\"line 2\", \"chassis\"] }\n"
	)
	for _, k := range netlist.KindsAndCan() {
		page, _ := ran(t, "", "part", string(k.Kind))
		line, others := lineToCopy(page), rest
		if k.Kind == netlist.KindPlug {
			others = "W9 = { kind = \"wire\", ends = [\"line 2\", \"chassis\"] }\n"
		}
		set, err := setfile.Load("f", strings.NewReader(head+"[parts]\n"+others+line+"\n"))
		if err != nil || len(set.Parts) < 2 {
			t.Errorf("%s: %v\n%s", k.Kind, err, line)
		}
	}
	for _, tube := range setfile.Catalogue() {
		page, _ := ran(t, "", "part", tube.Name)
		line := lineToCopy(page)
		set, err := setfile.Load("f", strings.NewReader(head+"[parts]\n"+rest+"[tubes]\n"+line+"\n"))
		if err != nil {
			t.Errorf("%s: %v\n%s", tube.Name, err, line)
			continue
		}
		made := set.Part("V1").Detail.(*netlist.Tube)
		if made.Type.Name != tube.Name || len(made.Pins) != len(tube.PinNumbers()) {
			t.Errorf("%s: read as %s with %d of %d pins\n%s", tube.Name, made.Type.Name, len(made.Pins), len(tube.PinNumbers()), line)
		}
	}
}
