package propose

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/settest"
	"coldcheck/rules"
	"coldcheck/rules/rework/internal/examine"
	"coldcheck/rules/rework/internal/reworktest"
)

// checkRemedies carries the plan of every remedy out once more, from its text, and looks at the set that
// comes of it by the law: the finding is gone, nothing of WARNING or more is new, and no point or pair of
// points has less depth or more current. It counts remedies by rule.
func checkRemedies(t settest.TB, name string, set *netlist.Set, held, not map[string]int) {
	t.Helper()
	look := func(set *netlist.Set) *rules.Report {
		return rules.Check(analysistest.New(t, set, analysis.Bench{}), analysis.Options{Faults: analysis.DefaultFaults})
	}
	before := look(set)
	TryRemedies(before)
	afters := map[string]*rules.Report{}
	for _, f := range before.Findings {
		switch {
		case f.Signal < rules.Warning && (f.Tried || f.RemedyPlan != ""):
			t.Fatalf("%s: a %s was tried", name, f.Signal)
		case f.Signal < rules.Warning:
			continue
		case f.RemedyPlan == "":
			not[f.Rule.Name]++
			continue
		}
		held[f.Rule.Name]++
		_, body, _ := strings.Cut(f.RemedyPlan, "\n") // past the title, which names the rule
		after := afters[body]
		if after == nil {
			p, err := plan.Parse("remedy.toml", []byte(f.RemedyPlan))
			if err != nil {
				t.Fatalf("%s: %v\n%s", name, err, f.RemedyPlan)
			}
			changed, err := p.ApplyAll(set)
			if err != nil {
				t.Fatalf("%s: %v\n%s", name, err, f.RemedyPlan)
			}
			after = look(changed)
			afters[body] = after
		}
		checkOutcome(t, name, &f, before, after)
	}
}

func checkOutcome(t settest.TB, name string, f *rules.Finding, before, after *rules.Report) {
	t.Helper()
	was := map[string]bool{}
	for _, g := range before.Findings {
		was[g.Rule.Name+g.Node()] = was[g.Rule.Name+g.Node()] || g.Signal >= rules.Warning
	}
	for _, g := range after.Findings {
		if g.Rule == f.Rule && slices.Equal(g.Nodes, f.Nodes) && slices.Equal(g.Parts, f.Parts) {
			t.Fatalf("%s: %s is still there after\n%s", name, f.Message, f.RemedyPlan)
		}
		if g.Signal >= rules.Warning && !was[g.Rule.Name+g.Node()] {
			t.Fatalf("%s: the remedy of %q brings %s: %s\n%s", name, f.Message, g.Signal, g.Message, f.RemedyPlan)
		}
	}
	compare := func(what string, was, is int, before, after *analysis.Worst) {
		if depthOf(is) < depthOf(was) {
			t.Fatalf("%s: the remedy of %q takes %s from depth %d to %d\n%s", name, f.Message, what, was, is, f.RemedyPlan)
		}
		if before != nil && after != nil && after.Milliamps > before.Milliamps+max(0.02, 0.02*before.Milliamps)+1e-9 {
			t.Fatalf("%s: the remedy of %q takes %s from %g to %g mA\n%s", name, f.Message, what, before.Milliamps, after.Milliamps, f.RemedyPlan)
		}
	}
	for _, p := range before.Case.Result.Points {
		if q := after.Case.Result.Point(p.Name); q != nil {
			compare(p.Name, p.Depth, q.Depth, p.Normal, q.Normal)
		}
	}
	for _, p := range before.Case.Result.Between {
		for _, q := range after.Case.Result.Between {
			if p.A.Name == q.A.Name && p.B.Name == q.B.Name {
				compare(p.A.Name+" and "+p.B.Name, p.Depth, q.Depth, p.Normal, q.Normal)
			}
		}
	}
}

func depthOf(depth int) int {
	if depth == analysis.None {
		return 99
	}
	return depth
}

// TestRemediesOfExamplesHold: every remedy that a report tells for an example does what it says.
func TestRemediesOfExamplesHold(t *testing.T) {
	held, not := map[string]int{}, map[string]int{}
	for _, e := range examples.Sets() {
		checkRemedies(t, e.Name, reworktest.Load(t, e.Text), held, not)
	}
	t.Log("held", held, "not", not)
	if held["one-capacitor"] == 0 || held["one-insulation"] == 0 || held["hot-chassis"] == 0 {
		t.Errorf("no remedy holds for a whole rule: held %v, not %v", held, not)
	}
}

// TestRemediesOfRandomSetsHold: likewise on random sets.
func TestRemediesOfRandomSetsHold(t *testing.T) {
	held, not := map[string]int{}, map[string]int{}
	settest.Check(t, 40, func(t *rapid.T) {
		text := settest.Draw(t, settest.Limits{Parts: [2]int{6, 14}, Switches: 1, Controls: 1, Sections: 1}).Text()
		checkRemedies(t, text, settest.Load(t, text), held, not)
	})
	t.Log("held", held, "not", not)
}

// TestWhatOneFailureShowsIsNotSoughtAgain: of what a remedy does, a look further in at those points and pairs alone
// that can have come nearer says the same as one at all of them.
func TestWhatOneFailureShowsIsNotSoughtAgain(t *testing.T) {
	nearerFound, nothingSought, tried := 0, 0, 0
	for _, name := range []string{"european-dropper", "hot-chassis"} {
		e, ok := examples.FindSet(name)
		if !ok {
			t.Fatalf("no example %s", name)
		}
		set := settest.Load(t, e.Text)
		report := examine.Report(set, analysis.DefaultFaults)
		x := newTrials(report)
		before := report.Case.Result
		seen := map[string]bool{}
		for _, one := range x.all {
			for _, r := range one.remedies[:min(len(one.remedies), 4)] {
				if seen[r.key] {
					continue
				}
				seen[r.key] = true
				o := x.carry(report, []*remedy{r})
				if o.misfit || nearer(before, o.after.Case.Result) {
					continue
				}
				tried++
				sought := further(before, o.after.Case.Result)
				some := examine.Result(o.set, analysis.DefaultFaults, sought)
				got, want := nearer(before, some), nearer(before, examine.Circuit(o.set).Examine(analysis.Options{Faults: analysis.DefaultFaults}))
				if got != want {
					t.Errorf("%s, %s: nearer %v, of all points and pairs %v", e.Name, r.key, got, want)
				}
				if want {
					nearerFound++
				}
				if len(some.Points)+len(some.Between) == 0 {
					nothingSought++
				}
			}
		}
	}
	t.Logf("%d remedies, %d of them bring metal nearer, for %d nothing is sought", tried, nearerFound, nothingSought)
	if tried < 15 || nearerFound == 0 || nothingSought == 0 {
		t.Errorf("%d remedies, %d of them bring metal nearer, for %d nothing is sought", tried, nearerFound, nothingSought)
	}
}
