package topology

import (
	"slices"
	"sync"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/unionfind"
	"coldcheck/netlist"
)

// Wirings keeps the wirings of a circuit's states without faults. Many goroutines may use it.
type Wirings struct {
	c    *circuit.Circuit
	lock sync.Mutex
	kept map[wiringKey]*shared
}

// NewWirings keeps none yet.
func NewWirings(c *circuit.Circuit) *Wirings {
	return &Wirings{c: c, kept: map[wiringKey]*shared{}}
}

// Forget lets go of what is kept. It is made again when it is asked for.
func (ws *Wirings) Forget() {
	ws.lock.Lock()
	defer ws.lock.Unlock()
	clear(ws.kept)
}

// Wiring is the set in one state as a graph: a vertex a node, an edge a channel.
type Wiring struct {
	c        *circuit.Circuit
	State    circuit.State
	Channels []Channel
	*shared
}

// shared is what the wirings share of states that differ in the plug's polarity alone.
type shared struct {
	channels []Channel
	graph    *channelGraph
	groups   func() []int // by node, the first node that conductors alone join to it
	lock     sync.Mutex   // of weights
	weights  map[string][]float64
}

// wiringKey tells the wirings of states without faults apart.
type wiringKey struct {
	position int
	without  bool
	diodes   bool // the small ones conduct
}

// Of lays out the channels of a state.
func (ws *Wirings) Of(state circuit.State) *Wiring {
	c := ws.c
	if len(state.Faults) > 0 || len(state.Blown) > 0 {
		return newWiring(c, state, newShared(c, state))
	}
	key := wiringKey{state.Position, state.Without && c.HasFailed, state.Rectifier == circuit.SmallDiodes}
	ws.lock.Lock()
	l := ws.kept[key]
	ws.lock.Unlock()
	if l == nil {
		l = newShared(c, state)
		ws.lock.Lock()
		ws.kept[key] = l
		ws.lock.Unlock()
	}
	return newWiring(c, state, l)
}

func newWiring(c *circuit.Circuit, state circuit.State, l *shared) *Wiring {
	return &Wiring{c: c, State: state, Channels: l.channels, shared: l}
}

func newShared(c *circuit.Circuit, state circuit.State) *shared {
	l := &shared{channels: channelsIn(c, state)}
	l.graph = newChannelGraph(len(c.Set.Nodes), l.channels)
	l.groups = sync.OnceValue(func() []int {
		joined := unionfind.New(len(c.Set.Nodes))
		for _, ch := range l.channels {
			if ch.Sort == Conductor {
				joined.Union(ch.a, ch.b)
			}
		}
		return joined.Firsts()
	})
	return l
}

// Joined reports whether conductors alone join two nodes in the state.
func (w *Wiring) Joined(a, b string) bool {
	i, ok := w.c.Node(a)
	j, also := w.c.Node(b)
	return ok && also && w.groups()[i] == w.groups()[j]
}

// AcrossLine reports whether conductors put two nodes across the line, where the blades are not joined.
func (w *Wiring) AcrossLine(a, b string) bool {
	hot, neutral := w.c.Plug.Hot, w.c.Plug.Neutral
	return !w.Joined(hot, neutral) && (w.Joined(a, hot) && w.Joined(b, neutral) || w.Joined(a, neutral) && w.Joined(b, hot))
}

// Group lists the nodes that conductors alone join to a node, itself among them, in the order of
// the file.
func (w *Wiring) Group(node string) []string {
	i, ok := w.c.Node(node)
	if !ok {
		return nil
	}
	var names []string
	groups := w.groups()
	for j, g := range groups {
		if g == groups[i] {
			names = append(names, w.c.NodeName(j))
		}
	}
	return names
}

// Groups gives each node a number, the same for those that conductors alone join: that of the first
// of them in the order of the file.
func (w *Wiring) Groups() map[string]int {
	groups := make(map[string]int, len(w.c.Set.Nodes))
	for i, g := range w.groups() {
		groups[w.c.NodeName(i)] = g
	}
	return groups
}

// Reached lists, in the order of the file, the nodes that channels let through by pass reach from
// a node, itself among them, without entering the nodes to avoid.
func (w *Wiring) Reached(from string, avoid []string, pass func(Channel) bool) []string {
	return w.ReachedFrom([]string{from}, avoid, pass)
}

// ReachedFrom is Reached from any of several nodes.
func (w *Wiring) ReachedFrom(from []string, avoid []string, pass func(Channel) bool) []string {
	var starts []int
	for _, name := range from {
		if start, ok := w.c.Node(name); ok {
			starts = append(starts, start)
		}
	}
	reached := w.graph.reach(starts, w.blocked(avoid), func(k int) bool { return pass(w.Channels[k]) })
	var names []string
	for i, yes := range reached {
		if yes {
			names = append(names, w.c.NodeName(i))
		}
	}
	return names
}

func (w *Wiring) blocked(avoid []string) []bool {
	blocked := make([]bool, len(w.c.Set.Nodes))
	for _, name := range avoid {
		if i, ok := w.c.Node(name); ok {
			blocked[i] = true
		}
	}
	return blocked
}

// Ends lists the nodes at which a path from the hot side ends without going on: the other blade
// and what conductors join to it, unless the neutral is lost, and every earth.
func (w *Wiring) Ends() []string {
	hot, _ := w.c.Blades(w.State.Plug)
	return w.EndsOf(hot)
}

// EndsOf is Ends of a path from either blade.
func (w *Wiring) EndsOf(blade string) []string {
	k, other := 1, w.c.Plug.Neutral
	if blade == other {
		k, other = 0, w.c.Plug.Hot
	}
	var ends []string
	if !slices.ContainsFunc(w.State.Faults, func(f *circuit.Fault) bool {
		return f.Kind == circuit.NeutralLost && w.c.LostBlade(f, w.State.Plug) == k
	}) {
		ends = w.Group(other)
	}
	if w.c.Plug.Earth != "" && !slices.ContainsFunc(w.State.Faults, func(f *circuit.Fault) bool { return f.Part == circuit.SupplyName && f.Kind == circuit.EarthLost }) {
		ends = append(ends, w.Group(w.c.Plug.Earth)...)
	}
	ends = append(ends, w.Group(netlist.BuildingEarth)...)
	return ends
}
