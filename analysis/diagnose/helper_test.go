package diagnose

import (
	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist/settest"
)

// circuitOf is a circuit of those parts, as settest.With writes them, on the mains.
func circuitOf(t settest.TB, parts string, touch ...string) *analysis.Circuit {
	t.Helper()
	return analysistest.New(t, settest.Load(t, settest.With(parts, touch...)), analysis.Bench{})
}
