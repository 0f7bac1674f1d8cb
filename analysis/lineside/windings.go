package lineside

import (
	"coldcheck/analysis"
	"coldcheck/netlist"
)

// Tie is where a winding on the line is tied to what is not: a point that it shares with another winding, or
// one at which it is tapped.
type Tie struct {
	Node           string
	Tapped         bool
	Winding, Other string // the names of the one on the line and of the other; of a tap neither
}

// TieOf is the first such tie of a transformer in any position of the switches and the controls; ok is false
// where there is none.
func (s *Side) TieOf(name string, t *netlist.Transformer) (tie Tie, ok bool) {
	for _, w := range s.wirings {
		online := s.lineWindings(w, name, t)
		if tie, ok = sharedPoint(w, t, online); ok {
			return tie, true
		}
		if node := s.tapOf(w, name, t, online); node != "" {
			return Tie{Node: node, Tapped: true}, true
		}
	}
	return Tie{}, false
}

// sharedPoint is the first point that a winding on the line shares with one that is not.
func sharedPoint(w *analysis.Wiring, t *netlist.Transformer, online []bool) (Tie, bool) {
	for i, a := range t.Windings {
		for j, b := range t.Windings {
			if !online[i] || online[j] {
				continue
			}
			for _, x := range []string{a.Start, a.End} {
				for _, y := range []string{b.Start, b.End} {
					if w.Joined(x, y) {
						return Tie{Node: x, Winding: a.Name, Other: b.Name}, true
					}
				}
			}
		}
	}
	return Tie{}, false
}

// lineWindings says which windings carry the line: those that by conductors and by this
// transformer's own windings lie between the two blades.
func (s *Side) lineWindings(w *analysis.Wiring, name string, t *netlist.Transformer) []bool {
	online := make([]bool, len(t.Windings))
	hot, neutral := s.Hot.Blade, s.Neutral.Blade
	if w.Joined(hot, neutral) {
		return online
	}
	for i, x := range t.Windings {
		// A winding lies between the blades if either end reaches one of them without the winding.
		pass := func(ch analysis.Channel) bool {
			return ch.Conducts() || ch.Part == name && ch.Sort == analysis.Load && ch.Piece != x.Name && ch.Piece != ""
		}
		for _, blades := range [][2]string{{hot, neutral}, {neutral, hot}} {
			if w.Joined(x.Start, blades[0]) && w.Joined(x.End, blades[1]) {
				online[i] = true
				continue
			}
			start := setOf(w.Reached(x.Start, w.Group(blades[1]), pass))
			end := setOf(w.Reached(x.End, w.Group(blades[0]), pass))
			if start[blades[0]] && end[blades[1]] && !start[x.End] && !end[x.Start] {
				online[i] = true
			}
		}
	}
	return online
}

// tapOf is a point between two windings on the line, off both blades, from which something else
// draws current; "" where there is none, as in two primaries in series.
func (s *Side) tapOf(w *analysis.Wiring, name string, t *netlist.Transformer, online []bool) string {
	for i, x := range t.Windings {
		if !online[i] {
			continue
		}
		for _, node := range []string{x.Start, x.End} {
			if s.onBlade(w, node) {
				continue
			}
			group := setOf(w.Group(node))
			for _, ch := range w.Channels {
				if ch.Part != name && (ch.Sort == analysis.Load || ch.Sort == analysis.Rectifying) && group[ch.A] != group[ch.B] {
					return node
				}
			}
		}
	}
	return ""
}
