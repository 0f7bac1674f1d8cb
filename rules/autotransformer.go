package rules

import (
	"fmt"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// Autotransformer finds a transformer that does not separate the set from the line.
var Autotransformer = &Rule{
	Name:    "autotransformer",
	Signal:  Caution,
	Signals: "CAUTION",
	Looks:   "a transformer with a winding on the line that shares a point with one that is not, or that is tapped",
	Why: "A heavy core, a case and a pair of output terminals look like isolation. Where line and load share a point, they are one circuit: " +
		"the chassis behind it is as much on the line as with no transformer at all.",
	Blind:  "A tie inside the can that the file does not name; a transformer outside the set, such as a step-down converter, most of which are of this kind.",
	Source: "IEC 61558-2-4 and 61558-2-6 (what an isolating transformer is, and that this is none)",
	Remedy: "Treat the set as one without a transformer. To separate it, fit a double-wound transformer with double or reinforced insulation " +
		"(IEC 61558-2-4) of enough VA ahead of it, and join nothing of its secondary to the primary.",
	Caution: "A variable autotransformer on the bench does not isolate either: it goes ahead of an isolation transformer, never instead of one. " +
		"Check with an ohmmeter, unplugged, from the blades to the load.",
	Subject: OfPart,
	Run: func(k *Facts) []Finding {
		var findings []Finding
		for p, t := range details[*netlist.Transformer](k.Set) {
			message := ""
			for _, w := range k.sound {
				if message = k.sharesLine(w, p.Name, t); message != "" {
					break
				}
			}
			if message != "" {
				findings = append(findings, Finding{Signal: Caution, Parts: []string{p.Name}, Message: message})
			}
		}
		return findings
	},
}

// sharesLine tells what a transformer's line winding shares with the rest in one position of the
// switches, "" where nothing.
func (k *Facts) sharesLine(w *analysis.Wiring, name string, t *netlist.Transformer) string {
	online := k.lineWindings(w, name, t)
	for i, a := range t.Windings {
		for j, b := range t.Windings {
			if !online[i] || online[j] {
				continue
			}
			for _, x := range []string{a.Start, a.End} {
				for _, y := range []string{b.Start, b.End} {
					if w.Joined(x, y) {
						return fmt.Sprintf("%s looks like isolation and is not: its %s winding, on the line, shares %s with its %s winding",
							name, netlist.Visible(a.Name), netlist.Visible(x), netlist.Visible(b.Name))
					}
				}
			}
		}
	}
	if tap := k.tapOf(w, name, t, online); tap != "" {
		return fmt.Sprintf("%s looks like isolation and is not: its winding on the line is tapped at %s, which feeds the set", name, netlist.Visible(tap))
	}
	return ""
}

// lineWindings tells which windings carry the line: those that by conductors and by this
// transformer's own windings lie between the two blades.
func (k *Facts) lineWindings(w *analysis.Wiring, name string, t *netlist.Transformer) []bool {
	online := make([]bool, len(t.Windings))
	hot, neutral := k.line.hot.blade, k.line.neutral.blade
	if w.Joined(hot, neutral) {
		return online
	}
	for i, x := range t.Windings {
		// A winding lies between the blades if either end reaches one of them without the winding.
		pass := func(ch analysis.Channel) bool {
			return ch.Sort == analysis.Conductor || ch.Part == name && ch.Sort == analysis.Load && ch.Piece != x.Name && ch.Piece != ""
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
func (k *Facts) tapOf(w *analysis.Wiring, name string, t *netlist.Transformer, online []bool) string {
	for i, x := range t.Windings {
		if !online[i] {
			continue
		}
		for _, node := range []string{x.Start, x.End} {
			if k.line.onBlade(w, node) {
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
