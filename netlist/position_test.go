package netlist

import (
	"errors"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
)

// At every key of these files stands the key, and at every value the value.
func TestEveryPositionIsRight(t *testing.T) {
	files := slices.Concat(fixtures(t, "testdata/valid/*.toml"), fixtures(t, "examples/*.toml"), fixtures(t, "tubes.toml"))
	for _, file := range files {
		t.Run(fixtureName(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			p := parseTable(file, data)
			if p.root == nil {
				t.Fatal(p.problems)
			}
			lines := strings.Split(strings.TrimPrefix(string(data), byteOrderMark), "\n")
			if n := checkPlaces(t, lines, p.root); n == 0 {
				t.Error("the file has no keys")
			}
		})
	}
}

// checkPlaces compares each key and each plain value with what stands at its place, and counts.
func checkPlaces(t *testing.T, lines []string, table *Table) int {
	n := 0
	for _, e := range table.Entries {
		n++
		if at := textAt(lines, e.Pos); !strings.HasPrefix(at, e.Key) && !strings.HasPrefix(at, writeText(e.Key)) {
			t.Errorf("%s: key %q, but there stands %.20q", e.Pos, e.Key, at)
		}
		n += checkValue(t, lines, e.Value)
	}
	return n
}

func checkValue(t *testing.T, lines []string, v Value) int {
	at := textAt(lines, v.Pos)
	switch data := v.Data.(type) {
	case *Table:
		return checkPlaces(t, lines, data)
	case []Value:
		n := 0
		for _, item := range data {
			n += checkValue(t, lines, item)
		}
		return n
	case string:
		if strings.HasPrefix(at, `"""`) { // it goes on below
			return 0
		}
		if !strings.ContainsAny(at[:1], `"'`) || !strings.Contains(at, strings.SplitN(data, "\n", 2)[0]) {
			t.Errorf("%s: text %q, but there stands %.20q", v.Pos, data, at)
		}
	case int64, float64:
		if !strings.ContainsAny(at[:1], "+-.0123456789") {
			t.Errorf("%s: number %v, but there stands %.20q", v.Pos, data, at)
		}
	}
	return 0
}

func textAt(lines []string, pos Pos) string {
	if pos.Line < 1 || pos.Line > len(lines) {
		return "outside the file"
	}
	line := []rune(lines[pos.Line-1])
	if pos.Col < 1 || pos.Col > len(line) {
		return "outside the line"
	}
	return string(line[pos.Col-1:])
}

// The locator and the decoder agree on which keys there are and in which order they stand.
func TestLocatorAgreesWithDecoder(t *testing.T) {
	files := slices.Concat(fixtures(t, "testdata/valid/*.toml"), fixtures(t, "examples/*.toml"), fixtures(t, "tubes.toml"))
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		checkLocator(t, strings.TrimPrefix(string(data), byteOrderMark))
	}
}

// checkLocator compares the keys that the locator found with those that the decoder tells of.
func checkLocator(t *testing.T, text string) {
	t.Helper()
	var content map[string]any
	if decode(text, &content) != nil {
		return
	}
	md, err := toml.Decode(text, &content)
	if err != nil {
		t.Fatal(err)
	}
	root := locate(text)
	var missing []string
	var walk func(s *spot, data any, path string)
	walk = func(s *spot, data any, path string) {
		switch data := data.(type) {
		case map[string]any:
			for key, v := range data {
				kid := s.kids[key]
				if kid == nil {
					missing = append(missing, path+"."+key)
					continue
				}
				walk(kid, v, path+"."+key)
			}
			if len(s.order) != len(data) {
				missing = append(missing, path+" has other keys")
			}
		case []map[string]any:
			for i, v := range data {
				if i < len(s.items) {
					walk(s.items[i], v, path)
				}
			}
			if len(s.items) != len(data) {
				missing = append(missing, path+" has another length")
			}
		case []any:
			for i, v := range data {
				if i < len(s.items) {
					walk(s.items[i], v, path)
				}
			}
			if len(s.items) != len(data) {
				missing = append(missing, path+" has another length")
			}
		}
	}
	walk(root, content, "")
	if len(missing) > 0 {
		slices.Sort(missing)
		t.Errorf("the locator differs from the decoder at %q in\n%s", missing, text)
	}
	var order []string
	for _, key := range md.Keys() {
		if len(key) == 1 && !slices.Contains(order, key[0]) {
			order = append(order, key[0])
		}
	}
	for _, name := range root.order {
		if !slices.Contains(order, name) {
			order = append(order, name) // made by a header below it alone
		}
	}
	if len(order) != len(root.order) {
		t.Errorf("sections in the decoder's order %q, in the locator's %q", order, root.order)
	}
}

// probe refuses every value, and so makes the decoder tell where it stood.
type probe struct{}

var errAsk = errors.New("asked")

func (*probe) UnmarshalTOML(any) error { return errAsk }

// Where the decoder knows the place of a value, the locator has the same line.
func TestLocatorAgreesWithDecodersLines(t *testing.T) {
	data, err := os.ReadFile("testdata/valid/every-kind.toml")
	if err != nil {
		t.Fatal(err)
	}
	ix := indexLines("f", string(data))
	root := locate(string(data))
	var sections map[string]toml.Primitive
	md, err := toml.Decode(string(data), &sections)
	if err != nil {
		t.Fatal(err)
	}
	asked := 0
	for section, p := range sections {
		if md.Type(section) != "Hash" {
			continue
		}
		var parts map[string]toml.Primitive
		if err := md.PrimitiveDecode(p, &parts); err != nil {
			t.Fatal(err)
		}
		for name, part := range parts {
			var pe toml.ParseError
			if !errors.As(md.PrimitiveDecode(part, new(probe)), &pe) {
				t.Errorf("%s.%s: the decoder took what refuses", section, name)
				continue
			}
			if section == "set" && name == "note" {
				continue // of a text of several lines the decoder tells the last
			}
			asked++
			if got := ix.pos(root.kids[section].kids[name].value).Line; got != pe.Position.Line {
				t.Errorf("%s.%s stands on line %d, the decoder says %d", section, name, got, pe.Position.Line)
			}
		}
	}
	if asked < 30 {
		t.Errorf("only %d values were asked for", asked)
	}
}

func TestColumnsCountCharacters(t *testing.T) {
	text := strings.Repeat("é", 2000) + "x\n" + strings.Repeat("語", 700) + "y"
	ix := indexLines("f", text)
	if got, want := ix.pos(strings.Index(text, "x")), (Pos{"f", 1, 2001}); got != want {
		t.Errorf("x stands at %v, want %v", got, want)
	}
	if got, want := ix.pos(strings.Index(text, "y")), (Pos{"f", 2, 701}); got != want {
		t.Errorf("y stands at %v, want %v", got, want)
	}
	if got, want := ix.pos(len(text)+5), (Pos{"f", 2, 702}); got != want {
		t.Errorf("past the end is %v, want %v", got, want)
	}
}

// Parts, points and readings of a set have the places at which they were written.
func TestPositionsOfTheSet(t *testing.T) {
	const text = `[set]
name = "bench"
[nodes]
  "Größe" = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
  R1 = { kind = "resistor", ends = ["line 1", "Größe"], value = "1k" }
R2.kind = "wire"
R2.ends = ["line 2", "Größe"]
[parts.R3]
kind = "wire"
ends = ["line 2", "Größe"]
[[readings]]
at = ["Größe", "line 1"]
volts = 1
[[readings]]
at = ["Größe", "line 2"]
volts = 2
`
	set, err := Load("f", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]Pos{
		"Größe": set.Node("Größe").Pos, "line 1": set.Node("line 1").Pos, "line 2": set.Node("line 2").Pos,
		"PL1": set.Part("PL1").Pos, "R1": set.Part("R1").Pos, "R2": set.Part("R2").Pos, "R3": set.Part("R3").Pos,
		"reading 1": set.Readings[0].Pos, "reading 2": set.Readings[1].Pos,
	}
	want := map[string]Pos{
		"Größe": {"f", 4, 3}, "line 1": {"f", 6, 30}, "line 2": {"f", 6, 50},
		"PL1": {"f", 6, 1}, "R1": {"f", 7, 3}, "R2": {"f", 8, 1}, "R3": {"f", 10, 8},
		"reading 1": {"f", 13, 3}, "reading 2": {"f", 16, 3},
	}
	for name, pos := range want {
		if got[name] != pos {
			t.Errorf("%s stands at %v, want %v", name, got[name], pos)
		}
	}
}
