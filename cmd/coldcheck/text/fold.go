package text

import (
	"cmp"
	"slices"

	"coldcheck/analysis"
)

// Fold gathers the rows of a table of states and folds those together that read alike: at every
// touch point in the same band of the limits.
type Fold struct {
	circuit  *analysis.Circuit
	points   []int // by index in Circuit.Points
	settings []analysis.State
	ids      map[string]int // of settings, by settingKey
	groups   map[string]*alike
	faults   [][]*analysis.Fault // every set of faults, in the order in which it came
	same     [][]int             // by point: those before it that no row reads apart from it
	rows     int
	key      []byte // of the last setting, its room used again
	told     *space // of the settings when it was last asked for
}

// alike is states that read alike.
type alike struct {
	bands   []analysis.Class
	cleared bool
	rows    int
	least   []analysis.Reading // by point
	most    []analysis.Reading
	worst   worstRow
	sets    []faultRow
}

// worstRow is the worst reading of a group.
type worstRow struct {
	point   int // in Fold.points, -1 for none yet
	reading analysis.Reading
	state   analysis.State
}

// faultRow is one set of faults with the settings, by their ids, in which a group has it.
type faultRow struct {
	faults   int // in Fold.faults
	settings []int
}

// NewFold makes an empty fold. points are those to look at, by their index in Circuit.Points.
func NewFold(c *analysis.Circuit, points []int) *Fold {
	f := &Fold{circuit: c, points: points, ids: map[string]int{}, groups: map[string]*alike{}}
	for i := range points {
		same := make([]int, i)
		for j := range same {
			same[j] = j
		}
		f.same = append(f.same, same)
	}
	return f
}

// Add takes in a row. Rows of one set of faults come one after the other.
func (f *Fold) Add(row analysis.Row) {
	f.rows++
	if n := len(f.faults); n == 0 || !slices.Equal(f.faults[n-1], row.State.Faults) {
		f.faults = append(f.faults, slices.Clone(row.State.Faults))
	}
	g := f.group(row)
	g.rows++
	set := len(f.faults) - 1
	if n := len(g.sets); n == 0 || g.sets[n-1].faults != set {
		g.sets = append(g.sets, faultRow{faults: set})
	}
	last := &g.sets[len(g.sets)-1]
	last.settings = append(last.settings, f.setting(row.State))
	for i, k := range f.points {
		r := row.Readings[k]
		if g.rows == 1 || r.Severity() < g.least[i].Severity() {
			g.least[i] = r
		}
		if g.rows == 1 || r.Severity() > g.most[i].Severity() {
			g.most[i] = r
		}
		if g.worst.point < 0 || cmp.Or(cmp.Compare(r.Class(), g.worst.reading.Class()), cmp.Compare(r.Severity(), 1.01*g.worst.reading.Severity())) > 0 {
			state := row.State
			state.Faults = f.faults[set]
			g.worst = worstRow{i, r, state}
		}
		if !row.Cleared {
			f.same[i] = slices.DeleteFunc(f.same[i], func(j int) bool { return apart(r, row.Readings[f.points[j]]) })
		}
	}
}

// apart tells whether two readings are not of one piece of metal.
func apart(a, b analysis.Reading) bool {
	far := func(x, y float64) bool { return max(x, y)-min(x, y) > 1e-3*max(x, y)+1e-6 }
	return far(a.VoltsOpen, b.VoltsOpen) || far(a.Milliamps, b.Milliamps) || far(a.VoltsDC, b.VoltsDC) || far(a.MilliampsDC, b.MilliampsDC)
}

func (f *Fold) group(row analysis.Row) *alike {
	bands := make([]analysis.Class, len(f.points))
	key := make([]byte, len(f.points))
	for i, k := range f.points {
		bands[i] = row.Readings[k].Class()
		key[i] = '0' + byte(bands[i])
	}
	if row.Cleared {
		key = []byte("cleared")
	}
	g := f.groups[string(key)]
	if g == nil {
		g = &alike{bands: bands, cleared: row.Cleared, worst: worstRow{point: -1},
			least: make([]analysis.Reading, len(f.points)), most: make([]analysis.Reading, len(f.points))}
		f.groups[string(key)] = g
	}
	return g
}

// setting numbers what a state is apart from its faults.
func (f *Fold) setting(s analysis.State) int {
	f.key = appendSettingKey(f.key[:0], s)
	id, known := f.ids[string(f.key)]
	if !known {
		id = len(f.settings)
		f.ids[string(f.key)] = id
		f.settings = append(f.settings, analysis.State{Plug: s.Plug, Settings: s.Settings, Rectifier: s.Rectifier})
	}
	return id
}

func settingKey(s analysis.State) string { return string(appendSettingKey(nil, s)) }

func appendSettingKey(key []byte, s analysis.State) []byte {
	key = append(key, s.Plug...)
	for _, x := range s.Settings {
		key = append(key, 0)
		key = append(key, x.At...)
	}
	key = append(key, 0)
	return append(key, s.Rectifier...)
}

// sorted gives the groups, live ones first, then those that need no fault, then by what the worst
// of them carries.
func (f *Fold) sorted() []*alike {
	keys := make([]string, 0, len(f.groups))
	for key := range f.groups {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	var groups []*alike
	for _, key := range keys {
		groups = append(groups, f.groups[key])
	}
	slices.SortStableFunc(groups, func(a, b *alike) int {
		return cmp.Or(cmp.Compare(b.band(), a.band()), cmp.Compare(min(a.sets[0].faults, 1), min(b.sets[0].faults, 1)),
			cmp.Compare(b.worst.reading.Severity(), a.worst.reading.Severity()))
	})
	return groups
}

// band is the worst band of a group; a cleared one has none.
func (g *alike) band() analysis.Class {
	if g.cleared {
		return analysis.UnderLimit
	}
	return slices.Max(g.bands)
}

// classes gives the points, by their place in Fold.points, those of one reading throughout told
// together.
func (f *Fold) classes() [][]int {
	var classes [][]int
	first := map[int]int{} // of a point, the class that it is the first of
	for i := range f.points {
		home := slices.IndexFunc(f.same[i], func(j int) bool { _, leads := first[j]; return leads })
		if home < 0 {
			first[i] = len(classes)
			classes = append(classes, []int{i})
			continue
		}
		class := first[f.same[i][home]]
		classes[class] = append(classes[class], i)
	}
	return classes
}
