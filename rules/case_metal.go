package rules

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/lineside"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// Metal is an accessible conductive part (IEC 62368-1): one touch point, or several that conductors
// join, whole fuses and earth wires among them, in every state without faults. The short of a failed
// part is no conductor.
type Metal struct {
	Points []*analysis.PointResult // the bare ones foremost: a hand finds those

	places []int // of Points in Circuit.Points
	whole  *Metal
}

// metalsOf are pieces of metal, the bare ones first, and so the points of each.
func metalsOf(result *analysis.Result, pieces [][]*analysis.TouchPoint) []*Metal {
	places := map[*netlist.Node]int{}
	for i, p := range result.Points {
		places[p.Node] = i
	}
	var metals []*Metal
	for _, points := range pieces {
		m := &Metal{}
		for _, p := range points {
			m.places = append(m.places, places[p.Node])
		}
		slices.SortStableFunc(m.places, func(a, b int) int { return bareFirst(result.Points[a], result.Points[b]) })
		for _, i := range m.places {
			m.Points = append(m.Points, result.Points[i])
		}
		m.whole = m
		metals = append(metals, m)
	}
	slices.SortFunc(metals, func(a, b *Metal) int {
		return cmp.Or(bareFirst(a.Points[0], b.Points[0]), cmp.Compare(a.places[0], b.places[0]))
	})
	return metals
}

func bareFirst(a, b *analysis.PointResult) int {
	switch {
	case guarded(a) == guarded(b):
		return 0
	case guarded(b):
		return -1
	}
	return 1
}

// guarded reports whether a guard that someone vouches for keeps fingers off a point.
func guarded(p *analysis.PointResult) bool { return p.GuardFault != nil && p.GuardFault.Cost > 0 }

// Node is the metal's foremost node.
func (m *Metal) Node() string { return m.Points[0].Name }

// Nodes are all its touch points.
func (m *Metal) Nodes() []string {
	var names []string
	for _, p := range m.Points {
		names = append(names, p.Name)
	}
	return names
}

// Name tells all its names.
func (m *Metal) Name() string { return phrase.Metal(phrase.Visible(m.Nodes())) }

// worstPiece is the metal, or the one of its points that passes more with nothing failed than the foremost: a
// fuse that a short opens parts what it joined. Of bare points and guarded ones the bare ones count.
func (m *Metal) worstPiece() *Metal {
	worst, most := 0, 0.0
	for i, p := range m.Points {
		if p.Normal != nil && guarded(p) == m.Guarded() && p.Normal.Severity() > most*clearly {
			worst, most = i, p.Normal.Severity()
		}
	}
	if worst == 0 {
		return m
	}
	return &Metal{Points: m.Points[worst : worst+1], places: m.places[worst : worst+1], whole: m.whole}
}

// Guarded reports whether a guard that someone vouches for keeps fingers off all of it.
func (m *Metal) Guarded() bool { return guarded(m.Points[0]) }

// guardWords tells what keeps fingers off it: "the cabinet", or where its points have guards of their
// own "a guard on each (chassis: cabinet, volume shaft: knob)".
func (m *Metal) guardWords() string {
	guard, shared := m.Points[0].Guard, true
	var each []string
	for _, p := range m.Points {
		shared = shared && p.Guard == guard
		each = append(each, fmt.Sprintf("%s: %s", netlist.Visible(p.Name), p.Guard))
	}
	if shared {
		return "the " + guard
	}
	return "a guard on each (" + strings.Join(each, ", ") + ")"
}

// same reports whether two are the same points.
func (m *Metal) same(o *Metal) bool { return slices.Equal(m.places, o.places) }

// worst is the worst of some rows at a piece of metal that their faults do not part: what is read at
// one of its points is read at all. It is nil where every row is cleared.
func (m *Metal) worst(rows []analysis.Row, keep func(analysis.Row) bool) *analysis.Worst {
	return analysis.WorstOf(rows, m.places[0], keep)
}

// in is what a row reads at a piece of metal.
func (m *Metal) in(row analysis.Row) analysis.Reading { return row.Readings[m.places[0]] }

// inSets reports whether a fault is in one of the minimal fault sets of a point of it.
func (m *Metal) inSets(fault *analysis.Fault) bool {
	return slices.ContainsFunc(m.Points, func(p *analysis.PointResult) bool {
		return slices.ContainsFunc(p.FaultSets, func(set analysis.FaultSet) bool { return slices.Contains(set.Faults, fault) })
	})
}

// foremostNodes is a node of each piece of metal.
func (k *Case) foremostNodes() []string {
	nodes := make([]string, len(k.Metals))
	for i, m := range k.Metals {
		nodes[i] = m.Node()
	}
	return nodes
}

// keptOff lists the pieces of metal that a part between two nodes keeps from the line.
func (k *Case) keptOff(g *lineside.Gaps, part, a, b string) []*Metal {
	var metals []*Metal
	for _, i := range g.Around(part, a, b) {
		metals = append(metals, k.Metals[i])
	}
	return metals
}

// metalOf is the piece of metal of a touch point.
func (k *Case) metalOf(node string) *Metal {
	for _, m := range k.Metals {
		if slices.Contains(m.Nodes(), node) {
			return m
		}
	}
	return nil
}

// pieces are what faults leave of a metal: the metal itself, or its pieces where a fuse that opens or
// an earth wire that comes off parts it.
func (k *Facts) pieces(m *Metal, faults ...*analysis.Fault) []*Metal {
	opens := func(f *analysis.Fault) bool {
		return f.Part != analysis.SupplyName &&
			(f.Kind == analysis.EarthLost || f.Kind == analysis.Open && k.Set.Part(f.Part).Kind == netlist.KindFuse)
	}
	if len(m.Points) == 1 || !slices.ContainsFunc(faults, opens) {
		return []*Metal{m}
	}
	left := slices.DeleteFunc(k.Circuit.Metals(faults...), func(points []*analysis.TouchPoint) bool {
		return !slices.Contains(m.Nodes(), points[0].Name)
	})
	if len(left) == 1 {
		return []*Metal{m}
	}
	pieces := metalsOf(k.Result, left)
	for _, piece := range pieces {
		piece.whole = m.whole
	}
	return pieces
}

// piece is the piece of a metal that faults leave at a touch point.
func (k *Facts) piece(m *Metal, node string, faults ...*analysis.Fault) *Metal {
	for _, piece := range k.pieces(m, faults...) {
		if slices.Contains(piece.Nodes(), node) {
			return piece
		}
	}
	return m
}

func nodesOf(metals []*Metal) []string {
	var names []string
	for _, m := range metals {
		names = append(names, m.Nodes()...)
	}
	return names
}

func metalNames(metals []*Metal) string {
	var names []string
	for _, m := range metals {
		names = append(names, m.Name())
	}
	return phrase.Few(names, 3)
}
