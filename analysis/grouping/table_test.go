package grouping

import (
	"slices"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
)

// TestTableLosesNothing: every row of the table is in one group, at the settings and the faults of
// the row, in the classes of the row.
func TestTableLosesNothing(t *testing.T) {
	c := analysistest.Of(t, analysistest.HeaterString)
	points := []int{0, 1}
	table := New(c, points)
	c.EachState(2, analysis.Filter{}, func(row analysis.Row) bool {
		table.Add(row)
		return true
	})
	in := 0
	for _, g := range table.Groups() {
		for _, set := range g.Sets {
			in += len(set.Settings)
		}
	}
	if in != table.Rows || in == 0 {
		t.Fatalf("groups hold %d rows of %d", in, table.Rows)
	}
	c.EachState(2, analysis.Filter{}, func(row analysis.Row) bool {
		homes := 0
		for _, g := range table.Groups() {
			for _, set := range g.Sets {
				if !slices.Equal(table.Faults[set.Faults], row.State.Faults) || !slices.Contains(set.Settings, table.Space.Add(row.State)) {
					continue
				}
				homes++
				if g.Cleared != row.Cleared {
					t.Errorf("%v: cleared %v, in a group of %v", row.State, row.Cleared, g.Cleared)
				}
				for i, k := range points {
					if !row.Cleared && g.Classes[i] != row.Readings[k].Class() {
						t.Errorf("%v: class %d in a group of class %d", row.State, row.Readings[k].Class(), g.Classes[i])
					}
				}
			}
		}
		if homes != 1 {
			t.Errorf("%v: in %d groups, want 1", row.State, homes)
		}
		return !t.Failed()
	})
}

// TestOrder: live groups come first, and of those the ones that need no fault.
func TestOrder(t *testing.T) {
	c := analysistest.Of(t, analysistest.HeaterString)
	table := New(c, []int{0, 1})
	c.EachState(2, analysis.Filter{}, func(row analysis.Row) bool {
		table.Add(row)
		return true
	})
	groups := table.Groups()
	if len(groups) < 3 {
		t.Fatalf("%d groups, want 3 at least", len(groups))
	}
	for i := 1; i < len(groups); i++ {
		if groups[i].Class() > groups[i-1].Class() {
			t.Errorf("group %d of band %d comes after band %d", i, groups[i].Class(), groups[i-1].Class())
		}
	}
	if first := groups[0]; first.Class() != analysis.Live || first.Sets[0].Faults != 0 {
		t.Errorf("the first group is of band %d and begins with fault set %d, want a live one without fault", first.Class(), first.Sets[0].Faults)
	}
}

// TestClasses: points that read alike in every state are told together, others apart.
func TestClasses(t *testing.T) {
	c := analysistest.Of(t, `
[set]
name = "Two metals"
[nodes]
chassis = { touch = "chassis" }
screws = { touch = "fastener" }
clip = { touch = "antenna" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
R1 = { kind = "resistor", ends = ["line 1", "chassis"], value = "1 meg" }
W1 = { kind = "wire", ends = ["chassis", "screws"] }
R2 = { kind = "resistor", ends = ["line 2", "clip"], value = "1 meg" }
`)
	table := New(c, []int{0, 1, 2})
	c.EachState(0, analysis.Filter{}, func(row analysis.Row) bool {
		table.Add(row)
		return true
	})
	got := table.Classes()
	if len(got) != 2 || !slices.Equal(got[0], []int{0, 1}) || !slices.Equal(got[1], []int{2}) {
		t.Errorf("classes = %v, want [[0 1] [2]]", got)
	}
}
