package rework

import (
	"fmt"
	"slices"
	"testing"

	"coldcheck/netlist/settest"
	"coldcheck/rules/rework/internal/reworktest"
)

// TestUnlooked: of a set with many switch positions only the first stages on the way are looked at. What
// the plan cures is told all the same, by the steps that may have done it.
func TestUnlooked(t *testing.T) {
	const steps = 8
	text := "[[steps]]\ndo = \"mark\"\nnode = \"chassis\"\nas = { guard = \"cabinet\" }\n"
	for i := range steps - 2 {
		text += fmt.Sprintf("[[steps]]\ndo = \"fit\"\npart = \"X%d\"\nas = { kind = \"resistor\", ends = [\"L\", \"N\"], value = 1000 }\n", i)
	}
	text += "[[steps]]\ndo = \"replace\"\npart = \"C1\"\nas = { kind = \"capacitor\", ends = [\"N\", \"chassis\"], value = \"1 nF\", class = \"Y1\" }\n"

	c := run(t, reworktest.SwitchedLoads(9), text)
	if c.Unexamined < 2 || c.Unexamined > steps-1 {
		t.Fatalf("not looked at from step %d on", c.Unexamined)
	}
	if len(c.Stages) != c.Unexamined-1 {
		t.Errorf("%d stages are told, and the first not looked at is that of step %d", len(c.Stages), c.Unexamined)
	}
	for i, s := range c.Stages {
		if s.Step != i+1 || s.Report == nil {
			t.Errorf("stage %d is of step %d, with a report: %v", i, s.Step, s.Report != nil)
		}
	}
	cured := slices.IndexFunc(c.Cured, func(i Item) bool { return i.Rule.Name == "one-capacitor" })
	if cured < 0 {
		t.Fatalf("the capacitor is not told as cured: %+v", c.Cured)
	}
	if i := c.Cured[cured]; i.Step != steps || i.From != c.Unexamined {
		t.Errorf("cured by steps %d to %d, want %d to %d", i.From, i.Step, c.Unexamined, steps)
	}

	if c := run(t, reworktest.SwitchedLoads(2), text); c.Unexamined != 0 || len(c.Stages) != steps-1 {
		t.Errorf("of a small set %d stages are told, and from step %d on none was looked at", len(c.Stages), c.Unexamined)
	}
}

// TestBladeThatLeadsNowhere: the plug's own end on a blade is no way on.
func TestBladeThatLeadsNowhere(t *testing.T) {
	for parts, want := range map[string]bool{
		`R1 = { kind = "resistor", ends = ["L", "N"], value = "1k" }`:                                                                      false,
		`R1 = { kind = "resistor", ends = ["L", "chassis"], value = "1k" }`:                                                                true,
		`R1 = { kind = "resistor", ends = ["chassis", "a"], value = "1k" }`:                                                                true,
		`R1 = { kind = "resistor", ends = ["chassis", "L"], value = "1k" }` + "\n" + `F1 = { kind = "fuse", ends = ["N", "a"], amps = 1 }`: false,
	} {
		if got := cordOff(settest.Load(t, settest.With("C9 = { kind = \"capacitor\", ends = [\"chassis\", \"b\"], value = \"1 nF\" }\n"+parts, "chassis"))); got != want {
			t.Errorf("%s: %v", parts, got)
		}
	}
}
