package topology

import (
	"cmp"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/circuit/circuittest"
	"coldcheck/netlist/settest"
)

// drawWiring draws a set and one of its normal states.
func drawWiring(t *rapid.T, l settest.Limits) (*circuit.Circuit, circuit.State, *Wiring, string) {
	c, text := circuittest.Draw(t, l, false)
	state := settest.OneOf(settest.NewDrawer(t), c.Normal()...)
	return c, state, NewWirings(c).Of(state), text
}

// TestShortestHoldsTogether: from either blade to every node.
func TestShortestHoldsTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, _, w, text := drawWiring(t, settest.Limits{Parts: [2]int{3, 25}, Switches: 2, Controls: 1, Sections: 3, Failed: true})
		for _, from := range []string{c.Plug.Hot, c.Plug.Neutral} {
			for _, n := range c.Set.Nodes {
				if p, ok := w.Shortest(from, n.Name, Query{}); ok {
					holdsTogether(t, c, p, text)
				}
			}
		}
	})
}

// holdsTogether: every step is a part that has both nodes, each step begins where the last ended,
// and no node is entered twice.
func holdsTogether(t settest.TB, c *circuit.Circuit, p Path, text string) {
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

// everyPath walks depth-first over every path that enters no node twice.
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
		c, state, w, text := drawWiring(t, settest.Limits{Parts: [2]int{2, 9}, Switches: 1, Controls: 1, Sections: 1, Failed: true})
		d := settest.NewDrawer(t)
		from, to := c.Plug.Hot, settest.OneOf(d, c.Set.Nodes...).Name
		var q Query
		if d.Percent(40) {
			q.Avoid = []string{settest.OneOf(d, c.Set.Nodes...).Name}
		}
		if d.Percent(40) {
			shut := settest.OneOf(d, Insulating, Capacitive, Load)
			q.Pass = func(ch Channel) bool { return ch.Sort != shut }
		}
		want := everyPath(w, from, to, q.Pass, q.Avoid)
		n := 1 + d.N(6)
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
		c, _, w, text := drawWiring(t, settest.Limits{Parts: [2]int{3, 20}, Switches: 2, Controls: 1, Sections: 2, Failed: true})
		d := settest.NewDrawer(t)
		from := settest.OneOf(d, c.Set.Nodes...).Name
		avoid := []string{settest.OneOf(d, c.Set.Nodes...).Name}
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
		c, text := circuittest.Draw(t, settest.Limits{Parts: [2]int{3, 20}, Switches: 2, Controls: 1, Sections: 2}, false)
		state := settest.OneOf(settest.NewDrawer(t), c.Normal()...)
		f := settest.OneOf(settest.NewDrawer(t), c.Faults...)
		w := NewWirings(c).Of(state.WithFaults(f))
		switch f.Kind {
		case circuit.Pulled:
			for _, ch := range w.Channels {
				if ch.Part == f.Part {
					t.Fatalf("%v, yet current passes by %+v\n%s", f, ch, text)
				}
			}
		case circuit.Open:
			for _, ch := range w.Channels {
				if ch.Part == f.Part && ch.Kind != circuit.InsulationOut {
					t.Fatalf("%v, yet current passes by %+v\n%s", f, ch, text)
				}
			}
		case circuit.Shorted, circuit.InsulationOut, circuit.HeaterCathode, circuit.Stuck:
			if p, ok := w.Shortest(f.Nodes[0], f.Nodes[1], Query{}); !ok || p.Cost() != 0 || !w.Joined(f.Nodes[0], f.Nodes[1]) {
				t.Fatalf("%v does not join %v: %+v\n%s", f, f.Nodes, p, text)
			}
		}
	})
}

// TestPathsInAnyOrder: what a large set's wiring keeps from one target bears on no other, so that the
// targets may be asked for in any order, as they are side by side.
func TestPathsInAnyOrder(t *testing.T) {
	settest.Check(t, 300, func(t *rapid.T) {
		text := settest.Draw(t, settest.Limits{Parts: [2]int{3, 14}, Switches: 1, Controls: 1, Sections: 1, Failed: true}).Text()
		set := settest.Load(t, text)
		ask := func(reverse bool) map[string][]Path {
			c := circuittest.New(t, set, circuit.Bench{})
			state := c.Normal()[0]
			w := NewWirings(c).Of(state)
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

// TestPathParts: the parts of a path in order, each once, and whether it leads through one.
func TestPathParts(t *testing.T) {
	var steps []Step
	for _, part := range []string{"R1", "V1", "V1", "C1", "R1"} {
		steps = append(steps, Step{Channel: Channel{Part: part}})
	}
	p := &Path{Steps: steps}
	if got := p.Parts(); !slices.Equal(got, []string{"R1", "V1", "C1"}) {
		t.Errorf("parts %q, want R1, V1 and C1", got)
	}
	if !p.Leads("C1") || p.Leads("C2") {
		t.Errorf("leads through C1 %v, through C2 %v; want true, false", p.Leads("C1"), p.Leads("C2"))
	}
	if got := (*Path)(nil).Parts(); got == nil || len(got) > 0 {
		t.Errorf("parts of no path %q, want an empty list", got)
	}
}
