package rules

import (
	"fmt"
	"strings"
	"sync"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// Case is one set with all that was worked out of it, as the rules look at it.
type Case struct {
	Set     *netlist.Set
	Circuit *analysis.Circuit
	Result  *analysis.Result
	// Metals are the touch points, those that conductors join in every state told as one.
	Metals []*Metal
	// Normal are the normal states with all rectifiers blocking, solved whole, the cleared ones
	// among them.
	Normal []*analysis.Solution

	// Mains is the circuit on the bare mains: Circuit itself, unless a bench stands between.
	Mains *analysis.Circuit

	wirings   []*analysis.Wiring // of Normal
	solutions map[*analysis.Fault][]*analysis.Solution
	findings  []Finding
	lives     map[*Metal]*liveness
	rows      []analysis.Row
	single    map[*analysis.Fault]map[*Metal]*analysis.Worst
	kinds     []*sole
	openTold  map[openFault]bool
	sound     []*analysis.Wiring
	lineSide  func() *lineSide // the two legs of the line
	everyGap  func() *gaps     // with no part left out
	pairs     []livePair
}

// Metal is one piece of metal that a hand can reach: one touch point or several that conductors
// join in every state.
type Metal struct {
	Points []*analysis.PointResult
	index  int // of its foremost point in Circuit.Points
}

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

// Guarded tells whether a guard that someone vouches for keeps fingers off all of it.
func (m *Metal) Guarded() bool {
	return m.Points[0].GuardFault != nil && m.Points[0].GuardFault.Cost > 0
}

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

func newCase(c *analysis.Circuit, result *analysis.Result) *Case {
	k := &Case{Set: c.Set, Circuit: c, Result: result, solutions: map[*analysis.Fault][]*analysis.Solution{},
		lives: map[*Metal]*liveness{}, openTold: map[openFault]bool{}, single: map[*analysis.Fault]map[*Metal]*analysis.Worst{}}
	k.Mains = c
	if c.Bench.Isolated || len(c.Bench.Earthed) > 0 {
		k.Mains, _ = analysis.New(c.Set, analysis.Bench{}) // no bench, so no node to miss
	}
	for _, state := range c.Normal() {
		k.Normal = append(k.Normal, c.Solve(state))
		k.wirings = append(k.wirings, c.Wiring(state))
	}
	k.findMetals()
	k.oneWay()
	side, gap := sync.OnceValue(k.findLineSide), sync.OnceValue(func() *gaps { return k.gaps("") })
	k.lineSide, k.everyGap = side, gap
	go func() { // while the first rules look at other things
		side()
		gap()
	}()
	return k
}

// findMetals gathers the points that conductors join in every state. A bare point comes foremost:
// it is the one that a hand finds.
func (k *Case) findMetals() {
	for _, bare := range []bool{true, false} {
		for i, p := range k.Result.Points {
			if bare != (p.GuardFault == nil || p.GuardFault.Cost == 0) {
				continue
			}
			var home *Metal
			for _, m := range k.Metals {
				if k.alwaysJoined(m.Node(), p.Name) {
					home = m
					break
				}
			}
			if home == nil {
				home = &Metal{index: i}
				k.Metals = append(k.Metals, home)
			}
			home.Points = append(home.Points, p)
		}
	}
}

// alwaysJoined tells whether conductors that cannot come open join two nodes in every normal state:
// not a fuse, nor a wire to an earth, nor the short of a failed part, without which a state may be
// judged.
func (k *Case) alwaysJoined(a, b string) bool {
	firm := analysis.Query{Pass: func(ch analysis.Channel) bool {
		p := k.Set.Part(ch.Part)
		return ch.Sort == analysis.Conductor && p.Kind != netlist.KindFuse && p.Condition != netlist.Failed &&
			ch.A != netlist.BuildingEarth && ch.B != netlist.BuildingEarth
	}}
	for _, w := range k.wirings {
		if !w.Joined(a, b) {
			return false
		}
		if _, ok := w.Shortest(a, b, firm); !ok {
			return false
		}
	}
	return true
}

// withFault solves every normal state with one fault. The answers are kept.
func (k *Case) withFault(f *analysis.Fault) []*analysis.Solution {
	if k.solutions[f] == nil {
		for _, state := range k.Circuit.Normal() {
			k.solutions[f] = append(k.solutions[f], k.Circuit.Solve(state.WithFaults(f)))
		}
	}
	return k.solutions[f]
}

// told remembers a finding for the rules that come after.
func (k *Case) told(f Finding) { k.findings = append(k.findings, f) }
