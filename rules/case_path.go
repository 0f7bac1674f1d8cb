package rules

import (
	"cmp"
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// pathTo is the path of the current from the line to a piece of metal in a state: the one that carries
// the most of it. Where no current is to be had it is the one through conductors and loads alone, else
// through the fewest capacitors and resistors that stand for safeguards, of least impedance.
func pathTo(c *analysis.Circuit, state analysis.State, node string) *analysis.Path {
	w := c.Wiring(state)
	var shortest []analysis.Path
	for _, blade := range sources(c, state) {
		if p, ok := w.Shortest(blade, node, analysis.Query{Avoid: w.EndsOf(blade)}); ok {
			shortest = append(shortest, p)
		}
	}
	if len(shortest) == 0 {
		return nil
	}
	if first := shareOut(c, state, node, shortest)[0]; first.share > carriesMost {
		return &first.path
	}
	if all := carriers(c, state, node, compared(w)); len(all) > 0 {
		return &all[0].path
	}
	return &shortest[0]
}

// carriesMost is the share of a current from which on no other path carries more of it, shareStep aside.
const carriesMost = 0.55

// sources are the blades from which current comes to what is touched: the hot one, or both where both
// are, the foremost first. On a bench that parts the mains from earth, or where the building earths
// nothing, they are those that the solution has off the earth; both where neither is.
func sources(c *analysis.Circuit, state analysis.State) []string {
	hot, neutral := c.Blades(state.Plug)
	switch {
	case !c.Floating() && !c.BothHot():
		return []string{hot}
	case !c.Floating():
		return []string{hot, neutral}
	}
	s := c.Solve(state)
	a, b := cmplx.Abs(s.Volts(hot)), cmplx.Abs(s.Volts(neutral))
	switch {
	case a > offEarth*b:
		return []string{hot}
	case b > offEarth*a:
		return []string{neutral}
	}
	return []string{hot, neutral}
}

// tenth is the least share of a current that is worth telling.
const tenth = 0.1

// shareStep is by how much shares must differ for one to come before the other.
const shareStep = 0.05

// carried is a path with its share of the current into a body.
type carried struct {
	path  analysis.Path
	share float64
}

// shareOut gives each of some paths to a node its share of the current into a body there, the least that
// any of its parts carries of it, in phase: by share where it is a tenth or more, then fewest safeguards,
// then least impedance. Where no current is to be had, all shares are 0.
func shareOut(c *analysis.Circuit, state analysis.State, node string, paths []analysis.Path) []carried {
	var all []carried
	var touch *analysis.Touch
	if s := c.Solve(state); !s.Cleared {
		touch = s.Touch(node)
	}
	for _, p := range paths {
		x := carried{path: p}
		if touch != nil && touch.Severity() > 0 {
			least := touch.Severity()
			for _, s := range p.Steps {
				if brings, ok := touch.Brought(s.Channel, s.From); ok {
					least = min(least, brings)
				}
			}
			if x.share = least / touch.Severity(); x.share < tenth {
				x.share = 0
			}
		}
		all = append(all, x)
	}
	slices.SortStableFunc(all, func(a, b carried) int {
		return cmp.Or(cmp.Compare(math.Round(b.share/shareStep), math.Round(a.share/shareStep)), cmp.Compare(len(a.path.Barriers()), len(b.path.Barriers())), cmp.Compare(a.path.Ohms(), b.path.Ohms()))
	})
	return all
}

// carriers are the paths to a node, up to n from each source and with those through conductors and loads
// among them, as shareOut puts them.
func carriers(c *analysis.Circuit, state analysis.State, node string, n int) []carried {
	var paths []analysis.Path
	if p := freePath(c, state, node); p != nil {
		paths = append(paths, *p)
	}
	return shareOut(c, state, node, append(paths, pathsFrom(c, c.Wiring(state), node, n, notInsulating)...))
}

// foremost is the one of some paths to a node that carries the most, nil of none.
func foremost(c *analysis.Circuit, state analysis.State, node string, paths []analysis.Path) *analysis.Path {
	switch len(paths) {
	case 0:
		return nil
	case 1:
		return &paths[0]
	}
	return &shareOut(c, state, node, paths)[0].path
}

// offEarth is how many times the volts of the other a side of the supply must have to be the one that
// current comes from: an earthed clip leaves the other next to nothing.
const offEarth = 10

// pathsFrom are up to n paths from each of the sources to a node.
func pathsFrom(c *analysis.Circuit, w *analysis.Wiring, node string, n int, pass func(analysis.Channel) bool) []analysis.Path {
	var paths []analysis.Path
	for _, blade := range sources(c, w.State) {
		paths = append(paths, w.Paths(blade, node, n, analysis.Query{Avoid: w.EndsOf(blade), Pass: pass})...)
	}
	return paths
}

// pathBy is pathTo by one part, where any path of few safeguards leads by it.
func pathBy(c *analysis.Circuit, state analysis.State, node, part string) *analysis.Path {
	p := pathTo(c, state, node)
	if p == nil || part == analysis.SupplyName || slices.Contains(partsOf(p), part) {
		return p
	}
	w := c.Wiring(state)
	for _, other := range carriers(c, state, node, 2*compared(w)) {
		if slices.Contains(partsOf(&other.path), part) {
			return &other.path
		}
	}
	return p
}

func notInsulating(ch analysis.Channel) bool { return ch.Sort != analysis.Insulating }

func conducts(ch analysis.Channel) bool { return ch.Sort == analysis.Conductor }

// pathsCompared is how many paths are compared for the least impedance, pathsOfLarge how many in a
// wiring of more than manyChannels: each further one takes as long as the first.
const (
	pathsCompared = 8
	pathsOfLarge  = 2
	manyChannels  = 2000
)

func compared(w *analysis.Wiring) int {
	if len(w.Channels) > manyChannels {
		return pathsOfLarge
	}
	return pathsCompared
}

// freePath is the path through conductors and loads alone, of least impedance. A rectifier is part of
// it only where it is taken as conducting, or where there is no other path.
func freePath(c *analysis.Circuit, state analysis.State, node string) *analysis.Path {
	return leastPath(c, state, node, func(ch analysis.Channel) bool {
		return passesFreely(ch) && (ch.Sort != analysis.Rectifying || ch.Piece == state.Rectifier)
	}, passesFreely)
}

// leastPath is the path of least impedance through the channels of the first of the passes that gives
// one.
func leastPath(c *analysis.Circuit, state analysis.State, node string, passes ...func(analysis.Channel) bool) *analysis.Path {
	w := c.Wiring(state)
	for _, pass := range passes {
		if best := foremost(c, state, node, pathsFrom(c, w, node, compared(w), pass)); best != nil {
			return best
		}
	}
	return nil
}

// parallelShare: a path in parallel with another has a share of the current worth telling up to so
// many times its impedance.
const parallelShare = 5

// parallelTo is a path that shares no load with another and carries a share of the current beside it,
// nil where none does. Impedances alone do not tell: small diodes charge what capacitors are in their way.
func parallelTo(p *analysis.Path, c *analysis.Circuit, state analysis.State) *analysis.Path {
	taken := map[string]bool{}
	for _, s := range p.Steps {
		if s.Sort != analysis.Conductor {
			taken[s.Part] = true
		}
	}
	other := leastPath(c, state, p.To, func(ch analysis.Channel) bool {
		return notInsulating(ch) && ch.Sort != analysis.Rectifying && !taken[ch.Part]
	})
	if other == nil || other.Ohms() > parallelShare*p.Ohms() || shareOut(c, state, p.To, []analysis.Path{*other})[0].share == 0 {
		return nil
	}
	return other
}

// throughAll tells the loads of a path, and those of one in parallel with it.
func (k *Case) throughAll(c *analysis.Circuit, state analysis.State, p *analysis.Path) string {
	text := k.through(p)
	if p == nil {
		return text
	}
	if other := k.through(parallelTo(p, c, state)); other != "" {
		text += ", and " + other + " beside it"
	}
	return text
}

// through tells what loads a path goes through: "the heater string", "V1's heater", "motor M1".
func (k *Case) through(p *analysis.Path) string {
	if p == nil {
		return ""
	}
	var heaters, others []string
	seen := map[string]bool{}
	for _, s := range p.Steps {
		if s.Sort == analysis.Conductor || seen[s.Part] {
			continue
		}
		seen[s.Part] = true
		if s.Piece == "heater" {
			heaters = append(heaters, s.Part)
		} else if words := k.loadWords(s); words != "" {
			others = append(others, words)
		}
	}
	switch len(heaters) {
	case 0:
	case 1:
		others = append([]string{heaters[0] + "'s heater"}, others...)
	default:
		others = append([]string{"the heater string"}, others...)
	}
	return phrase.Few(others, 3)
}

func (k *Case) loadWords(s analysis.Step) string {
	part := k.Set.Part(s.Part)
	switch {
	case s.Sort == analysis.Rectifying && s.Piece == analysis.SmallDiodes:
		return s.Part + " " + phrase.Section(part.Detail.(*netlist.Tube), s.From, s.To)
	case s.Sort == analysis.Rectifying:
		return "rectifier " + s.Part
	case part == nil:
		return ""
	case part.Kind == netlist.KindTransformer:
		return strings.Join(strings.Fields(fmt.Sprintf("%s's %s winding", s.Part, netlist.Visible(s.Piece))), " ")
	}
	return string(part.Kind) + " " + s.Part
}

// partsOf lists the parts of a path in order, each once.
func partsOf(p *analysis.Path) []string {
	var names []string
	if p != nil {
		for _, s := range p.Steps {
			names = append(names, s.Part)
		}
	}
	return union(nil, names)
}

// atLeast reports whether a current is the least to reckon with: its path goes through heaters or
// lamps, which carry more while they are cold. With a rectifier taken as conducting it is the most
// already.
func (k *Case) atLeast(p *analysis.Path, state analysis.State) bool {
	if p == nil || state.Rectifier != "" {
		return false
	}
	for _, s := range p.Steps {
		part := k.Set.Part(s.Part)
		if s.Piece == "heater" || s.Sort == analysis.Load && part != nil && part.Kind == netlist.KindLamp {
			return true
		}
	}
	return false
}

// coupler is a part that carries a tenth or more of the current into a body, with its share of it.
type coupler struct {
	part    string
	share   float64
	barrier bool
}

// couplersOf are the parts that carry a tenth or more of what passes through a body on a node, largest
// first; conductors, whose current no one asks for, are none.
func couplersOf(c *analysis.Circuit, state analysis.State, node string) []coupler {
	touch := c.Solve(state).Touch(node)
	if touch.Severity() == 0 {
		return nil
	}
	var all []coupler
	for _, x := range carriers(c, state, node, 2*compared(c.Wiring(state))) {
		if x.share == 0 {
			continue
		}
		for _, s := range x.path.Steps {
			brings, ok := touch.Brought(s.Channel, s.From)
			if !ok || slices.ContainsFunc(all, func(o coupler) bool { return o.part == s.Part }) {
				continue
			}
			all = append(all, coupler{s.Part, min(1, brings/touch.Severity()), s.Barrier() && !holdsVoltage(c, s, state)})
		}
	}
	slices.SortStableFunc(all, func(a, b coupler) int {
		return cmp.Compare(math.Round(b.share/shareStep), math.Round(a.share/shareStep))
	})
	return all
}

// throughGood tells of the current the safeguards that it passes while they are good, "" of none.
func (k *Case) throughGood(couplers []coupler) string {
	var names []string
	for _, x := range couplers {
		if x.barrier {
			names = append(names, phrase.Part(k.Set, x.part))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return " through " + phrase.List(names)
}

// holdsVoltage reports whether a step is a reservoir in a state with a rectifier conducting: it holds its
// voltage and stands in the way of nothing.
func holdsVoltage(c *analysis.Circuit, s analysis.Step, state analysis.State) bool {
	if state.Rectifier == "" || state.Rectifier == analysis.SmallDiodes || s.Sort != analysis.Capacitive {
		return false
	}
	d, ok := c.Set.Part(s.Part).Detail.(*netlist.Capacitor)
	return ok && analysis.Reservoir(d.Farads)
}

// standsBetween tells what stands in a path between the line and a hand in a state.
func (k *Case) standsBetween(p *analysis.Path, state analysis.State) string {
	names := k.safeguards(p, state)
	switch {
	case p == nil:
		return ""
	case len(names) == 0:
		return "nothing"
	}
	return strings.Join(names, "; ")
}

// uncounted is said of a safeguard that no one vouches for.
const uncounted = ", on which no one can count"

// safeguards tells those in a path.
func (k *Case) safeguards(p *analysis.Path, state analysis.State) []string {
	var names []string
	if p == nil {
		return nil
	}
	for _, s := range p.Barriers() {
		if holdsVoltage(k.Circuit, s, state) {
			continue
		}
		text := phrase.Part(k.Set, s.Part)
		if s.Cost == 0 {
			text += uncounted
		}
		names = append(names, text)
	}
	return names
}
