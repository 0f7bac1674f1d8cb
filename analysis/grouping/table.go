package grouping

import (
	"cmp"
	"slices"

	"coldcheck/analysis"
)

// Table gathers the rows of a table of states, and groups those that read alike: at every touch point
// in the same band of the limits.
type Table struct {
	Circuit *analysis.Circuit
	Points  []int               // those that are looked at, by index in Circuit.Points
	Faults  [][]*analysis.Fault // every set of faults, in the order in which it came
	Space   *Space              // the settings of its rows
	Rows    int
	groups  map[string]*Group
	same    [][]int // by point: those before it that no row reads apart from it
}

// Group is states that read alike.
type Group struct {
	Classes []analysis.Class // by point
	Cleared bool
	Rows    int
	Least   []analysis.Reading // by point
	Most    []analysis.Reading
	Worst   Worst
	Sets    []FaultRows
}

// Worst is the worst reading of a group.
type Worst struct {
	Point   int // in Table.Points, -1 for none yet
	Reading analysis.Reading
	State   analysis.State
}

// FaultRows is one set of faults with the settings, by their numbers in the space, in which a group
// has it.
type FaultRows struct {
	Faults   int // in Table.Faults
	Settings []int
}

// New makes an empty table. points are those to look at, by their index in Circuit.Points.
func New(c *analysis.Circuit, points []int) *Table {
	t := &Table{Circuit: c, Points: points, Space: NewSpace(c), groups: map[string]*Group{}}
	for i := range points {
		same := make([]int, i)
		for j := range same {
			same[j] = j
		}
		t.same = append(t.same, same)
	}
	return t
}

// Add takes in a row. Rows of one set of faults come one after the other.
func (t *Table) Add(row analysis.Row) {
	t.Rows++
	if n := len(t.Faults); n == 0 || !slices.Equal(t.Faults[n-1], row.State.Faults) {
		t.Faults = append(t.Faults, slices.Clone(row.State.Faults))
	}
	g := t.group(row)
	g.Rows++
	set := len(t.Faults) - 1
	if n := len(g.Sets); n == 0 || g.Sets[n-1].Faults != set {
		g.Sets = append(g.Sets, FaultRows{Faults: set})
	}
	last := &g.Sets[len(g.Sets)-1]
	last.Settings = append(last.Settings, t.Space.Add(row.State))
	for i, k := range t.Points {
		r := row.Readings[k]
		if g.Rows == 1 || r.Severity() < g.Least[i].Severity() {
			g.Least[i] = r
		}
		if g.Rows == 1 || r.Severity() > g.Most[i].Severity() {
			g.Most[i] = r
		}
		if g.Worst.Point < 0 || cmp.Or(cmp.Compare(r.Class(), g.Worst.Reading.Class()), cmp.Compare(r.Severity(), 1.01*g.Worst.Reading.Severity())) > 0 {
			state := row.State
			state.Faults = t.Faults[set]
			g.Worst = Worst{i, r, state}
		}
		if !row.Cleared {
			t.same[i] = slices.DeleteFunc(t.same[i], func(j int) bool { return apart(r, row.Readings[t.Points[j]]) })
		}
	}
}

// apart reports whether two readings are not of one piece of metal.
func apart(a, b analysis.Reading) bool {
	far := func(x, y float64) bool { return max(x, y)-min(x, y) > 1e-3*max(x, y)+1e-6 }
	return far(a.VoltsOpen, b.VoltsOpen) || far(a.Milliamps, b.Milliamps) || far(a.VoltsDC, b.VoltsDC) || far(a.MilliampsDC, b.MilliampsDC)
}

func (t *Table) group(row analysis.Row) *Group {
	classes := make([]analysis.Class, len(t.Points))
	key := make([]byte, len(t.Points))
	for i, k := range t.Points {
		classes[i] = row.Readings[k].Class()
		key[i] = '0' + byte(classes[i])
	}
	if row.Cleared {
		key = []byte("cleared")
	}
	g := t.groups[string(key)]
	if g == nil {
		g = &Group{Classes: classes, Cleared: row.Cleared, Worst: Worst{Point: -1},
			Least: make([]analysis.Reading, len(t.Points)), Most: make([]analysis.Reading, len(t.Points))}
		t.groups[string(key)] = g
	}
	return g
}

// Groups gives the groups, live ones first, then those that need no fault, then by what the worst
// of them carries.
func (t *Table) Groups() []*Group {
	keys := make([]string, 0, len(t.groups))
	for key := range t.groups {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	var groups []*Group
	for _, key := range keys {
		groups = append(groups, t.groups[key])
	}
	slices.SortStableFunc(groups, func(a, b *Group) int {
		return cmp.Or(cmp.Compare(b.Class(), a.Class()), cmp.Compare(min(a.Sets[0].Faults, 1), min(b.Sets[0].Faults, 1)),
			cmp.Compare(b.Worst.Reading.Severity(), a.Worst.Reading.Severity()))
	})
	return groups
}

// Class is the worst class of a group; a cleared one has none.
func (g *Group) Class() analysis.Class {
	if g.Cleared {
		return analysis.UnderLimit
	}
	return slices.Max(g.Classes)
}

// Classes gives the points, by their place in Points, those of one reading throughout told
// together.
func (t *Table) Classes() [][]int {
	var classes [][]int
	first := map[int]int{} // of a point, the class that it is the first of
	for i := range t.Points {
		home := slices.IndexFunc(t.same[i], func(j int) bool { _, leads := first[j]; return leads })
		if home < 0 {
			first[i] = len(classes)
			classes = append(classes, []int{i})
			continue
		}
		class := first[t.same[i][home]]
		classes[class] = append(classes[class], i)
	}
	return classes
}
