package examples

import (
	"os"
	"slices"
	"strings"
	"testing"

	"coldcheck/netlist/internal/filetest"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
)

func TestExamplesLoadWithoutNotices(t *testing.T) {
	all := Sets()
	if len(all) != len(filetest.Fixtures(t, "*.toml")) {
		t.Errorf("%d examples, but another number of files", len(all))
	}
	if !slices.IsSortedFunc(all, func(a, b Example) int { return strings.Compare(a.Name, b.Name) }) {
		t.Error("the examples are not sorted")
	}
	for _, e := range all {
		t.Run(e.Name, func(t *testing.T) {
			set, err := setfile.Load(e.Name, strings.NewReader(e.Text))
			if err != nil {
				t.Fatal(err)
			}
			for _, n := range set.Notices {
				t.Errorf("%s: %s", n.Pos, n.Text)
			}
			if e.Title == "" || e.Title != set.Name {
				t.Errorf("the title is %q, the set's name %q", e.Title, set.Name)
			}
			data, err := os.ReadFile(e.Name + ".toml")
			if err != nil || string(data) != e.Text {
				t.Errorf("the text is not the file's (%v)", err)
			}
			if found, ok := FindSet(e.Name + ".toml"); !ok || found != e {
				t.Errorf("FindSet does not find it")
			}
		})
	}
	if _, ok := FindSet("none"); ok {
		t.Error("FindSet finds what is not there")
	}
}

// TestExamplePlansFit carries every example plan out on the example that it is named after.
func TestExamplePlansFit(t *testing.T) {
	if len(Plans()) < 5 {
		t.Fatalf("%d example plans", len(Plans()))
	}
	for _, e := range Plans() {
		example, ok := FindSet(strings.TrimSuffix(e.Name, PlanSuffix))
		if !ok {
			t.Errorf("%s is for no example", e.Name)
			continue
		}
		set, err := setfile.Load(example.Name, strings.NewReader(example.Text))
		if err != nil {
			t.Fatal(err)
		}
		plan, err := plan.Parse(e.Name, []byte(e.Text))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := plan.Apply(set); err != nil {
			t.Error(err)
		}
		if found, ok := FindPlan(e.Name + ".toml"); !ok || found != e {
			t.Errorf("FindPlan does not find %s", e.Name)
		}
		if e.Title == "" || e.Title != plan.Name {
			t.Errorf("the title is %q, the plan's name %q", e.Title, plan.Name)
		}
	}
}
