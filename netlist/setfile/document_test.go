package setfile

import (
	"bytes"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
	"coldcheck/netlist/internal/tomltext"
)

// sameSet compares two sets but for the places in their files.
var sameSet = cmp.Options{cmpopts.IgnoreTypes(netlist.Pos{}), cmpopts.IgnoreUnexported(netlist.Set{}), cmpopts.IgnoreFields(netlist.Notice{}, "Text")}

// writeAndRead writes a document and reads it back.
func writeAndRead(t interface{ Fatalf(string, ...any) }, doc *netlist.Document) (*netlist.Set, string) {
	var b bytes.Buffer
	if err := Write(&b, doc); err != nil {
		t.Fatalf("write: %v", err)
	}
	set, err := Load(doc.File, bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatalf("what was written is refused: %v\n%s", err, b.String())
	}
	return set, b.String()
}

func TestWrittenSetsReadBackTheSame(t *testing.T) {
	for _, file := range slices.Concat(filetest.Fixtures(t, "testdata/valid/*.toml"), filetest.Fixtures(t, "../examples/*.toml")) {
		t.Run(filetest.Name(file), func(t *testing.T) {
			set, err := LoadFile(file, nil)
			if err != nil {
				t.Fatal(err)
			}
			back, text := writeAndRead(t, set.Document())
			if diff := cmp.Diff(set, back, sameSet); diff != "" {
				t.Errorf("the set differs (-was +is):\n%s", diff)
			}
			if _, again := writeAndRead(t, back.Document()); again != text {
				t.Errorf("written again it differs:\n%s", cmp.Diff(text, again))
			}
		})
	}
}

// drawSet draws a set file with names that are hard to write.
func drawSet(t *rapid.T) string {
	name := rapid.OneOf(
		rapid.SampledFrom([]string{"B-", "B+", "line 1", "chassis", `a"b`, `c:\d`, "ΔX", "a#b", "a.b", "x = 1", "[y]", "'", "\u202ez", "0V"}),
		rapid.StringMatching(`[ -~]{0,10}[!-~]`),
		rapid.StringN(1, 20, 60),
	).Filter(func(s string) bool {
		_, wrong := netlist.CheckNodeName(s)
		return wrong == "" && strings.TrimSpace(s) != netlist.BuildingEarth
	})
	names := rapid.SliceOfNDistinct(name, 4, 7, strings.TrimSpace).Draw(t, "names")
	pick := func() []string { return rapid.Permutation(names).Draw(t, "nodes") }
	q := tomltext.Text
	var b strings.Builder
	fmt.Fprintf(&b, "[set]\nname = %s\n", q(rapid.StringMatching(`[A-Za-z"\\ ]{0,9}x`).Draw(t, "name")))
	fmt.Fprintf(&b, "[nodes]\n%s = { touch = %q }\n", q(names[0]), rapid.SampledFrom(netlist.TouchKinds).Draw(t, "touch"))
	fmt.Fprintf(&b, "[parts]\nPL1 = { kind = \"plug\", hot = %s, neutral = %s }\n", q(names[0]), q(names[1]))
	lines := []string{
		`R%d = { kind = "resistor", ends = [%s, %s], value = 4.7e3, note = "a\nb\t\"c\"" }`,
		`C%d = { kind = "capacitor", ends = [%s, %s], value = "0.1 uF", type = "paper" }`,
		`T%d = { kind = "transformer", windings = { "first winding" = [%s, %s] }, volts = { "first winding" = 120 } }`,
		`SW%d = { kind = "selector", common = %s, throws = [%s, ""] }`,
		`V%d = { kind = "tube", type = "50C5", pins = { 3 = %s, 4 = %s } }`,
		`L%d = { kind = "coil", ends = [%s, %s], ohms = 1e-3, henries = 2 }`,
		`TH%d = { kind = "ntc", ends = [%s, %s], hot = "44", cold = 400 }`,
		`DS%d = { kind = "Dial_Lamp", ends = [%s, %s], type = "44" }`,
		`CC%d = { kind = "can", sections = ["40 uF", "1/2 mfd"], rating = ["150 V", "25 V"], positive = [%[2]s, %[2]s], negative = %[3]s, condition = "suspect" }`,
		`P%d = { kind = "rheostat", ends = [%[2]s, %[3]s], wiper = %[2]s, value = "1/2 meg" }`,
	}
	sections := []string{"[coils]\nL%d = { ends = [%s, %s], ohms = 3 }", "[wires]\nW%d = { ends = [%s, %s] }", "[voice_coils]\nL%d = { ends = [%s, %s], ohms = 3 }",
		"[cans]\nCC%[1]d = { sections = [\"1 uF\"], positive = [%[2]s], negative = %[3]s }\n[condensers]\nC%[1]d = { ends = [%[2]s, %[3]s], value = \"1 nF\" }"}
	all := slices.Concat(rapid.SliceOfN(rapid.SampledFrom(lines), 0, 8).Draw(t, "parts"), rapid.Permutation(sections).Draw(t, "sections")[:1])
	for i, line := range all {
		nodes := pick()
		fmt.Fprintf(&b, line+"\n", i, q(nodes[0]), q(nodes[1]))
	}
	return b.String()
}

func TestAnySetReadsBackTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := drawSet(t)
		set, err := Load("f", strings.NewReader(text))
		if err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		back, written := writeAndRead(t, set.Document())
		if diff := cmp.Diff(set, back, sameSet); diff != "" {
			t.Fatalf("the set differs (-was +is):\n%s\n%s", diff, written)
		}
	})
}

// The order of the parts may not change, so a section that would stand twice is not written.
func TestWritingKeepsTheOrderOfParts(t *testing.T) {
	set, err := Load("f", strings.NewReader(filetest.BenchHead+`[coils]
L1 = { ends = ["line 1", "a"], ohms = 3 }
[wires]
W2 = { ends = ["a", "chassis"] }
`))
	if err != nil {
		t.Fatal(err)
	}
	doc := set.Document()
	if _, text := writeAndRead(t, doc); !strings.Contains(text, "[coils]\nL1 = { ends") {
		t.Errorf("the section is not kept:\n%s", text)
	}
	doc.Fit(netlist.WrittenPart{Name: "L2", Kind: "coil", Keys: doc.Part("L1").Keys.Clone()})
	doc.Fit(netlist.WrittenPart{Name: "R1", Kind: "resistor", Keys: keysOf(t, `ends = ["a", "chassis"], value = "1k"`)})
	if !doc.Remove("W2") || doc.Remove("W9") {
		t.Error("Remove does not say what it did")
	}
	back, text := writeAndRead(t, doc)
	var names []string
	for _, p := range back.Parts {
		names = append(names, p.Name)
	}
	if want := []string{"PL1", "BOND", "L1", "L2", "R1"}; !slices.Equal(names, want) {
		t.Errorf("the parts are %v, want %v, in\n%s", names, want, text)
	}
}

// What is written in words of the trade is written back in ours, and a can as its capacitors.
func TestTradeWordsAreWrittenBackAsOurs(t *testing.T) {
	set, err := LoadFile("testdata/valid/parts-list.toml", nil)
	if err != nil {
		t.Fatal(err)
	}
	_, text := writeAndRead(t, set.Document())
	for _, word := range []string{"valve", "condenser", "Condenser", "can ", "cans", "choke", "pots", "ntc", "NTC", "Selenium", "dial", "jumper", "Rheostat", "ballast", "line-cord", "speakers"} {
		if strings.Contains(text, word) {
			t.Errorf("%q is written:\n%s", word, text)
		}
	}
	if want := `C2B = { kind = "capacitor", ends = ["B+ 2", "B-"], value = "20 uF", rating = "150 V", type = "electrolytic", positive = "B+ 2", note = "on the chassis" }`; !strings.Contains(text, want) {
		t.Errorf("%s is not written:\n%s", want, text)
	}
	// Sections that follow each other and are one to us are one.
	set, err = Load("f", strings.NewReader(filetest.BenchHead+"[condensers]\nC1 = { ends = [\"line 1\", \"a\"], value = \"1 nF\" }\n"+
		"[cans]\nC2 = { sections = [\"1 uF\"], positive = [\"a\"], negative = \"line 1\" }\n[capacitors]\nC3 = { ends = [\"line 1\", \"a\"], value = \"1 nF\" }\n"))
	if err != nil {
		t.Fatal(err)
	}
	if _, text := writeAndRead(t, set.Document()); strings.Count(text, "[capacitors]") != 1 || strings.Count(text, "kind =") != 2 {
		t.Errorf("not one section:\n%s", text)
	}
}

// keysOf reads the keys of a part as written.
func keysOf(t *testing.T, keys string) *netlist.Table {
	t.Helper()
	p := tomltext.Parse("f", []byte("x = { "+keys+" }"))
	if p.Root == nil {
		t.Fatal(p.Problems)
	}
	return p.Root.Entries[0].Value.Data.(*netlist.Table)
}

// A document that is edited is checked whole when it is built, and the set that it came from
// stays as it was.
func TestEditedDocumentsAreCheckedWhole(t *testing.T) {
	set, err := Load("f", strings.NewReader(filetest.BenchHead))
	if err != nil {
		t.Fatal(err)
	}
	doc := set.Document()
	doc.Part("BOND").Keys.Set(netlist.Entry{Key: "ends", Value: netlist.Value{Data: []netlist.Value{{Data: "line 2"}, {Data: "line 2"}}}})
	doc.Nodes.Delete("chassis")
	built, err := Build(doc)
	problems := problemsOf(t, built, err)
	if len(problems) != 2 {
		t.Errorf("got %v, want the same ends and no touch point", problems)
	}
	again, err := Build(set.Document())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(set, again, sameSet); diff != "" {
		t.Errorf("the set was changed through its document (-was +is):\n%s", diff)
	}
}

func TestParseTellsProblems(t *testing.T) {
	doc, err := Parse("f", []byte("[caps]\nC1 = 5\n"))
	if doc != nil || err == nil || !strings.Contains(err.Error(), "f:1:2: there is no section [caps]") {
		t.Errorf("got %v, %v", doc, err)
	}
}

// What a set file cannot hold is told and not written.
func TestWriteRefusesOtherValues(t *testing.T) {
	doc := &netlist.Document{Header: &netlist.Table{Entries: []netlist.Entry{{Key: "name", Value: netlist.Value{Data: struct{}{}}}}}}
	if err := Write(&bytes.Buffer{}, doc); err == nil {
		t.Error("it was written")
	}
	data, err := os.ReadFile("testdata/valid/every-kind.toml")
	if err != nil {
		t.Fatal(err)
	}
	whole, err := Parse("f", data)
	if err != nil {
		t.Fatal(err)
	}
	if err := Write(brokenWriter{}, whole); err == nil {
		t.Error("a broken writer was not told of")
	}
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, os.ErrClosed }

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
	got := map[string]netlist.Pos{
		"Größe": set.Node("Größe").Pos, "line 1": set.Node("line 1").Pos, "line 2": set.Node("line 2").Pos,
		"PL1": set.Part("PL1").Pos, "R1": set.Part("R1").Pos, "R2": set.Part("R2").Pos, "R3": set.Part("R3").Pos,
		"reading 1": set.Readings[0].Pos, "reading 2": set.Readings[1].Pos,
	}
	want := map[string]netlist.Pos{
		"Größe": {File: "f", Line: 4, Col: 3}, "line 1": {File: "f", Line: 6, Col: 30}, "line 2": {File: "f", Line: 6, Col: 50},
		"PL1": {File: "f", Line: 6, Col: 1}, "R1": {File: "f", Line: 7, Col: 3}, "R2": {File: "f", Line: 8, Col: 1}, "R3": {File: "f", Line: 10, Col: 8},
		"reading 1": {File: "f", Line: 13, Col: 3}, "reading 2": {File: "f", Line: 16, Col: 3},
	}
	for name, pos := range want {
		if got[name] != pos {
			t.Errorf("%s stands at %v, want %v", name, got[name], pos)
		}
	}
}
