package grouping

import "coldcheck/analysis"

// Space is all the settings in which some states stand: plug polarities, positions of the switches
// and the controls, rectifiers.
type Space struct {
	settings []analysis.State
	numbers  map[string]int // of settings, by appendKey
	axes     []axis
	marks    int    // how often values of some settings were marked
	key      []byte // of the last setting, its room used again
}

// axis is one thing that can stand in several ways. Its values go by number: there may be a thousand
// settings, and each is compared often.
type axis struct {
	of      func(analysis.State) string
	values  []string // in the order in which they came
	numbers map[string]int
	at      []int // by setting, in values
	marked  []int // by value, the last of Space.marks that met it
}

// NewSpace makes an empty space. Its axes are the plug, each switch, each control, and the rectifier
// that conducts.
func NewSpace(c *analysis.Circuit) *Space {
	s := &Space{numbers: map[string]int{}}
	add := func(of func(analysis.State) string) { s.axes = append(s.axes, axis{of: of, numbers: map[string]int{}}) }
	add(func(x analysis.State) string { return string(x.Plug) })
	for i := range c.Switches {
		add(func(x analysis.State) string { return x.Settings[i].At })
	}
	for i := range c.Controls {
		add(func(x analysis.State) string { return x.Controls[i].At })
	}
	add(func(x analysis.State) string { return x.Rectifier })
	return s
}

// Add numbers what a state is apart from its faults.
func (s *Space) Add(x analysis.State) int {
	s.key = appendKey(s.key[:0], x)
	n, known := s.numbers[string(s.key)]
	if known {
		return n
	}
	n = len(s.settings)
	s.numbers[string(s.key)] = n
	s.settings = append(s.settings, analysis.State{Plug: x.Plug, Settings: x.Settings, Controls: x.Controls, Rectifier: x.Rectifier})
	for i := range s.axes {
		s.axes[i].add(x)
	}
	return n
}

func (a *axis) add(x analysis.State) {
	value := a.of(x)
	n, known := a.numbers[value]
	if !known {
		n = len(a.values)
		a.numbers[value] = n
		a.values = append(a.values, value)
		a.marked = append(a.marked, 0)
	}
	a.at = append(a.at, n)
}

// Number is the number of a state's setting, and whether it is in the space.
func (s *Space) Number(x analysis.State) (int, bool) {
	n, known := s.numbers[string(appendKey(nil, x))]
	return n, known
}

func appendKey(key []byte, s analysis.State) []byte {
	key = append(key, s.Plug...)
	for _, settings := range [2][]analysis.Setting{s.Settings, s.Controls} {
		for _, x := range settings {
			key = append(key, 0)
			key = append(key, x.At...)
		}
	}
	key = append(key, 0)
	return append(key, s.Rectifier...)
}

// Axis gives the values of an axis, in the order in which they came: 0 is the plug, then come the
// switches, the controls, and last the rectifier.
func (s *Space) Axis(i int) []string { return s.axes[i].values }

// Products parts settings, by their numbers, into as few lots as the axes allow, each of which is
// all the combinations of the values that it has on each axis.
func (s *Space) Products(numbers []int) [][]int {
	if s.whole(numbers) {
		return [][]int{numbers}
	}
	var products [][]int
	for _, part := range s.split(numbers) {
		products = append(products, s.Products(part)...)
	}
	return products
}

// split parts settings along the axis that leaves the most of them in products.
func (s *Space) split(numbers []int) [][]int {
	var best [][]int
	most := -1
	for i := range s.axes {
		parts := s.axes[i].parts(numbers)
		if len(parts) < 2 {
			continue
		}
		whole := 0
		for _, part := range parts {
			if s.whole(part) {
				whole += len(part)
			}
		}
		if whole > most {
			best, most = parts, whole
		}
	}
	return best
}

// parts are the settings of each value, in the order of the values.
func (a *axis) parts(numbers []int) [][]int {
	ends := make([]int, len(a.values)) // of each value's part, its beginning until it is filled
	for _, n := range numbers {
		ends[a.at[n]]++
	}
	begin := 0
	for n, size := range ends {
		ends[n] = begin
		begin += size
	}
	sorted := make([]int, len(numbers))
	for _, n := range numbers {
		at := a.at[n]
		sorted[ends[at]] = n
		ends[at]++
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
func (s *Space) mark(a *axis, numbers []int) int {
	s.marks++
	n := 0
	for _, k := range numbers {
		if at := a.at[k]; a.marked[at] != s.marks {
			a.marked[at] = s.marks
			n++
		}
	}
	return n
}

// whole reports whether settings are all the combinations of the values that they have on each axis.
func (s *Space) whole(numbers []int) bool {
	n := 1
	for i := range s.axes {
		if n *= s.mark(&s.axes[i], numbers); n > len(numbers) {
			return false
		}
	}
	return n == len(numbers)
}

// Values are those of an axis that some settings have, and those that they lack.
type Values struct{ Has, Lacks []string }

// Values gives the values that settings have, axis by axis.
func (s *Space) Values(numbers []int) []Values {
	all := make([]Values, len(s.axes))
	for i := range s.axes {
		a := &s.axes[i]
		s.mark(a, numbers)
		for n, value := range a.values {
			if a.marked[n] == s.marks {
				all[i].Has = append(all[i].Has, value)
			} else {
				all[i].Lacks = append(all[i].Lacks, value)
			}
		}
	}
	return all
}
