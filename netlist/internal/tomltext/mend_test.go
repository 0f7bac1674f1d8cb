package tomltext

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
)

// What a slip's message says is meant is read so, and what stands behind it is read at its own place.
func TestSlipsAreReadAsMeant(t *testing.T) {
	tests := []struct{ name, line, want string }{
		{"no quotes", `a = { b = 2.2 meg, end = 1 }`, `2.2 meg`},
		{"a list without quotes", `a = { b = [B+, line 1], end = 1 }`, `[B+ line 1]`},
		{"half a list without quotes", `a = { b = [line 1, "B-"], end = 1 }`, `[line 1 B-]`},
		{"a number with a unit", `a = { b = 220k, end = 1 }`, `220k`},
		{"per cent", `a = { b = 10%, end = 1 }`, `10%`},
		{"a point first", `a = { b = .5, end = 1 }`, `0.5`},
		{"a point first, negative", `a = { b = -.5, end = 1 }`, `-0.5`},
		{"a point first, and a unit", `a = { b = .05 mfd, end = 1 }`, `.05 mfd`},
		{"a point last", `a = { b = 5., end = 1 }`, `5`},
		{"a zero first", `a = { b = 047, end = 1 }`, `047`},
		{"a decimal comma", `a = { b = 0,5, end = 1 }`, `0.5`},
		{"curly quotes", `a = { b = “line 1”, end = 1 }`, `line 1`},
		{"low quotes", `a = { b = „µ“, end = 1 }`, `µ`},
		{"a comma too many", `a = { b = 5,, end = 1 }`, `5`},
		{"no comma", `a = { b = "5" end = 1 }`, `5`},
		{"no comma in a list", `a = { b = ["c" "d"], end = 1 }`, `[c d]`},
		{"a colon", `a = { b: 5, end = 1 }`, `5`},
		{"no =", `a = { b "5", end = 1 }`, `5`},
		{"a brace too many", `a = { b = 5, end = 1 }}`, `5`},
		{"a comma behind", `a = { b = 5, end = 1 },`, `5`},
		{"a word behind", `a = { b = 5, end = 1 } of the attic`, `5`},
		{"two slips", `a = { b = 5 meg c = line 1, end = 1 }`, ``},
		{"three slips", `a = { b = .5 meg, c: line 1, end = 1 }`, `.5 meg`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := Parse("f", []byte("x = 1\n"+tt.line+"\ny = 2\n"))
			if len(p.Problems) == 0 || p.Problems[0].Pos.Line != 2 {
				t.Errorf("told is %v", p.Problems)
			}
			e, _ := p.Root.Get("a")
			table, _ := e.Value.Data.(*netlist.Table)
			if tt.want == "" { // what is meant is not plain: the line is left out
				if table != nil || !strings.Contains(p.Lost, "meg") {
					t.Errorf("read is %v, lost is %q", table, p.Lost)
				}
				return
			}
			b, _ := table.Get("b")
			if got := plainData(b.Value); got != tt.want {
				t.Errorf("b is %s, want %s", got, tt.want)
			}
			end, _ := table.Get("end")
			if col := len([]rune(tt.line[:strings.Index(tt.line, "end")])) + 1; end.Pos.Line != 2 || end.Pos.Col != col {
				t.Errorf("end stands at %v, want 2:%d", end.Pos, col)
			}
			if y, _ := p.Root.Get("y"); y.Pos.Line != 3 || y.Pos.Col != 1 {
				t.Errorf("y stands at %v", y.Pos)
			}
		})
	}
}

// TestSlipsAreTold: each by what is wrong with it, and where.
func TestSlipsAreTold(t *testing.T) {
	for line, want := range map[string]string{
		`a = 12-inch`:   `f:1:5: the value 12-inch has no quotes; write "12-inch"`,
		`a = 1.2.3`:     `f:1:5: "1.2.3" is not a number that can be read; write one like 0.15, or put it in quotes`,
		`a = 1..5`:      `f:1:5: "1..5" is not a number that can be read; write one like 0.15, or put it in quotes`,
		`a = 1.k`:       `f:1:5: the value 1.k has no quotes; write "1.k"`,
		`a = 5.`:        `f:1:5: the number 5. ends with its point; write 5.0`,
		`a = "c:\\dir"`: ``,
		`a = "c:\dir"`:  `f:1:6: a backslash means something else between double quotes; write / or \\ for it`,
	} {
		p := Parse("f", []byte(line+"\n"))
		got := ""
		if len(p.Problems) > 0 {
			got = p.Problems[0].String()
		}
		if got != want {
			t.Errorf("%s: %q, want %q", line, got, want)
		}
	}
}

// TestEverySlipIsTold: some hundreds of slips in a file are all told, each at its line, and what they mean is read.
func TestEverySlipIsTold(t *testing.T) {
	const lines = 390
	var text strings.Builder
	for i := range lines {
		fmt.Fprintf(&text, "a%d = .5\n", i)
	}
	p := Parse("f", []byte(text.String()))
	if len(p.Problems) != lines || p.Lost != "" {
		t.Fatalf("%d of %d slips are told, lost is %q", len(p.Problems), lines, p.Lost)
	}
	for i, problem := range p.Problems {
		if problem.Pos.Line != i+1 {
			t.Errorf("slip %d is told of line %d", i+1, problem.Pos.Line)
		}
	}
	if last, ok := p.Root.Get(fmt.Sprintf("a%d", lines-1)); !ok || fmt.Sprint(last.Value.Data) != "0.5" {
		t.Errorf("the last is read as %v", last.Value.Data)
	}
}

// TestWhatStandsTwice: each is told by what it is, with the line of the first.
func TestWhatStandsTwice(t *testing.T) {
	for text, want := range map[string]string{
		"[parts]\na = 1\n[nodes]\nb = 1\n[parts]\nc = 1\n": "f:5:2: the section [parts] stands twice (first on line 1); put all its lines under one header",
		"[parts]\nC1 = 1\nC1 = 2\n":                        `f:3:1: a second part named "C1" (the first is on line 2); give each part its own name`,
		"[nodes]\nB- = {}\nB- = {}\n":                      `f:3:1: point "B-" stands twice in [nodes] (first on line 2); write it once`,
		"[set]\nname = \"a\"\nname = \"b\"\n":              `f:3:1: "name" stands twice (first on line 2); keep one of the two`,
	} {
		p := Parse("f", []byte(text))
		if len(p.Problems) == 0 || p.Problems[0].String() != want {
			t.Errorf("%q: %v, want %s", text, p.Problems, want)
		}
	}
}

// plainData is a value in few characters.
func plainData(v netlist.Value) string {
	items, ok := v.Data.([]netlist.Value)
	if !ok {
		return fmt.Sprint(v.Data)
	}
	var all []string
	for _, item := range items {
		all = append(all, plainData(item))
	}
	return fmt.Sprint(all)
}

// Headers, keys and remarks are read as meant too.
func TestNamesAreReadAsMeant(t *testing.T) {
	p := Parse("f", []byte("[dial lamps]\nDS 1 = { end = 1 }\n// a remark\n[resistors]\nR1 = { body end dot = \"red red red\", ends = [a, b] }\n[tubes]\nV1 = { pins = { pin 3 = 5 } }\n[nodes]\nB+ = {}\n"))
	if len(p.Problems) != 7 || p.Lost != "" {
		t.Errorf("told is %v, lost is %q", p.Problems, p.Lost)
	}
	for _, path := range []string{"dial lamps/DS1/end", "resistors/R1/body_end_dot", "resistors/R1/ends", "tubes/V1/pins/3", "nodes/B+"} {
		at := p.Root
		for key := range strings.SplitSeq(path, "/") {
			e, ok := at.Get(key)
			if !ok {
				t.Errorf("%s is not there", path)
				break
			}
			at, _ = e.Value.Data.(*netlist.Table)
		}
	}
	for i, want := range []string{"1:", `2:1: "DS 1" is not a part's name`, "3:1: a remark begins with #", `5:8: the key "body end dot" is written body_end_dot`, "5:46: the values a and b", "7:17: a pin is written by its number alone; write 3 =", "9:1: the name B+ needs quotes"} {
		if i < len(p.Problems) && !strings.HasPrefix(p.Problems[i].String(), "f:"+want) {
			t.Errorf("got %v, want %s", p.Problems[i], want)
		}
	}
}

// Set files in which characters went astray: whatever is told stands inside the file, and so does all that is read.
func TestPlacesStayInsideTheFile(t *testing.T) {
	var texts []string
	for _, file := range slices.Concat(filetest.Fixtures(t, "../../setfile/testdata/valid/*.toml"), filetest.Fixtures(t, "../../setfile/testdata/invalid/slip*.toml")) {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, string(data))
	}
	rapid.Check(t, func(rt *rapid.T) {
		text := []rune(rapid.SampledFrom(texts).Draw(rt, "text"))
		for range rapid.IntRange(1, 6).Draw(rt, "slips") {
			at := rapid.IntRange(0, len(text)).Draw(rt, "at")
			insert := []rune(rapid.SampledFrom([]string{"", `"`, "“", ",", "[", "]", "{", "}", ".", "=", ":", "#", " ", "\n", "0", "B+"}).Draw(rt, "insert"))
			remove := min(rapid.IntRange(0, 3).Draw(rt, "remove"), len(text)-at)
			text = slices.Concat(text[:at:at], insert, text[at+remove:])
		}
		data := []byte(string(text))
		p := Parse("f", data)
		for _, wrong := range p.Problems {
			filetest.CheckPlace(t, wrong.Pos, data)
		}
		if p.Root == nil && len(p.Problems) == 0 {
			rt.Fatal("nothing is read, and nothing told")
		}
		checkInside(t, p.Root, data)
	})
}

func checkInside(t *testing.T, table *netlist.Table, data []byte) {
	if table == nil {
		return
	}
	for _, e := range table.Entries {
		filetest.CheckPlace(t, e.Pos, data)
		filetest.CheckPlace(t, e.Value.Pos, data)
		inner, _ := e.Value.Data.(*netlist.Table)
		checkInside(t, inner, data)
	}
}
