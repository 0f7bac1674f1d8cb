package rules

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
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

// metalsOf gathers touch points into pieces of metal.
func metalsOf(result *analysis.Result, sound []*analysis.Wiring) []*Metal {
	var metals []*Metal
	for _, bare := range []bool{true, false} {
		for i, p := range result.Points {
			if bare == guarded(p) {
				continue
			}
			home := slices.IndexFunc(metals, func(m *Metal) bool {
				return !slices.ContainsFunc(sound, func(w *analysis.Wiring) bool { return !w.Joined(m.Node(), p.Name) })
			})
			if home < 0 {
				home = len(metals)
				metals = append(metals, &Metal{})
				metals[home].whole = metals[home]
			}
			metals[home].add(p, i)
		}
	}
	return metals
}

func (m *Metal) add(p *analysis.PointResult, place int) {
	m.Points, m.places = append(m.Points, p), append(m.places, place)
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
	off := map[string]bool{}
	for _, f := range faults {
		if f.Part == analysis.SupplyName || len(m.Points) == 1 {
			continue
		}
		if f.Kind == analysis.EarthLost || f.Kind == analysis.Open && k.Set.Part(f.Part).Kind == netlist.KindFuse {
			off[f.Part] = true
		}
	}
	if len(off) == 0 {
		return []*Metal{m}
	}
	whole := func(ch analysis.Channel) bool { return ch.Sort == analysis.Conductor && !off[ch.Part] }
	var pieces []*Metal
	for i, p := range m.Points {
		home := slices.IndexFunc(pieces, func(piece *Metal) bool {
			return !slices.ContainsFunc(k.sound, func(w *analysis.Wiring) bool {
				return !slices.Contains(w.Reached(piece.Node(), nil, whole), p.Name)
			})
		})
		if home < 0 {
			home = len(pieces)
			pieces = append(pieces, &Metal{whole: m.whole})
		}
		pieces[home].add(p, m.places[i])
	}
	if len(pieces) == 1 {
		return []*Metal{m}
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
