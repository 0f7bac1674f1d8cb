package nodal

import (
	"testing"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/circuit/circuittest"
	"coldcheck/netlist/settest"
)

// BenchmarkFactorAndColumns: the equations of one combination of switch positions, written, factored,
// and solved once for every port.
func BenchmarkFactorAndColumns(b *testing.B) {
	n := NewNetwork(circuittest.New(b, settest.LargestExample(b), circuit.Bench{}))
	for b.Loop() {
		b := n.assemble(n.keyOf(0, circuit.Blocking, circuit.AsMarked, variant{}), nil)
		for p := range b.columns {
			b.column(p)
		}
	}
}

// BenchmarkOneFaultSet: one set of faults put into equations whose columns are there.
func BenchmarkOneFaultSet(b *testing.B) {
	c := circuittest.New(b, settest.LargestExample(b), circuit.Bench{})
	e := NewNetwork(c).Evaluator(0)
	faults := []*circuit.Fault{c.Faults[len(c.Faults)/3], c.Faults[len(c.Faults)/2]}
	for b.Loop() {
		e.Evaluate(faults, Ask{Plugs: Only(circuit.AsMarked)}, func(x *Evaluation) bool {
			for k := range e.Watched {
				x.Source(k, -1)
			}
			return true
		})
	}
}
