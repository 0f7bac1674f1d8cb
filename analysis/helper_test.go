package analysis

import (
	"pgregory.net/rapid"

	"coldcheck/analysis/internal/circuit/circuittest"
	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

func newCircuit(t settest.TB, set *netlist.Set, bench Bench) *Circuit {
	t.Helper()
	c, err := New(set, bench)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return c
}

// circuitOf is a circuit of those parts, as settest.With writes them, on the mains.
func circuitOf(t settest.TB, parts string, touch ...string) *Circuit {
	t.Helper()
	return newCircuit(t, settest.Load(t, settest.With(parts, touch...)), Bench{})
}

func drawBench(t *rapid.T, set *netlist.Set) Bench { return Bench(settest.DrawBench(t, set)) }

// faultOf finds a fault by its part and kind, and by its two nodes where those are given.
func faultOf(t settest.TB, c *Circuit, part string, kind FaultKind, nodes ...string) *Fault {
	t.Helper()
	return circuittest.Fault(t, c.Circuit, part, kind, nodes...)
}

// on is a state by plug polarity and the positions of some controls.
func on(c *Circuit, plug Polarity, settings ...string) State {
	return circuittest.On(c.Circuit, plug, settings...)
}
