package netlist

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
)

// sameSet compares two sets but for the places in their files.
var sameSet = cmp.Options{cmpopts.IgnoreTypes(Pos{}), cmpopts.IgnoreUnexported(Set{}), cmpopts.IgnoreFields(Notice{}, "Text")}

// writeAndRead writes a document and reads it back.
func writeAndRead(t interface{ Fatalf(string, ...any) }, doc *Document) (*Set, string) {
	var b bytes.Buffer
	if err := doc.Write(&b); err != nil {
		t.Fatalf("write: %v", err)
	}
	set, err := Load(doc.File, bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatalf("what was written is refused: %v\n%s", err, b.String())
	}
	return set, b.String()
}

func TestWrittenSetsReadBackTheSame(t *testing.T) {
	for _, file := range slices.Concat(fixtures(t, "testdata/valid/*.toml"), fixtures(t, "examples/*.toml")) {
		t.Run(fixtureName(file), func(t *testing.T) {
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
		_, wrong := checkNodeName(s)
		return wrong == "" && strings.TrimSpace(s) != BuildingEarth
	})
	names := rapid.SliceOfNDistinct(name, 4, 7, strings.TrimSpace).Draw(t, "names")
	pick := func() []string { return rapid.Permutation(names).Draw(t, "nodes") }
	q := writeText
	var b strings.Builder
	fmt.Fprintf(&b, "[set]\nname = %s\n", q(rapid.StringMatching(`[A-Za-z"\\ ]{0,9}x`).Draw(t, "name")))
	fmt.Fprintf(&b, "[nodes]\n%s = { touch = %q }\n", q(names[0]), rapid.SampledFrom(TouchKinds).Draw(t, "touch"))
	fmt.Fprintf(&b, "[parts]\nPL1 = { kind = \"plug\", hot = %s, neutral = %s }\n", q(names[0]), q(names[1]))
	lines := []string{
		`R%d = { kind = "resistor", ends = [%s, %s], value = 4.7e3, note = "a\nb\t\"c\"" }`,
		`C%d = { kind = "capacitor", ends = [%s, %s], value = "0.1 uF", type = "paper" }`,
		`T%d = { kind = "transformer", windings = { "first winding" = [%s, %s] }, volts = { "first winding" = 120 } }`,
		`SW%d = { kind = "selector", common = %s, throws = [%s, ""] }`,
		`V%d = { kind = "tube", type = "50C5", pins = { 3 = %s, 4 = %s } }`,
		`L%d = { kind = "coil", ends = [%s, %s], ohms = 1e-3, henries = 2 }`,
	}
	sections := []string{"[coils]\nL%d = { ends = [%s, %s], ohms = 3 }", "[wires]\nW%d = { ends = [%s, %s] }"}
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
	set, err := Load("f", strings.NewReader(benchHead+`[coils]
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
	doc.Fit(WrittenPart{Name: "L2", Kind: "coil", Keys: doc.Part("L1").Keys.Clone()})
	doc.Fit(WrittenPart{Name: "R1", Kind: "resistor", Keys: keysOf(t, `ends = ["a", "chassis"], value = "1k"`)})
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

// keysOf reads the keys of a part as written.
func keysOf(t *testing.T, keys string) *Table {
	t.Helper()
	p := parseTable("f", []byte("x = { "+keys+" }"))
	if p.root == nil {
		t.Fatal(p.problems)
	}
	return p.root.Entries[0].Value.Data.(*Table)
}

// A document that is edited is checked whole when it is built, and the set that it came from
// stays as it was.
func TestEditedDocumentsAreCheckedWhole(t *testing.T) {
	set, err := Load("f", strings.NewReader(benchHead))
	if err != nil {
		t.Fatal(err)
	}
	doc := set.Document()
	doc.Part("BOND").Keys.Set(Entry{Key: "ends", Value: Value{Data: []Value{{Data: "line 2"}, {Data: "line 2"}}}})
	doc.Nodes.Delete("chassis")
	built, err := doc.Build()
	problems := problemsOf(t, built, err)
	if len(problems) != 2 {
		t.Errorf("got %v, want the same ends and no touch point", problems)
	}
	again, err := set.Document().Build()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(set, again, sameSet); diff != "" {
		t.Errorf("the set was changed through its document (-was +is):\n%s", diff)
	}
}

func TestParseDocumentTellsProblems(t *testing.T) {
	doc, err := ParseDocument("f", []byte("[condensers]\nC1 = 5\n"))
	if doc != nil || err == nil || !strings.Contains(err.Error(), "f:1:2: there is no section [condensers]") {
		t.Errorf("got %v, %v", doc, err)
	}
}

// What a set file cannot hold is told and not written.
func TestWriteRefusesOtherValues(t *testing.T) {
	doc := &Document{Header: &Table{Entries: []Entry{{Key: "name", Value: Value{Data: struct{}{}}}}}}
	if err := doc.Write(&bytes.Buffer{}); err == nil {
		t.Error("it was written")
	}
	data, err := os.ReadFile("testdata/valid/every-kind.toml")
	if err != nil {
		t.Fatal(err)
	}
	whole, err := ParseDocument("f", data)
	if err != nil {
		t.Fatal(err)
	}
	if err := whole.Write(brokenWriter{}); err == nil {
		t.Error("a broken writer was not told of")
	}
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, os.ErrClosed }
