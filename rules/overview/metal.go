package overview

import (
	"cmp"
	"slices"

	"coldcheck/analysis"
	"coldcheck/rules"
)

// Metal is a piece of accessible metal with all that is said of it.
type Metal struct {
	*rules.Metal
	// Signal is the strongest signal word of any finding that speaks of it, from metal to metal aside;
	// Found is false where there is none.
	Signal rules.Signal
	Found  bool
	// Normal is the worst with nothing failed, Off the worst of that with every switch off, OneFault the
	// worst with one failure at most; nil where every such state shorts the line. HasOff is false where no
	// switch turns off.
	Normal, Off, OneFault *analysis.Worst
	HasOff                bool

	// Now are the findings of what it does with nothing failed, or with something open that is no
	// safeguard; Failing those of one failure.
	Now, Failing []*rules.Finding
	// Shared are findings that are told with other metal and speak of this as well.
	Shared []*rules.Finding
	// Alone are the failures of which each alone makes it live, in the order of what lets go first.
	Alone []Failure

	place int // of its foremost point in Circuit.Points
}

func metalsOf(r *rules.Report) []*Metal {
	k := r.Case
	var metals []*Metal
	off := k.Circuit.WorstOff()
	for _, m := range k.Metals {
		x := &Metal{Metal: m, HasOff: off != nil, place: slices.Index(k.Result.Points, m.Points[0])}
		for _, p := range m.Points { // they read alike, unless a fuse that joins them is blown
			x.Normal, x.OneFault = worse(x.Normal, p.Normal), worse(x.OneFault, p.OneFault)
			if off != nil {
				x.Off = worse(x.Off, off[slices.Index(k.Result.Points, p)])
			}
		}
		for i := range r.Findings {
			if f := &r.Findings[i]; !together(r, f) && f.Rule.Subject != rules.OfPair && f.Rule.Subject != rules.OfLine && f.Rule.Subject != rules.OfSet && x.in(f.Nodes) {
				x.Signal, x.Found = max(x.Signal, f.Signal), true
			}
		}
		metals = append(metals, x)
	}
	return metals
}

// worse is the worse of two, the first of equals.
func worse(a, b *analysis.Worst) *analysis.Worst {
	if b.WorseThan(a) {
		return b
	}
	return a
}

// in reports whether one of some nodes is a point of the metal.
func (m *Metal) in(nodes []string) bool {
	return slices.ContainsFunc(m.Nodes(), func(n string) bool { return slices.Contains(nodes, n) })
}

// take puts a finding of the metal where it belongs.
func (m *Metal) take(f *rules.Finding) {
	if f.Rule.Failure == rules.NoFailure {
		m.Now = append(m.Now, f)
	} else {
		m.Failing = append(m.Failing, f)
	}
}

// order brings what was taken into the order in which it is told: findings strongest first, those of
// failures as the parts let go.
func (m *Metal) order(r *rules.Report) {
	m.Alone = aloneAt(r.Case, m.Points)
	place := func(f *rules.Finding) int {
		return slices.IndexFunc(m.Alone, func(x Failure) bool { return len(f.Parts) > 0 && x.Part == f.Parts[0] })
	}
	slices.SortStableFunc(m.Failing, func(a, b *rules.Finding) int {
		return cmp.Or(cmp.Compare(b.Signal, a.Signal), cmp.Compare(place(a), place(b)))
	})
}

// Findings are all that are told with it, those with nothing failed first where they are as strong.
func (m *Metal) Findings() []*rules.Finding {
	all := slices.Concat(m.Now, m.Failing)
	slices.SortStableFunc(all, func(a, b *rules.Finding) int { return cmp.Compare(b.Signal, a.Signal) })
	return all
}

// worseFirst orders pieces of metal: by signal word, then by what they do with nothing failed, then in the
// order of the file.
func worseFirst(a, b *Metal) int {
	rank := func(m *Metal) int {
		if !m.Found {
			return -1
		}
		return int(m.Signal)
	}
	class := func(w *analysis.Worst) (analysis.Class, float64) {
		if w == nil {
			return analysis.UnderLimit, 0
		}
		return w.Class(), w.Severity()
	}
	ca, sa := class(a.Normal)
	cb, sb := class(b.Normal)
	return cmp.Or(cmp.Compare(rank(b), rank(a)), cmp.Compare(cb, ca), cmp.Compare(sb, sa), cmp.Compare(a.place, b.place))
}
