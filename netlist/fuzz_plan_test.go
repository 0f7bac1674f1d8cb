package netlist

import (
	"bytes"
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Whatever the plan and the set: no panic; on error nothing else, and every problem has words and a place in the
// file; a plan that is read is written and read back the same; one that fits makes a set that holds
// the format's laws.
func FuzzPlanOnSet(f *testing.F) {
	for _, p := range ExamplePlans() {
		set, ok := FindExample(strings.TrimSuffix(p.Name, PlanSuffix))
		if !ok {
			f.Fatalf("%s has no set", p.Name)
		}
		f.Add([]byte(p.Text), []byte(set.Text))
	}
	for _, step := range []string{
		"do = \"move\"\npart = \"V1\"\nfrom = \"B-\"\nto = \"h\"\nterminal = \"pin 2\"", "do = \"move\"\npart = \"SL1\"\nfrom = \"hi\"\nto = \"x\"", "do = \"remove\"\npart = \"C2\"",
		"do = \"mark\"\nnode = \"inner\"\nas = { touch = \"trim\", guard = \"cover\", guard_condition = \"suspect\" }",
		"do = \"change\"\npart = \"SL1\"\nas = { decks = [{ common = \"a\", throws = [\"\", \"b\"] }] }",
		"do = \"fit\"\npart = \"T1\"\nas = { kind = \"transformer\", windings = { a = [\"line 1\", \"B-\"] } }",
	} {
		f.Add(planFile(step), []byte(planSet))
	}
	for _, text := range []string{"", "plan = 1\nsteps = 2", "plan = 1\nsteps = [1, {}]", "steps = [[[[", "plan = \"\"\"\n\"\"\"\n[steps]\n", "[[steps]]\nas = 1e999\ndo = \"\u202e\""} {
		f.Add([]byte(text), []byte(planSet))
	}
	f.Fuzz(func(t *testing.T, text, base []byte) {
		ContentOf(text)
		plan, err := ParsePlan("p", text)
		if err != nil {
			checkPlanProblems(t, err, text)
			if plan != nil {
				t.Fatal("a plan beside an error")
			}
			return
		}
		var written bytes.Buffer
		if err := plan.Write(&written); err == nil {
			again, err := ParsePlan("p", written.Bytes())
			if err != nil {
				t.Fatalf("what was written is no plan: %v\n%s", err, &written)
			}
			var twice bytes.Buffer
			if err := again.Write(&twice); err != nil || !bytes.Equal(written.Bytes(), twice.Bytes()) {
				t.Errorf("written twice it differs (%v):\n%s", err, cmp.Diff(written.String(), twice.String()))
			}
		}
		set, err := Load("set", bytes.NewReader(base))
		if err != nil {
			return
		}
		var before, after bytes.Buffer
		if err := set.Document().Write(&before); err != nil {
			t.Fatal(err)
		}
		stages, err := plan.Apply(set)
		if err := set.Document().Write(&after); err != nil || !bytes.Equal(before.Bytes(), after.Bytes()) {
			t.Errorf("the plan changed the set that it was given (%v):\n%s", err, cmp.Diff(before.String(), after.String()))
		}
		if err != nil {
			checkPlanProblems(t, err, text)
			if stages != nil {
				t.Error("stages beside an error")
			}
			return
		}
		if len(stages) != len(plan.Steps)+1 || stages[len(stages)-1].Set == nil {
			t.Errorf("%d stages of %d steps, the last %v", len(stages), len(plan.Steps), stages[len(stages)-1].Set)
		}
		for _, s := range stages {
			if (s.Set == nil) != (len(s.Problems) > 0) {
				t.Errorf("stage %d is a set: %v, with problems %v", s.Step, s.Set != nil, s.Problems)
			}
			if s.Set != nil {
				writeAndRead(t, s.Document)
			}
		}
	})
}

func checkPlanProblems(t *testing.T, err error, text []byte) {
	t.Helper()
	var problems Problems
	if !errors.As(err, &problems) || len(problems) == 0 {
		t.Fatalf("error %v (%T)", err, err)
	}
	for _, p := range problems {
		if p.Pos.File == "p" {
			checkPlace(t, p.Pos, text)
		}
		if p.Text == "" || strings.ContainsFunc(p.Text, func(r rune) bool { return r != '\n' && invisible(r) }) {
			t.Errorf("%q has something invisible in it, or nothing", p.Text)
		}
	}
}

// Whatever the text: a value is refused, or within what its unit may be, and printed and read back
// it is the same to six digits. Colours, mains and percentages alike.
func FuzzValue(f *testing.F) {
	for _, text := range []string{"220k", "2.2 meg", "4k7", ".05 mfd", "250 mmf", "15 mA", "1e999", "-5", "0", "½ W", "1/2", "4n7F", "\u2126",
		"yellow violet yellow gold", "120 V 60 Hz", "40 uA at 10 V", "400 WVDC", "10 %", "nan", "0x1p-2", "1_000"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for unit, facts := range units {
			x, err := ParseValue(text, unit)
			if err != nil {
				if x != 0 || strings.ContainsFunc(err.Error(), invisible) {
					t.Errorf("%q in %s: %v beside %q", text, facts.plural, x, err)
				}
				continue
			}
			if !(x >= facts.min && x <= facts.max) {
				t.Errorf("%q in %s is %v", text, facts.plural, x)
			}
			printed := FormatValue(x, unit)
			if back, err := ParseValue(printed, unit); err != nil || math.Abs(back-x) > 1e-5*x {
				t.Errorf("%q in %s is %v, printed %q, read back %v, %v", text, facts.plural, x, printed, back, err)
			}
		}
		if volts, hertz, err := parseMains(text); err == nil && !(volts > 0 && volts <= maxMainsVolts && hertz > 0 && hertz <= maxMainsHertz) {
			t.Errorf("mains %q: %v V %v Hz", text, volts, hertz)
		}
		if ohms, tolerance, err := parseBands(text); err == nil && !(ohms > 0 && !math.IsInf(ohms, 0) && tolerance > 0 && tolerance <= 100) {
			t.Errorf("bands %q: %v ohms, %v %%", text, ohms, tolerance)
		}
	})
}

// TestFuzzSeedsOfPlans keeps the seeds honest: the example plans fit their sets.
func TestFuzzSeedsOfPlans(t *testing.T) {
	for _, p := range ExamplePlans() {
		data, err := os.ReadFile("examples/" + strings.TrimSuffix(p.Name, PlanSuffix) + ".toml")
		if err != nil {
			t.Fatal(err)
		}
		set, err := Load("set", bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		plan, err := ParsePlan("p", []byte(p.Text))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := plan.Apply(set); err != nil {
			t.Errorf("%s: %v", p.Name, err)
		}
	}
}
