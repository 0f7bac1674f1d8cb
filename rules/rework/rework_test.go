package rework

import (
	"slices"
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/rules"
	"coldcheck/rules/rework/internal/examine"
	"coldcheck/rules/rework/internal/reworktest"
)

func run(t testing.TB, set, steps string) *Comparison {
	t.Helper()
	c, _, err := Run(reworktest.Load(t, set), reworktest.Plan(t, "plan = \"try\"\n"+steps))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func find(items []Item, rule string) *Item {
	i := slices.IndexFunc(items, func(i Item) bool { return i.Rule.Name == rule })
	if i < 0 {
		return nil
	}
	return &items[i]
}

const safer = `[[steps]]
do = "replace"
part = "C1"
as = { kind = "capacitor", ends = ["B-", "chassis"], value = "4.7 nF", rating = "250 V AC", class = "CLASS", type = "ceramic" }
`

// TestCuredAndLeft replaces the capacitor by class Y2: the current is cured, the one layer is left.
// By class Y1 both are cured.
func TestCuredAndLeft(t *testing.T) {
	c := run(t, reworktest.Floating, strings.ReplaceAll(safer, "CLASS", "Y2"))
	if i := find(c.Cured, "touch-current"); i == nil || i.Step != 1 || i.From != 1 {
		t.Errorf("touch-current cured: %+v", i)
	}
	if i := find(c.Left, "one-capacitor"); i == nil || i.Signal != rules.Warning {
		t.Errorf("one-capacitor left: %+v", i)
	}
	if worst, _ := c.Worst(); worst != rules.Warning {
		t.Errorf("worst is %s", worst)
	}
	c = run(t, reworktest.Floating, strings.ReplaceAll(safer, "CLASS", "Y1"))
	if i := find(c.Cured, "one-capacitor"); i == nil || i.Step != 1 {
		t.Errorf("one-capacitor cured: %+v", i)
	}
	if worst, any := c.Worst(); any && worst >= rules.Warning {
		t.Errorf("worst is %s", worst)
	}
	p := c.Points[0]
	if p.Before.Depth != 1 || p.After.Depth != 2 || p.Before.Normal.Milliamps < 4 || p.After.Normal.Milliamps > 0.5 {
		t.Errorf("chassis: before %+v, after %+v", p.Before, p.After)
	}
}

// TestNew straps B-minus to the chassis and says which step did it.
func TestNew(t *testing.T) {
	c := run(t, reworktest.Floating, strings.ReplaceAll(safer, "CLASS", "Y1")+`[[steps]]
do = "fit"
part = "W1"
as = { kind = "wire", ends = ["B-", "chassis"] }
`)
	i := find(c.New, "polarity-only")
	if i == nil || i.Step != 2 || i.Signal != rules.Danger {
		t.Fatalf("new: %+v", c.New)
	}
	if find(c.Cured, "one-capacitor") == nil {
		t.Error("one-capacitor is not told as cured")
	}
}

// TestRenamedPartIsAnother fits the same capacitor under another name: its finding is another one.
func TestRenamedPartIsAnother(t *testing.T) {
	c := run(t, strings.ReplaceAll(reworktest.Floating, "0.1 uF", "4.7 nF"), `[[steps]]
do = "fit"
part = "C9"
as = { kind = "capacitor", ends = ["B-", "chassis"], value = "4.7 nF", rating = "600 V", type = "film" }
[[steps]]
do = "remove"
part = "C1"
`)
	if i := find(c.Cured, "one-capacitor"); i == nil || i.Parts[0] != "C1" || i.Step != 2 {
		t.Errorf("cured: %+v", i)
	}
	if i := find(c.New, "one-capacitor"); i == nil || i.Parts[0] != "C9" || i.Step != 1 {
		t.Errorf("new: %+v", i)
	}
}

// TestHazardOnTheWay straps the chassis to the line for one step.
func TestHazardOnTheWay(t *testing.T) {
	c := run(t, reworktest.Floating, `[[steps]]
do = "fit"
part = "W1"
as = { kind = "wire", ends = ["on", "chassis"] }
`+strings.ReplaceAll(safer, "CLASS", "Y1")+`[[steps]]
do = "remove"
part = "W1"
`)
	if len(c.Stages) != 2 || len(c.Stages[0].Passing) == 0 {
		t.Fatalf("stages: %+v", c.Stages)
	}
	for _, p := range c.Stages[0].Passing {
		if p.Until != 3 {
			t.Errorf("%s ends with step %d, want 3", p.Rule.Name, p.Until)
		}
	}
	if p := c.Stages[0].Passing[0]; p.Signal != rules.Danger {
		t.Errorf("on the way: %s %s", p.Signal, p.Message)
	}
	if len(c.Stages[1].Passing) != 0 {
		t.Error("a hazard that began a step before is told again")
	}
	if find(c.New, "hot-chassis") != nil {
		t.Error("a hazard of the way is told as new")
	}
}

// TestLiveUntilTheLastWay moves a hot chassis from one sort of live to another before it is cured:
// the step that exchanged the two is not told as the cure.
func TestLiveUntilTheLastWay(t *testing.T) {
	c := run(t, `[set]
name = "Hot"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
S1 = { kind = "switch", ends = ["line 2", "bus"] }
W1 = { kind = "wire", ends = ["bus", "chassis"] }
R1 = { kind = "resistor", ends = ["line 1", "bus"], value = 800 }
`, `[[steps]]
do = "replace"
part = "W1"
as = { kind = "resistor", ends = ["bus", "chassis"], value = 100 }
[[steps]]
do = "replace"
part = "W1"
as = { kind = "insulation", ends = ["bus", "chassis"], grade = "double" }
`)
	i := find(c.Cured, "hot-chassis")
	if i == nil || i.From != 1 || i.Step != 2 {
		t.Errorf("cured: %+v", i)
	}
}

// TestMaskedIsNotCured straps the chassis to the line first: of the capacitor nothing is told then,
// and the strap is not told as its cure.
func TestMaskedIsNotCured(t *testing.T) {
	c := run(t, reworktest.Floating, `[[steps]]
do = "fit"
part = "W1"
as = { kind = "wire", ends = ["on", "chassis"] }
`+strings.ReplaceAll(safer, "CLASS", "Y1")+`[[steps]]
do = "remove"
part = "W1"
`)
	for _, rule := range []string{"one-capacitor", "touch-current"} {
		if i := find(c.Cured, rule); i == nil || i.From != 1 || i.Step != 3 {
			t.Errorf("%s cured: %+v", rule, i)
		}
	}
}

// TestCordOffCuresNothing takes a lead off, moves the switch and puts the lead back: the first step is
// not told as the cure of what cannot be found while the lead is off.
func TestCordOffCuresNothing(t *testing.T) {
	c := run(t, strings.Replace(reworktest.Floating, `F1 = { kind = "fuse", ends = ["line 1", "fused"], amps = 0.5 }
S1 = { kind = "switch", ends = ["fused", "on"] }`, `W1 = { kind = "wire", ends = ["line 1", "on"] }
S1 = { kind = "switch", ends = ["on", "lamp"] }
R2 = { kind = "resistor", ends = ["lamp", "B-"], value = "5k" }`, 1), `[[steps]]
do = "move"
part = "PL1"
from = "line 1"
to = "cord"
[[steps]]
do = "move"
part = "S1"
from = "lamp"
to = "cord"
`)
	if i := find(c.Cured, "switch-after-load"); i == nil || i.From != 1 || i.Step != 2 {
		t.Errorf("cured: %+v", i)
	}
	if len(c.Stages) != 1 || !c.Stages[0].CordOff() {
		t.Error("the lead that is off is not told")
	}
}

// TestStepsTogether takes the plug away in between: of what three steps did no one step is named.
func TestStepsTogether(t *testing.T) {
	c := run(t, reworktest.Floating, `[[steps]]
do = "remove"
part = "PL1"
`+strings.ReplaceAll(safer, "CLASS", "Y1")+`[[steps]]
do = "fit"
part = "PL1"
as = { kind = "plug", style = "polarized", hot = "line 1", neutral = "B-" }
`)
	i := find(c.Cured, "one-capacitor")
	if i == nil || i.From != 1 || i.Step != 3 {
		t.Errorf("cured: %+v", i)
	}
	if c.Stages[0].Report != nil || len(c.Stages[0].Why) == 0 {
		t.Error("a set without a plug is told as one")
	}
}

// TestCompareSets compares two whole sets, a point that is new among theirs.
func TestCompareSets(t *testing.T) {
	before := examine.Report(reworktest.Load(t, reworktest.Floating), analysis.DefaultFaults)
	after := examine.Report(reworktest.Load(t, strings.Replace(reworktest.Floating, "[parts]", "on = { touch = \"fastener\" }\n[parts]", 1)), analysis.DefaultFaults)
	c := Compare(before, after)
	if i := find(c.New, "hot-chassis"); i == nil || i.Step != 0 {
		t.Errorf("new: %+v", c.New)
	}
	if len(c.Points) != 2 || c.Points[1].Before != nil || c.Points[1].After == nil {
		t.Errorf("points: %+v", c.Points)
	}
	if len(c.Cured) != 0 {
		t.Errorf("cured: %+v", c.Cured)
	}
}

// TestSameSetCuresNothing compares a set with itself.
func TestSameSetCuresNothing(t *testing.T) {
	r := examine.Report(reworktest.Load(t, reworktest.Floating), analysis.DefaultFaults)
	c := Compare(r, r)
	if len(c.Cured) != 0 || len(c.New) != 0 || len(c.Left) != len(r.Findings) || len(c.Left) == 0 {
		t.Errorf("cured %d, new %d, left %d of %d", len(c.Cured), len(c.New), len(c.Left), len(r.Findings))
	}
}

// TestOffTheLineCuresNothing ends with the set off the line, by a lead of the cord and by the way to
// all that draws current: what is told no more is left, not cured.
func TestOffTheLineCuresNothing(t *testing.T) {
	for _, steps := range []string{
		"[[steps]]\ndo = \"change\"\npart = \"PL1\"\nas = { hot = \"aside\", neutral = \"beside\" }\n",
		"[[steps]]\ndo = \"move\"\npart = \"PL1\"\nfrom = \"B-\"\nto = \"aside\"\n",
		"[[steps]]\ndo = \"fit\"\npart = \"C9\"\nas = { kind = \"capacitor\", ends = [\"line 1\", \"filter\"], value = \"10 nF\", class = \"X2\" }\n" +
			"[[steps]]\ndo = \"remove\"\npart = \"F1\"\n[[steps]]\ndo = \"change\"\npart = \"R1\"\nas = { watts = 30 }\n",
	} {
		c := run(t, reworktest.Floating, steps)
		if !c.CutOff() || len(c.Cured) != 0 {
			t.Errorf("cut off %v, cured: %+v", c.CutOff(), c.Cured)
		}
		for _, rule := range []string{"touch-current", "one-capacitor"} {
			i := find(c.Left, rule)
			if i == nil || i.Signal != rules.Warning || i.Unseen != strings.Contains(i.Message, "not cured") {
				t.Errorf("%s left: %+v", rule, i)
			}
		}
		if worst, _ := c.Worst(); worst < rules.Warning {
			t.Errorf("the worst is told as %s", worst)
		}
		for _, s := range c.Stages[max(0, len(c.Stages)-1):] {
			if !s.CordOff() {
				t.Errorf("after step %d the set is not told to be off the line", s.Step)
			}
		}
	}
	if c := run(t, reworktest.Floating, strings.ReplaceAll(safer, "CLASS", "Y1")); c.CutOff() {
		t.Error("a capacitor renewed is told as the set cut off")
	}
}
