// Package circuittest is what the tests of the packages that stand on circuit share. Nothing but tests
// imports it.
package circuittest

import (
	"pgregory.net/rapid"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

// New makes a set ready on a bench.
func New(t settest.TB, set *netlist.Set, bench circuit.Bench) *circuit.Circuit {
	t.Helper()
	c, err := circuit.New(set, bench)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return c
}

// With is a circuit of those parts, as settest.With writes them, on the mains.
func With(t settest.TB, parts string, touch ...string) *circuit.Circuit {
	t.Helper()
	return New(t, settest.Load(t, settest.With(parts, touch...)), circuit.Bench{})
}

// Draw draws a set, on a bench where it may be on one, and gives its text.
func Draw(t *rapid.T, l settest.Limits, bench bool) (c *circuit.Circuit, text string) {
	text = settest.Draw(t, l).Text()
	set, b := settest.Load(t, text), settest.Bench{}
	if bench {
		b = settest.DrawBench(t, set)
	}
	return New(t, set, circuit.Bench(b)), text
}

// Fault finds a fault by its part and kind, and by its two nodes where those are given.
func Fault(t settest.TB, c *circuit.Circuit, part string, kind circuit.FaultKind, nodes ...string) *circuit.Fault {
	t.Helper()
	for _, f := range c.Faults {
		if f.Part == part && f.Kind == kind && (len(nodes) == 0 || f.Nodes == [2]string{nodes[0], nodes[1]}) {
			return f
		}
	}
	t.Fatalf("no fault %s %s %v", part, kind, nodes)
	return nil
}

// On is a state by plug polarity and the positions of some controls: control, position, and so on.
func On(c *circuit.Circuit, plug circuit.Polarity, settings ...string) circuit.State {
	at := map[string]string{}
	for i := 0; i < len(settings); i += 2 {
		at[settings[i]] = settings[i+1]
	}
	return c.StateOf(plug, at)
}
