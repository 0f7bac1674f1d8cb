package plan

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
	"coldcheck/netlist/internal/words"
	"coldcheck/netlist/setfile"
)

// Whatever the plan and the set: no panic; on error nothing else, and every problem has words and a place in the
// file; a plan that is read is written and read back the same; one that fits makes a set that holds
// the format's laws.
func FuzzPlanOnSet(f *testing.F) {
	for _, file := range filetest.Fixtures(f, "../examples/plans/*-plan.toml") {
		text, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		set, err := os.ReadFile("../examples/" + strings.TrimSuffix(filetest.Name(file), "-plan") + ".toml")
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text, set)
	}
	for _, step := range []string{
		"do = \"move\"\npart = \"V1\"\nfrom = \"B-\"\nto = \"h\"\nterminal = \"pin 2\"", "do = \"move\"\npart = \"SL1\"\nfrom = \"hi\"\nto = \"x\"", "do = \"remove\"\npart = \"C2\"",
		"do = \"mark\"\nnode = \"inner\"\nas = { touch = \"trim\", guard = \"cover\", guard_condition = \"suspect\" }",
		"do = \"change\"\npart = \"SL1\"\nas = { decks = [{ common = \"a\", throws = [\"\", \"b\"] }] }",
		"do = \"fit\"\npart = \"T1\"\nas = { kind = \"transformer\", windings = { a = [\"line 1\", \"B-\"] } }",
		"do = \"replace\"\npart = \"C1\"\nas = { value = \"4.7 nF\", class = \"Y2\" }", "do = \"replace\"\npart = \"R1\"\nas = { kind = \"pot\", value = 1 meg }",
	} {
		f.Add(planFile(step), []byte(planSet))
	}
	f.Add(planFile("do = \"fit\"\npart = \"C9\"\nas = { kind = \"can\", sections = [\"40 uF\", \"20 uF\"], positive = [\"line 1\", \"h\"], negative = \"B-\" }"), []byte(planSet))
	for _, text := range []string{"", "plan = 1\nsteps = 2", "plan = 1\nsteps = [1, {}]", "steps = [[[[", "plan = \"\"\"\n\"\"\"\n[steps]\n", "[[steps]]\nas = 1e999\ndo = \"\u202e\""} {
		f.Add([]byte(text), []byte(planSet))
	}
	f.Fuzz(func(t *testing.T, text, base []byte) {
		setfile.ContentOf(text)
		plan, err := Parse("p", text)
		if err != nil {
			checkPlanProblems(t, err, text)
			if plan != nil {
				t.Fatal("a plan beside an error")
			}
			return
		}
		checkWritten(t, plan)
		if set, err := setfile.Load("set", bytes.NewReader(base)); err == nil {
			checkApplied(t, plan, set, text)
		}
	})
}

// checkWritten: a plan that is written is read back, and written the same.
func checkWritten(t *testing.T, plan *Plan) {
	var written, twice bytes.Buffer
	if err := plan.Write(&written); err != nil {
		return // a value that no plan has
	}
	again, err := Parse("p", written.Bytes())
	if err != nil {
		t.Fatalf("what was written is no plan: %v\n%s", err, &written)
	}
	if err := again.Write(&twice); err != nil || !bytes.Equal(written.Bytes(), twice.Bytes()) {
		t.Errorf("written twice it differs (%v):\n%s", err, cmp.Diff(written.String(), twice.String()))
	}
}

// checkApplied: a plan that is carried out leaves the set that it was given as it was, and makes stages that
// are sets or say why not, the last a set.
func checkApplied(t *testing.T, plan *Plan, set *netlist.Set, text []byte) {
	before := written(t, set.Document())
	stages, err := plan.Apply(set)
	if now := written(t, set.Document()); now != before {
		t.Errorf("the plan changed the set that it was given:\n%s", cmp.Diff(before, now))
	}
	after, allErr := plan.ApplyAll(set)
	if (err == nil) != (allErr == nil) {
		t.Errorf("by stages %v, at once %v", err, allErr)
	}
	if err != nil {
		checkPlanProblems(t, err, text)
		if stages != nil {
			t.Error("stages beside an error")
		}
		return
	}
	if last := stages[len(stages)-1].Document; after != nil && written(t, after.Document()) != written(t, last) {
		t.Errorf("at once it is another set:\n%s", cmp.Diff(written(t, last), written(t, after.Document())))
	}
	if len(stages) != len(plan.Steps)+1 || stages[len(stages)-1].Set == nil {
		t.Errorf("%d stages of %d steps, the last %v", len(stages), len(plan.Steps), stages[len(stages)-1].Set)
	}
	for _, s := range stages {
		if (s.Set == nil) != (len(s.Problems) > 0) {
			t.Errorf("stage %d is a set: %v, with problems %v", s.Step, s.Set != nil, s.Problems)
		}
		if s.Set == nil {
			continue
		}
		text := written(t, s.Document)
		if _, err := setfile.Load(s.Document.File, strings.NewReader(text)); err != nil {
			t.Fatalf("what was written is refused: %v\n%s", err, text)
		}
	}
}

// written is a document as a set file.
func written(t *testing.T, doc *netlist.Document) string {
	t.Helper()
	var b bytes.Buffer
	if err := setfile.Write(&b, doc); err != nil {
		t.Fatalf("write: %v", err)
	}
	return b.String()
}

func checkPlanProblems(t *testing.T, err error, text []byte) {
	t.Helper()
	var problems netlist.Problems
	if !errors.As(err, &problems) || len(problems) == 0 {
		t.Fatalf("error %v (%T)", err, err)
	}
	for _, p := range problems {
		if p.Pos.File == "p" {
			filetest.CheckPlace(t, p.Pos, text)
		}
		if p.Text == "" || strings.ContainsFunc(p.Text, func(r rune) bool { return r != '\n' && words.Invisible(r) }) {
			t.Errorf("%q has something invisible in it, or nothing", p.Text)
		}
	}
}
