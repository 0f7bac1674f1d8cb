package analysis

import (
	"cmp"
	"math"
	"reflect"
	"slices"
	"testing"

	"coldcheck/netlist"

	"pgregory.net/rapid"
)

// passage is a way through a part as the brute-force search lists it from the set as it was read.
type passage struct {
	part string
	a, b string
	cost int
}

// passages lists what can pass current in a state without faults, and what each way costs.
func (w *twin) passages(x condition) []passage {
	var all []passage
	for _, p := range w.set.Parts {
		add := func(cost int, ends ...string) {
			if ends[0] != "" && ends[1] != "" && ends[0] != ends[1] {
				all = append(all, passage{p.Name, ends[0], ends[1], cost})
			}
		}
		good := flag(p.Condition == netlist.Good)
		resistor := func(whole float64, ends ...string) {
			if whole >= 10000 {
				add(good, ends...)
			} else {
				add(0, ends...)
			}
		}
		switch d := p.Detail.(type) {
		case *netlist.Wire:
			add(0, d.Ends[:]...)
		case *netlist.Fuse:
			add(0, d.Ends[:]...)
		case *netlist.Switch:
			for _, ends := range d.Poles {
				if x.at[p.Name] == "on" {
					add(0, ends[:]...)
				}
			}
		case *netlist.Selector:
			for _, deck := range d.Decks {
				add(0, deck.Common, deck.Throws[slices.Index(d.Positions, x.at[p.Name])])
			}
		case *netlist.Resistor:
			resistor(cmp.Or(d.Measured, d.Ohms), d.Ends[:]...)
		case *netlist.Potentiometer:
			if d.Wiper == "" {
				resistor(d.Ohms, d.Ends[:]...)
			} else {
				resistor(d.Ohms, d.Ends[0], d.Wiper)
				resistor(d.Ohms, d.Wiper, d.Ends[1])
			}
		case *netlist.Coil:
			add(0, d.Ends[:]...)
		case *netlist.Motor:
			add(0, d.Ends[:]...)
		case *netlist.Lamp:
			add(0, d.Ends[:]...)
		case *netlist.Battery:
			add(0, d.Positive, d.Negative)
		case *netlist.Rectifier:
			add(0, d.Anode, d.Cathode)
		case *netlist.Transformer:
			for _, winding := range d.Windings {
				add(0, winding.Start, winding.End)
			}
		case *netlist.Tube:
			for _, s := range sectionsOf(d) {
				add(0, d.Node(s.Anode), d.Node(s.Cathode))
			}
			if h := d.Type.Heater; h != nil {
				ends := []string{d.Node(h.Pins[0]), d.Node(h.Pins[1])}
				if h.Tap != nil {
					ends = []string{ends[0], d.Node(h.Tap.Pin), ends[1]}
				}
				ends = slices.DeleteFunc(ends, func(s string) bool { return s == "" })
				for i := 1; i < len(ends); i++ {
					add(0, ends[i-1], ends[i])
				}
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

func drawWiring(t *rapid.T, l limits) (*Circuit, State, *Wiring, string) {
	text := drawSet(t, l).text()
	c := newCircuit(t, loadText(t, text), Bench{})
	state := oneOf(&drawer{t: t}, c.Normal()...)
	return c, state, c.Wiring(state), text
}

// TestShortestHasFewestSafeguards: against brute force over the set as it was read.
func TestShortestHasFewestSafeguards(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, state, w, text := drawWiring(t, limits{[2]int{3, 25}, 2, 3, true})
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
				if ok {
					holdsTogether(t, c, p, text)
				}
			}
		}
	})
}

// holdsTogether: every step is a part that has both nodes, each step begins where the last ended,
// and no node is entered twice.
func holdsTogether(t fataler, c *Circuit, p Path, text string) {
	t.Helper()
	at := p.From
	entered := map[string]bool{at: true}
	for _, s := range p.Steps {
		part := c.Set.Part(s.Part)
		var nodes []string
		for _, terminal := range part.Terminals {
			nodes = append(nodes, terminal.Node)
		}
		nodes = append(nodes, part.Frame)
		if s.From != at || !slices.Contains(nodes, s.From) || !slices.Contains(nodes, s.To) || entered[s.To] {
			t.Fatalf("the path %+v breaks at %s, %s to %s\n%s", p.Steps, s.Part, s.From, s.To, text)
		}
		at = s.To
		entered[at] = true
	}
	if at != p.To {
		t.Fatalf("the path %+v ends at %s, not at %s\n%s", p.Steps, at, p.To, text)
	}
}

// measure is what paths are sorted by.
type measure struct{ cost, parts int }

// everyPath walks depth-first over every way that enters no node twice.
func everyPath(w *Wiring, from, to string, pass func(Channel) bool, avoid []string) []measure {
	var all []measure
	entered := map[string]bool{from: true}
	for _, n := range avoid {
		if n != to {
			entered[n] = true
		}
	}
	var walk func(at string, m measure)
	walk = func(at string, m measure) {
		if at == to {
			all = append(all, m)
			return
		}
		for _, ch := range w.Channels {
			if pass != nil && !pass(ch) {
				continue
			}
			for _, step := range [][2]string{{ch.A, ch.B}, {ch.B, ch.A}} {
				if step[0] == at && !entered[step[1]] {
					entered[step[1]] = true
					walk(step[1], measure{m.cost + ch.Cost, m.parts + 1})
					entered[step[1]] = false
				}
			}
		}
	}
	walk(from, measure{})
	slices.SortFunc(all, func(x, y measure) int { return cmp.Or(cmp.Compare(x.cost, y.cost), cmp.Compare(x.parts, y.parts)) })
	return all
}

// TestPathsAgainstEveryPath: the first paths, in order, are as good as the best of all that there
// are, with nodes to avoid and channels shut.
func TestPathsAgainstEveryPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, state, w, text := drawWiring(t, limits{[2]int{2, 9}, 1, 1, true})
		d := &drawer{t: t}
		from, to := w.c.plug.Hot, oneOf(d, c.Set.Nodes...).Name
		var q Query
		if d.percent(40) {
			q.Avoid = []string{oneOf(d, c.Set.Nodes...).Name}
		}
		if d.percent(40) {
			shut := oneOf(d, Insulating, Capacitive, Load)
			q.Pass = func(ch Channel) bool { return ch.Sort != shut }
		}
		want := everyPath(w, from, to, q.Pass, q.Avoid)
		n := 1 + d.n(6)
		paths := w.Paths(from, to, n, q)
		var got []measure
		for _, p := range paths {
			holdsTogether(t, c, p, text)
			got = append(got, measure{p.Cost(), len(p.Steps)})
			for _, s := range p.Steps {
				if q.Pass != nil && !q.Pass(s.Channel) {
					t.Fatalf("%v passes %+v", p, s)
				}
			}
		}
		if !slices.Equal(got, want[:min(n, len(want))]) {
			t.Fatalf("%v from %s to %s avoiding %v: got %v, want %v\n%s", state, from, to, q.Avoid, got, want[:min(n, len(want))], text)
		}
		// As of a large set: within slacks that are too narrow, and then wide enough, the same.
		var narrow []measure
		for _, p := range w.pathsWithin([]float64{0, 1, 2}, from, to, n, q) {
			holdsTogether(t, c, p, text)
			narrow = append(narrow, measure{p.Cost(), len(p.Steps)})
		}
		if !slices.Equal(narrow, got) {
			t.Fatalf("%v from %s to %s avoiding %v: within slacks %v, else %v\n%s", state, from, to, q.Avoid, narrow, got, text)
		}
		_, ok := w.Shortest(from, to, q)
		if ok != (len(want) > 0) {
			t.Fatalf("from %s to %s: Shortest says %v, there are %d paths\n%s", from, to, ok, len(want), text)
		}
	})
}

// TestJoinedAndReachedAgainstFlooding: what conductors join, and what is reached, by flooding.
func TestJoinedAndReachedAgainstFlooding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, _, w, text := drawWiring(t, limits{[2]int{3, 20}, 2, 2, true})
		d := &drawer{t: t}
		from := oneOf(d, c.Set.Nodes...).Name
		avoid := []string{oneOf(d, c.Set.Nodes...).Name}
		flood := func(pass func(Channel) bool, avoid []string) map[string]bool {
			wet := map[string]bool{from: true}
			for range c.Set.Nodes {
				for _, ch := range w.Channels {
					if pass(ch) && (wet[ch.A] || wet[ch.B]) {
						for _, n := range []string{ch.A, ch.B} {
							wet[n] = wet[n] || !slices.Contains(avoid, n)
						}
					}
				}
			}
			return wet
		}
		conductor := func(ch Channel) bool { return ch.Sort == Conductor }
		joined := flood(conductor, nil)
		var group []string
		for _, n := range c.Set.Nodes {
			if joined[n.Name] {
				group = append(group, n.Name)
			}
			if got := w.Joined(from, n.Name); got != joined[n.Name] {
				t.Fatalf("%s and %s joined: %v\n%s", from, n.Name, got, text)
			}
		}
		if got := w.Group(from); !slices.Equal(got, group) {
			t.Fatalf("the group of %s is %v, want %v\n%s", from, got, group, text)
		}
		free := func(ch Channel) bool { return ch.Cost == 0 }
		wet := flood(free, avoid)
		var want []string
		for _, n := range c.Set.Nodes {
			if wet[n.Name] {
				want = append(want, n.Name)
			}
		}
		if got := w.Reached(from, avoid, free); from != avoid[0] && !slices.Equal(got, want) {
			t.Fatalf("from %s avoiding %v: %v, want %v\n%s", from, avoid, got, want, text)
		}
	})
}

// TestFaultsChangeTheWiring: what a fault opens is gone, what it shorts costs nothing.
func TestFaultsChangeTheWiring(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := drawSet(t, limits{[2]int{3, 20}, 2, 2, false}).text()
		c := newCircuit(t, loadText(t, text), Bench{})
		state := oneOf(&drawer{t: t}, c.Normal()...)
		f := oneOf(&drawer{t: t}, c.Faults...)
		w := c.Wiring(state.WithFaults(f))
		switch f.Kind {
		case Pulled:
			for _, ch := range w.Channels {
				if ch.Part == f.Part {
					t.Fatalf("%v, yet current passes by %+v\n%s", f, ch, text)
				}
			}
		case Open:
			for _, ch := range w.Channels {
				if ch.Part == f.Part && ch.Kind != InsulationOut {
					t.Fatalf("%v, yet current passes by %+v\n%s", f, ch, text)
				}
			}
		case Shorted, InsulationOut, HeaterCathode, Stuck:
			if p, ok := w.Shortest(f.Nodes[0], f.Nodes[1], Query{}); !ok || p.Cost() != 0 || !w.Joined(f.Nodes[0], f.Nodes[1]) {
				t.Fatalf("%v does not join %v: %+v\n%s", f, f.Nodes, p, text)
			}
		}
	})
}

// TestSameAnswerEveryTime: twenty circuits of one set, to the last bit.
func TestSameAnswerEveryTime(t *testing.T) {
	for _, name := range []string{"hot-chassis", "line-bypass"} {
		set := loadText(t, exampleText(t, name))
		type answer struct {
			Points   []PointResult
			Together *Worst
			Stored   []Stored
			Paths    [][]Path
		}
		var first answer
		for k := range 20 {
			c := newCircuit(t, set, Bench{})
			r := c.Examine(Options{Faults: 1})
			got := answer{Together: r.Together, Stored: r.Stored}
			for _, p := range r.Points {
				q := *p
				q.TouchPoint = nil
				got.Points = append(got.Points, q)
				got.Paths = append(got.Paths, c.Wiring(c.Normal()[0]).Paths("line 1", p.Name, 3, Query{}))
			}
			if k == 0 {
				first = got
			} else if !reflect.DeepEqual(got, first) {
				t.Fatalf("%s: run %d differs from the first", name, k+1)
			}
		}
	}
}

// TestPathsInAnyOrder: what a large set's wiring keeps from one target bears on no other, so that the
// targets may be asked for in any order, as they are side by side.
func TestPathsInAnyOrder(t *testing.T) {
	checkTimes(t, 300, func(t *rapid.T) {
		text := drawSet(t, limits{[2]int{3, 14}, 1, 1, true}).text()
		set := loadText(t, text)
		ask := func(reverse bool) map[string][]Path {
			c := newCircuit(t, set, Bench{})
			state := c.Normal()[0]
			w := c.Wiring(state)
			hot, _ := c.Blades(state.Plug)
			nodes := slices.Clone(set.Nodes)
			if reverse {
				slices.Reverse(nodes)
			}
			told := map[string][]Path{}
			for _, n := range nodes {
				told[n.Name] = w.pathsWithin([]float64{0, 2, safeguardWeight + 2}, hot, n.Name, 3, Query{Avoid: w.Ends()})
			}
			return told
		}
		if there, back := ask(false), ask(true); !reflect.DeepEqual(there, back) {
			t.Fatalf("in the order of the file %v, from its end %v\n%s", there, back, text)
		}
	})
}
