package analysis

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

// passage is a path through a part as the brute-force search lists it from the set as it was read.
type passage struct {
	part string
	a, b string
	cost int
}

// passes are the pairs of nodes between which current just passes by a part: conductors, and loads that are
// no safeguard. What rectifies is not among them.
func (w *twin) passes(p *netlist.Part, x condition) [][2]string {
	var all [][2]string
	add := func(ends ...string) {
		if ends[0] != "" && ends[1] != "" {
			all = append(all, [2]string{ends[0], ends[1]})
		}
	}
	switch d := p.Detail.(type) {
	case *netlist.Wire:
		add(d.Ends[:]...)
	case *netlist.Fuse:
		add(d.Ends[:]...)
	case *netlist.Switch:
		for _, ends := range d.Poles {
			if x.at[p.Name] == "on" {
				add(ends[:]...)
			}
		}
	case *netlist.Selector:
		for _, deck := range d.Decks {
			add(deck.Common, deck.Throws[slices.Index(d.Positions, x.at[p.Name])])
		}
	case *netlist.Resistor:
		if cmp.Or(d.Measured, d.Ohms) < 10000 {
			add(d.Ends[:]...)
		}
	case *netlist.Thermistor:
		if d.Hot < 10000 {
			add(d.Ends[:]...)
		}
	case *netlist.Potentiometer:
		for _, h := range halves(d, x.at[p.Name]) {
			if h.turned || d.Ohms < 10000 {
				add(h.a, h.b)
			}
		}
	default:
		loads(p, add)
	}
	return all
}

// loads adds the loads of parts that are never a safeguard.
func loads(p *netlist.Part, add func(ends ...string)) {
	switch d := p.Detail.(type) {
	case *netlist.Coil:
		add(d.Ends[:]...)
	case *netlist.Motor:
		add(d.Ends[:]...)
	case *netlist.Lamp:
		add(d.Ends[:]...)
	case *netlist.Battery:
		add(d.Positive, d.Negative)
	case *netlist.Transformer:
		for _, winding := range d.Windings {
			add(winding.Start, winding.End)
		}
	case *netlist.Tube:
		if h := d.Type.Heater; h != nil {
			ends := []string{d.Node(h.Pins[0]), d.Node(h.Pins[1])}
			if h.Tap != nil {
				ends = slices.Insert(ends, 1, d.Node(h.Tap.Pin))
			}
			ends = slices.DeleteFunc(ends, func(s string) bool { return s == "" })
			for i := 1; i < len(ends); i++ {
				add(ends[i-1], ends[i])
			}
		}
	}
}

// passages lists what can pass current in a state without faults, and what each costs.
func (w *twin) passages(x condition) []passage {
	var all []passage
	for _, p := range w.set.Parts {
		add := func(cost int, ends ...string) {
			if ends[0] != ends[1] {
				all = append(all, passage{p.Name, ends[0], ends[1], cost})
			}
		}
		good := flag(p.Condition == netlist.Good)
		for _, ends := range w.passes(p, x) {
			add(0, ends[:]...)
		}
		switch d := p.Detail.(type) {
		case *netlist.Potentiometer:
			for _, h := range halves(d, x.at[p.Name]) {
				if !h.turned && d.Ohms >= 10000 {
					add(good, h.a, h.b)
				}
			}
		case *netlist.Rectifier:
			add(0, d.Anode, d.Cathode)
		case *netlist.Tube:
			for _, s := range sectionsOf(d) {
				add(0, d.Node(s.Anode), d.Node(s.Cathode))
			}
		}
		for _, weak := range weakSpots(p) {
			if good == 0 {
				weak.cost = 0
			}
			add(weak.cost, weak.ends[:]...)
		}
	}
	return all
}

// leastCosts is the least number of safeguards from each node to each, by relaxing every passage
// until nothing changes; a node that cannot be reached has a huge one.
func leastCosts(set *netlist.Set, all []passage, from string) map[string]int {
	least := map[string]int{}
	for _, n := range set.Nodes {
		least[n.Name] = math.MaxInt / 2
	}
	least[from] = 0
	for range set.Nodes {
		for _, p := range all {
			least[p.a] = min(least[p.a], least[p.b]+p.cost)
			least[p.b] = min(least[p.b], least[p.a]+p.cost)
		}
	}
	return least
}

// TestShortestHasFewestSafeguards: against brute force over the set as it was read.
func TestShortestHasFewestSafeguards(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := settest.Draw(t, settest.Limits{Parts: [2]int{3, 25}, Switches: 2, Controls: 1, Sections: 3, Failed: true}).Text()
		c := newCircuit(t, settest.Load(t, text), Bench{})
		state := settest.OneOf(settest.NewDrawer(t), c.Normal()...)
		w := c.Wiring(state)
		judge := newTwin(c.Set, Bench{})
		all := judge.passages(conditionOf(state, nil))
		for _, from := range []string{judge.plug.Hot, judge.plug.Neutral} {
			least := leastCosts(c.Set, all, from)
			for _, n := range c.Set.Nodes {
				p, ok := w.Shortest(from, n.Name, Query{})
				if reached := least[n.Name] < math.MaxInt/4; ok != reached {
					t.Fatalf("%v: from %s to %s: found %v, is there %v\n%s", state, from, n.Name, ok, reached, text)
				}
				if ok && p.Cost() != least[n.Name] {
					t.Fatalf("%v: from %s to %s by %v: %d safeguards, the least is %d\n%s", state, from, n.Name, p.Steps, p.Cost(), least[n.Name], text)
				}
			}
		}
	})
}
