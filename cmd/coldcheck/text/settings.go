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
}

// axis is one thing that can stand in several ways.
type axis struct {
	at    func(analysis.State) string
	all   []string // in the order in which they came
	words func(at []string) string
}

func (f *Fold) space() *space {
	s := &space{settings: f.settings}
	s.add(func(x analysis.State) string { return string(x.Plug) }, func(at []string) string { return "plug " + plugWay(at[0]) })
	for i, control := range f.circuit.Controls {
		s.add(func(x analysis.State) string { return x.Settings[i].At }, func(at []string) string { return positionWords(control, at) })
	}
	s.add(func(x analysis.State) string { return x.Rectifier }, rectifierWords)
	return s
}

func (s *space) add(at func(analysis.State) string, words func([]string) string) {
	a := axis{at: at, words: words}
	for _, x := range s.settings {
		if !slices.Contains(a.all, at(x)) {
			a.all = append(a.all, at(x))
		}
	}
	s.axes = append(s.axes, a)
}

func plugWay(way string) string {
	if way == string(analysis.Reversed) {
		return way
	}
	return "as marked"
}

func positionWords(control analysis.Control, at []string) string {
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
	if values, whole := s.product(ids); whole {
		return []string{s.phrase(values, lacks)}
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
	for _, a := range s.axes {
		var parts [][]int
		told := 0
		for _, at := range a.all {
			part := slices.DeleteFunc(slices.Clone(ids), func(id int) bool { return a.at(s.settings[id]) != at })
			if len(part) == 0 {
				continue
			}
			parts = append(parts, part)
			if _, whole := s.product(part); whole {
				told += len(part)
			}
		}
		if len(parts) > 1 && told > most {
			best, most = parts, told
		}
	}
	return best
}

// product gives the values that settings have on each axis, and whether they are all the
// combinations of those.
func (s *space) product(ids []int) (values [][]string, whole bool) {
	values = make([][]string, len(s.axes))
	n := 1
	for i, a := range s.axes {
		seen := map[string]bool{}
		for _, id := range ids {
			seen[a.at(s.settings[id])] = true
		}
		for _, at := range a.all {
			if seen[at] {
				values[i] = append(values[i], at)
			}
		}
		n *= len(values[i])
	}
	return values, n == len(ids)
}

func (s *space) phrase(values [][]string, lacks func(string) bool) string {
	var words []string
	for i, a := range s.axes {
		missing := slices.DeleteFunc(slices.Clone(a.all), func(at string) bool {
			return slices.Contains(values[i], at) || i == len(s.axes)-1 && lacks(at)
		})
		if len(missing) > 0 {
			words = append(words, a.words(values[i]))
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
	for i, control := range f.circuit.Controls {
		words = append(words, fmt.Sprintf("%s %s", netlist.Visible(control.Name), Or(VisibleAll(s.axes[i+1].all))))
	}
	if last := s.axes[len(s.axes)-1].all; len(last) > 1 {
		words = append(words, fmt.Sprintf("%s conducting in turn", counted(len(last)-1, "rectifier")))
	}
	return strings.Join(words, ", ")
}
