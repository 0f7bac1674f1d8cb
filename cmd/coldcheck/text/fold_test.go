package text

import (
	"slices"
	"testing"

	"coldcheck/analysis"
)

// TestFoldLosesNothing: every row of the table is in one group, at the settings and the faults of
// the row, in the bands of the row.
func TestFoldLosesNothing(t *testing.T) {
	c := circuitOf(t, stringSet)
	points := []int{0, 1}
	f := NewFold(c, points)
	c.EachState(2, analysis.Filter{}, func(row analysis.Row) bool {
		f.Add(row)
		return true
	})
	in := 0
	for _, g := range f.sorted() {
		for _, set := range g.sets {
			in += len(set.settings)
		}
	}
	if in != f.rows || in == 0 {
		t.Fatalf("groups hold %d rows of %d", in, f.rows)
	}
	c.EachState(2, analysis.Filter{}, func(row analysis.Row) bool {
		homes := 0
		for _, g := range f.sorted() {
			for _, set := range g.sets {
				if !slices.Equal(f.faults[set.faults], row.State.Faults) || !slices.Contains(set.settings, f.ids[settingKey(row.State)]) {
					continue
				}
				homes++
				if g.cleared != row.Cleared {
					t.Errorf("%s: cleared %v, in a group of %v", stateWords(row.State), row.Cleared, g.cleared)
				}
				for i, k := range points {
					if !row.Cleared && g.bands[i] != row.Readings[k].Class() {
						t.Errorf("%s: band %d in a group of band %d", stateWords(row.State), row.Readings[k].Class(), g.bands[i])
					}
				}
			}
		}
		if homes != 1 {
			t.Errorf("%s: in %d groups, want 1", stateWords(row.State), homes)
		}
		return !t.Failed()
	})
}

// TestFoldOrder: live groups come first, and of those the ones that need no fault.
func TestFoldOrder(t *testing.T) {
	c := circuitOf(t, stringSet)
	f := NewFold(c, []int{0, 1})
	c.EachState(2, analysis.Filter{}, func(row analysis.Row) bool {
		f.Add(row)
		return true
	})
	groups := f.sorted()
	if len(groups) < 3 {
		t.Fatalf("%d groups, want 3 at least", len(groups))
	}
	for i := 1; i < len(groups); i++ {
		if groups[i].band() > groups[i-1].band() {
			t.Errorf("group %d of band %d comes after band %d", i, groups[i].band(), groups[i-1].band())
		}
	}
	if first := groups[0]; first.band() != analysis.Live || first.sets[0].faults != 0 {
		t.Errorf("the first group is of band %d and begins with fault set %d, want a live one without fault", first.band(), first.sets[0].faults)
	}
}

// TestClasses: points that read alike in every state are told together, others apart.
func TestClasses(t *testing.T) {
	c := circuitOf(t, `
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
	f := NewFold(c, []int{0, 1, 2})
	c.EachState(0, analysis.Filter{}, func(row analysis.Row) bool {
		f.Add(row)
		return true
	})
	got := f.classes()
	if len(got) != 2 || !slices.Equal(got[0], []int{0, 1}) || !slices.Equal(got[1], []int{2}) {
		t.Errorf("classes = %v, want [[0 1] [2]]", got)
	}
}
