package text

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// space is all the settings in which the states of a table stand: plug ways, switch positions,
// rectifiers.
type space struct {
	settings []analysis.State
	axes     []axis
	looks    int // how often values of some settings were marked
}

// axis is one thing that can stand in several ways. Its values go by number: there may be a thousand
// positions, and each is compared often.
type axis struct {
	all   []string // in the order in which they came
	at    []int    // by setting, in all
	seen  []int    // by value, the last of space.looks that met it
	words func(at []string) string
}

func (f *Fold) space() *space {
	if f.told == nil || len(f.told.settings) < len(f.settings) {
		f.told = newSpace(f.circuit, f.settings)
	}
	return f.told
}

func newSpace(c *analysis.Circuit, settings []analysis.State) *space {
	s := &space{settings: settings}
	s.add(func(x analysis.State) string { return string(x.Plug) }, func(at []string) string { return "plug " + plugWay(at[0]) })
	for i, control := range c.Switches {
		s.add(func(x analysis.State) string { return x.Settings[i].At }, func(at []string) string { return positionWords(control, at) })
	}
	s.add(func(x analysis.State) string { return x.Rectifier }, rectifierWords)
	return s
}

func (s *space) add(at func(analysis.State) string, words func([]string) string) {
	a := axis{words: words}
	numbers := map[string]int{}
	for _, x := range s.settings {
		n, known := numbers[at(x)]
		if !known {
			n = len(a.all)
			numbers[at(x)] = n
			a.all = append(a.all, at(x))
		}
		a.at = append(a.at, n)
	}
	a.seen = make([]int, len(a.all))
	s.axes = append(s.axes, a)
}

func plugWay(way string) string {
	if way == string(analysis.Reversed) {
		return way
	}
	return "as marked"
}

func positionWords(control analysis.Switch, at []string) string {
	if slices.Contains(control.Positions, "on") && slices.Contains(control.Positions, "off") {
		return control.Name + " " + at[0]
	}
	return control.Name + " at " + Or(VisibleAll(at))
}

func rectifierWords(at []string) string {
	if slices.Equal(at, []string{""}) {
		return "no rectifier conducting"
	}
	named := slices.DeleteFunc(slices.Clone(at), func(s string) bool { return s == "" })
	if len(named) < len(at) {
		return "no rectifier or " + Or(named) + " conducting"
	}
	return Or(named) + " conducting"
}

// describe tells a set of settings, by their ids, in as few phrases as the axes allow: "plug
// reversed, S1 on". lacks tells rectifiers that cannot conduct in these states, and need no word.
func (s *space) describe(ids []int, lacks func(string) bool) []string {
	if s.whole(ids) {
		return []string{s.phrase(ids, lacks)}
	}
	var phrases []string
	for _, part := range s.split(ids) {
		phrases = append(phrases, s.describe(part, lacks)...)
	}
	return phrases
}

// split parts settings along the axis that leaves the most of them told in one phrase each.
func (s *space) split(ids []int) [][]int {
	var best [][]int
	most := -1
	for i := range s.axes {
		parts := s.axes[i].parts(ids)
		if len(parts) < 2 {
			continue
		}
		told := 0
		for _, part := range parts {
			if s.whole(part) {
				told += len(part)
			}
		}
		if told > most {
			best, most = parts, told
		}
	}
	return best
}

// parts are the settings of each value, in the order of the values.
func (a *axis) parts(ids []int) [][]int {
	ends := make([]int, len(a.all)) // of each value's part, its beginning until it is filled
	for _, id := range ids {
		ends[a.at[id]]++
	}
	begin := 0
	for n, size := range ends {
		ends[n] = begin
		begin += size
	}
	sorted := make([]int, len(ids))
	for _, id := range ids {
		n := a.at[id]
		sorted[ends[n]] = id
		ends[n]++
	}
	var parts [][]int
	begin = 0
	for _, end := range ends {
		if end > begin {
			parts = append(parts, sorted[begin:end:end])
			begin = end
		}
	}
	return parts
}

// mark marks the values that settings have on an axis, and counts them.
func (s *space) mark(a *axis, ids []int) int {
	s.looks++
	n := 0
	for _, id := range ids {
		if at := a.at[id]; a.seen[at] != s.looks {
			a.seen[at] = s.looks
			n++
		}
	}
	return n
}

// whole tells whether settings are all the combinations of the values that they have on each axis.
func (s *space) whole(ids []int) bool {
	n := 1
	for i := range s.axes {
		if n *= s.mark(&s.axes[i], ids); n > len(ids) {
			return false
		}
	}
	return n == len(ids)
}

// phrase tells settings that are whole: the values on each axis that has others too.
func (s *space) phrase(ids []int, lacks func(string) bool) string {
	var words []string
	for i := range s.axes {
		a := &s.axes[i]
		s.mark(a, ids)
		var values []string
		missing := false
		for n, at := range a.all {
			if a.seen[n] == s.looks {
				values = append(values, at)
			} else if i < len(s.axes)-1 || !lacks(at) {
				missing = true
			}
		}
		if missing {
			words = append(words, a.words(values))
		}
	}
	if len(words) == 0 {
		return "every plug way and switch position"
	}
	return strings.Join(words, ", ")
}

// rectifierGone tells whether a rectifier's tube is pulled by one of the faults.
func rectifierGone(label string, faults []*analysis.Fault) bool {
	part, _, _ := strings.Cut(label, ":")
	return slices.ContainsFunc(faults, func(f *analysis.Fault) bool { return f.Kind == analysis.Pulled && f.Part == part })
}

// spaceWords tells how many states there are, and of what.
func (f *Fold) spaceWords() string {
	s := f.space()
	words := []string{counted(len(s.axes[0].all), "plug way")}
	for i, control := range f.circuit.Switches {
		words = append(words, fmt.Sprintf("%s %s", netlist.Visible(control.Name), Or(VisibleAll(s.axes[i+1].all))))
	}
	if last := s.axes[len(s.axes)-1].all; len(last) > 1 {
		words = append(words, fmt.Sprintf("%s conducting in turn", counted(len(last)-1, "rectifier")))
	}
	return strings.Join(words, ", ")
}
