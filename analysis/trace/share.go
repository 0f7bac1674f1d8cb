package trace

import (
	"cmp"
	"math"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// carried is a path with its share of the current into a body.
type carried struct {
	path  analysis.Path
	share float64
}

// tenth is the least share of a current that is worth telling.
const tenth = 0.1

// shareStep is by how much shares must differ for one to come before the other.
const shareStep = 0.05

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
	if p := WithoutSafeguards(c, state, node); p != nil {
		paths = append(paths, *p)
	}
	return shareOut(c, state, node, append(paths, pathsFrom(c, c.Wiring(state), node, n, analysis.Channel.Passes)...))
}

// mostOf is the one of some paths to a node that carries the most, nil of none.
func mostOf(c *analysis.Circuit, state analysis.State, node string, paths []analysis.Path) *analysis.Path {
	switch len(paths) {
	case 0:
		return nil
	case 1:
		return &paths[0]
	}
	return &shareOut(c, state, node, paths)[0].path
}

// Coupler is a part that carries a tenth or more of the current into a body, with its share of it.
type Coupler struct {
	Part      string
	Share     float64
	Safeguard bool // it would have to fail, and passes current while it is good
}

// Couplers are the parts that carry a tenth or more of what passes through a body on a node, largest
// first; conductors, whose current no one asks for, are none.
func Couplers(c *analysis.Circuit, state analysis.State, node string) []Coupler {
	touch := c.Solve(state).Touch(node)
	if touch.Severity() == 0 {
		return nil
	}
	var all []Coupler
	for _, x := range carriers(c, state, node, 2*compared(c.Wiring(state))) {
		if x.share == 0 {
			continue
		}
		for _, s := range x.path.Steps {
			brings, ok := touch.Brought(s.Channel, s.From)
			if !ok || slices.ContainsFunc(all, func(o Coupler) bool { return o.Part == s.Part }) {
				continue
			}
			all = append(all, Coupler{s.Part, min(1, brings/touch.Severity()), s.Barrier() && !HoldsVoltage(c, s, state)})
		}
	}
	slices.SortStableFunc(all, func(a, b Coupler) int {
		return cmp.Compare(math.Round(b.Share/shareStep), math.Round(a.Share/shareStep))
	})
	return all
}

// HoldsVoltage reports whether a step is a reservoir in a state with a rectifier conducting: it holds its
// voltage and stands in the way of nothing.
func HoldsVoltage(c *analysis.Circuit, s analysis.Step, state analysis.State) bool {
	return s.Sort == analysis.Capacitive && Conducts(state) && Reservoir(c.Set, s.Part)
}

// Conducts reports whether a rectifier conducts in a state, other than the small diodes.
func Conducts(state analysis.State) bool {
	return state.Rectifier != "" && state.Rectifier != analysis.SmallDiodes
}

// Reservoir reports whether a part is a capacitor that holds its voltage while a rectifier conducts.
func Reservoir(set *netlist.Set, part string) bool {
	d, ok := set.Part(part).Detail.(*netlist.Capacitor)
	return ok && analysis.Reservoir(d.Farads)
}
