package tomltext

import (
	"errors"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
)

// At every key of these files stands the key, and at every value the value.
func TestEveryPositionIsRight(t *testing.T) {
	files := slices.Concat(filetest.Fixtures(t, "../../setfile/testdata/valid/*.toml"), filetest.Fixtures(t, "../../examples/*.toml"), filetest.Fixtures(t, "../../setfile/tubes.toml"))
	for _, file := range files {
		t.Run(filetest.Name(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			p := Parse(file, data)
			if p.Root == nil {
				t.Fatal(p.Problems)
			}
			lines := strings.Split(strings.TrimPrefix(string(data), ByteOrderMark), "\n")
			if n := checkPlaces(t, lines, p.Root); n == 0 {
				t.Error("the file has no keys")
			}
		})
	}
}

// checkPlaces compares each key and each plain value with what stands at its place, and counts.
func checkPlaces(t *testing.T, lines []string, table *netlist.Table) int {
	n := 0
	for _, e := range table.Entries {
		n++
		if at := textAt(lines, e.Pos); !strings.HasPrefix(at, e.Key) && !strings.HasPrefix(at, Text(e.Key)) {
			t.Errorf("%s: key %q, but there stands %.20q", e.Pos, e.Key, at)
		}
		n += checkValue(t, lines, e.Value)
	}
	return n
}

func checkValue(t *testing.T, lines []string, v netlist.Value) int {
	at := textAt(lines, v.Pos)
	switch data := v.Data.(type) {
	case *netlist.Table:
		return checkPlaces(t, lines, data)
	case []netlist.Value:
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

func textAt(lines []string, pos netlist.Pos) string {
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
	files := slices.Concat(filetest.Fixtures(t, "../../setfile/testdata/valid/*.toml"), filetest.Fixtures(t, "../../examples/*.toml"), filetest.Fixtures(t, "../../setfile/tubes.toml"))
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		checkLocator(t, strings.TrimPrefix(string(data), ByteOrderMark))
	}
}

// Whatever the text: the locator and the decoder agree on it.
func FuzzLocator(f *testing.F) {
	for _, file := range slices.Concat(filetest.Fixtures(f, "../../setfile/testdata/valid/*.toml"), filetest.Fixtures(f, "../../setfile/testdata/invalid/*.toml")) {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	for _, text := range []string{"", "\xff\xfe[\x00", ByteOrderMark, "a = [[[[", "[parts]\nR1.x.y = {}", "[a.b]\n[[a.c]]\n", "x = \"\\", "'''", "a.b = 1\n[a]\n"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if text, problems := plainText("f", data); problems == nil {
			if _, what := tooDeep(text); what == "" {
				checkLocator(t, text)
			}
		}
	})
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
	if missing := missingSpots(root, content, ""); len(missing) > 0 {
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

// missingSpots are the paths at which the locator has other keys or another length than the decoder.
func missingSpots(s *spot, data any, path string) []string {
	var missing []string
	items := func(n int, item func(int) any) {
		for i := range min(n, len(s.items)) {
			missing = append(missing, missingSpots(s.items[i], item(i), path)...)
		}
		if len(s.items) != n {
			missing = append(missing, path+" has another length")
		}
	}
	switch data := data.(type) {
	case map[string]any:
		for key, v := range data {
			if kid := s.kids[key]; kid != nil {
				missing = append(missing, missingSpots(kid, v, path+"."+key)...)
			} else {
				missing = append(missing, path+"."+key)
			}
		}
		if len(s.order) != len(data) {
			missing = append(missing, path+" has other keys")
		}
	case []map[string]any:
		items(len(data), func(i int) any { return data[i] })
	case []any:
		items(len(data), func(i int) any { return data[i] })
	}
	return missing
}

// probe refuses every value, and so makes the decoder tell where it stood.
type probe struct{}

var errAsk = errors.New("asked")

func (*probe) UnmarshalTOML(any) error { return errAsk }

// Where the decoder knows the place of a value, the locator has the same line.
func TestLocatorAgreesWithDecodersLines(t *testing.T) {
	data, err := os.ReadFile("../../setfile/testdata/valid/every-kind.toml")
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
	if got, want := ix.pos(strings.Index(text, "x")), (netlist.Pos{File: "f", Line: 1, Col: 2001}); got != want {
		t.Errorf("x stands at %v, want %v", got, want)
	}
	if got, want := ix.pos(strings.Index(text, "y")), (netlist.Pos{File: "f", Line: 2, Col: 701}); got != want {
		t.Errorf("y stands at %v, want %v", got, want)
	}
	if got, want := ix.pos(len(text)+5), (netlist.Pos{File: "f", Line: 2, Col: 702}); got != want {
		t.Errorf("past the end is %v, want %v", got, want)
	}
}

// TestUnescape: what a basic string says, by the table of TOML.
func TestUnescape(t *testing.T) {
	for text, want := range map[string]string{
		"plain": "plain", `a\tb`: "a\tb", `\n\r\b\f\"\\`: "\n\r\b\f\"\\", `B\u002b`: "B+", `1 \u00b5F`: "1 µF", `\U0001f4fb set`: "📻 set", `\U000003a9`: "Ω", `\x41z`: "Az", `\x41`: `A`,
		`\u00b5`: "µ",
	} {
		if got := unescape(text); got != want {
			t.Errorf("%s says %q, want %q", text, got, want)
		}
	}
}
