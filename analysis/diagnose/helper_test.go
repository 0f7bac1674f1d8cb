package diagnose

import (
	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

func newCircuit(t settest.TB, set *netlist.Set, bench analysis.Bench) *analysis.Circuit {
	t.Helper()
	c, err := analysis.New(set, bench)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return c
}

// circuitOf is a circuit of those parts, as settest.With writes them, on the mains.
func circuitOf(t settest.TB, parts string, touch ...string) *analysis.Circuit {
	t.Helper()
	return newCircuit(t, settest.Load(t, settest.With(parts, touch...)), analysis.Bench{})
}
