package rework

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/setfile"
	"coldcheck/rules"
)

// switchedLoads is a set of n switches with a load behind each: 2 to the power of n positions.
func switchedLoads(n int) string {
	var b strings.Builder
	b.WriteString("[set]\nname = \"Switches\"\n[nodes]\nchassis = { touch = \"chassis\" }\n[parts]\n" +
		"PL1 = { kind = \"plug\", hot = \"L\", neutral = \"N\" }\n" +
		"C1 = { kind = \"capacitor\", ends = [\"N\", \"chassis\"], value = \"0.1 uF\", type = \"paper\" }\n")
	for i := range n {
		fmt.Fprintf(&b, "S%d = { kind = \"switch\", ends = [\"L\", \"s%d\"] }\nQ%d = { kind = \"resistor\", ends = [\"s%d\", \"N\"], value = 1000 }\n", i, i, i, i)
	}
	return b.String()
}

// rectifiers is a set of n rectifiers that all charge the chassis.
func rectifiers(n int) string {
	var b strings.Builder
	b.WriteString("[set]\nname = \"Rectifiers\"\n[nodes]\nchassis = { touch = \"chassis\" }\n[parts]\nPL1 = { kind = \"plug\", hot = \"L\", neutral = \"N\" }\n")
	for i := range n {
		fmt.Fprintf(&b, "D%d = { kind = \"rectifier\", anode = \"L\", cathode = \"d%d\", type = \"silicon\" }\n", i, i)
		fmt.Fprintf(&b, "E%d = { kind = \"capacitor\", ends = [\"d%d\", \"N\"], value = \"10 uF\", type = \"electrolytic\" }\n", i, i)
		fmt.Fprintf(&b, "R%d = { kind = \"resistor\", ends = [\"d%d\", \"chassis\"], value = \"22k\" }\n", i, i)
	}
	return b.String()
}

// TestUnlooked: of a set with many switch positions only the first stages on the way are looked at. What
// the plan cures is told all the same, by the steps that may have done it.
func TestUnlooked(t *testing.T) {
	const steps = 8
	text := "[[steps]]\ndo = \"mark\"\nnode = \"chassis\"\nas = { guard = \"cabinet\" }\n"
	for i := range steps - 2 {
		text += fmt.Sprintf("[[steps]]\ndo = \"fit\"\npart = \"X%d\"\nas = { kind = \"resistor\", ends = [\"L\", \"N\"], value = 1000 }\n", i)
	}
	text += "[[steps]]\ndo = \"replace\"\npart = \"C1\"\nas = { kind = \"capacitor\", ends = [\"N\", \"chassis\"], value = \"1 nF\", class = \"Y1\" }\n"

	c := run(t, switchedLoads(9), text)
	if c.Unlooked < 2 || c.Unlooked > steps-1 {
		t.Fatalf("not looked at from step %d on", c.Unlooked)
	}
	if len(c.Stages) != c.Unlooked-1 {
		t.Errorf("%d stages are told, and the first not looked at is that of step %d", len(c.Stages), c.Unlooked)
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
	if i := c.Cured[cured]; i.Step != steps || i.From != c.Unlooked {
		t.Errorf("cured by steps %d to %d, want %d to %d", i.From, i.Step, c.Unlooked, steps)
	}

	if c := run(t, switchedLoads(2), text); c.Unlooked != 0 || len(c.Stages) != steps-1 {
		t.Errorf("of a small set %d stages are told, and from step %d on none was looked at", len(c.Stages), c.Unlooked)
	}
}

// TestComparedAtOneFailure: what a plan makes of a large set is looked at for one failure, that of a
// small one for two. Findings of the large one are none the fewer.
func TestComparedAtOneFailure(t *testing.T) {
	if n := failuresFor(circuitOf(load(t, rectifiers(2)))); n != analysis.DefaultFaults {
		t.Errorf("a small set is looked at for %d failures", n)
	}
	set := load(t, rectifiers(50))
	found := Propose(set, DefaultCandidates, nil)
	if !found.Stopped || found.Unproved || len(found.Plans) == 0 {
		t.Fatalf("stopped %v, unproved %v, %d plans", found.Stopped, found.Unproved, len(found.Plans))
	}
	p := found.Plans[0]
	if n := p.Comparison.After.Case.Result.Options.Faults; n != searchFaults {
		t.Errorf("the outcome was looked at for %d failures", n)
	}
	after, err := p.Plan.ApplyAll(set)
	if err != nil {
		t.Fatal(err)
	}
	if one, two := namesOf(p.Comparison.After.Findings), namesOf(check(after, analysis.DefaultFaults).Findings); !slices.Equal(one, two) {
		t.Errorf("at one failure %q, at two %q", one, two)
	}
}

// TestSuspectsBesideAFailure: a look for one failure finds every WARNING that a look for two does, also
// where two suspect parts fail with the one.
func TestSuspectsBesideAFailure(t *testing.T) {
	const three = `[set]
name = "three in a row"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
M1 = { kind = "motor", ends = ["line 1", "line 2"], volts = 120, watts = 20 }
C1 = { kind = "capacitor", ends = ["line 1", "a"], value = "0.001 uF", rating = "400 V", type = "paper" }
C2 = { kind = "capacitor", ends = ["a", "b"], value = "0.001 uF", rating = "400 V", type = "paper" }
C3 = { kind = "capacitor", ends = ["b", "chassis"], value = "0.001 uF", rating = "400 V", type = "film" }
C4 = { kind = "capacitor", ends = ["chassis", "line 2"], value = "0.001 uF", rating = "400 V", class = "Y1" }
`
	texts := map[string]string{"three in a row": three}
	for _, e := range examples.Sets() {
		texts[e.Name] = e.Text
	}
	for name, text := range texts {
		set := load(t, text)
		warnings := func(failures int) []rules.Finding {
			return slices.DeleteFunc(check(set, failures).Findings, func(f rules.Finding) bool { return f.Signal < rules.Warning })
		}
		one, two := namesOf(warnings(searchFaults)), namesOf(warnings(analysis.DefaultFaults))
		if !slices.Equal(one, two) {
			t.Errorf("%s: at one failure %q, at two %q", name, one, two)
		}
		if name == "three in a row" && !slices.ContainsFunc(one, func(f string) bool { return strings.Contains(f, "one-capacitor") }) {
			t.Errorf("%s: %q has no failure that suspect parts let through", name, one)
		}
	}
}

func namesOf(findings []rules.Finding) []string {
	var names []string
	for _, f := range findings {
		names = append(names, fmt.Sprintf("%s %s %q %q", f.Signal, f.Rule.Name, f.Nodes, f.Parts))
	}
	return names
}

// TestAsItIs: what is open in a set, and what bears on it, is the same by its report at two failures as
// by one at a single failure.
func TestAsItIs(t *testing.T) {
	tell := func(c *candidate) []string {
		var lines []string
		for _, o := range c.open {
			lines = append(lines, namesOf([]rules.Finding{o.finding})[0]+": "+keyOf(o.edits))
		}
		return lines
	}
	open := 0
	for _, e := range examples.Sets() {
		set, err := setfile.Load(e.Name, strings.NewReader(e.Text))
		if err != nil {
			t.Fatal(err)
		}
		s := newSearch(set, DefaultCandidates)
		one, two := tell(s.examine(nil)), tell(s.asItIs(check(set, analysis.DefaultFaults)))
		if !slices.Equal(one, two) {
			t.Errorf("%s: at one failure %q, at two %q", e.Name, one, two)
		}
		open += len(one)
	}
	if open < 40 {
		t.Errorf("too easy: %d findings", open)
	}
}
