// Package examine examines a set before, on and after a rework, and says beforehand what that takes,
// so that whoever has a budget can leave it.
package examine

import (
	"runtime"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
)

const (
	// OneFailure is K where only findings of WARNING and more are asked for: they rest on one failure
	// at most.
	OneFailure = 1
	// together is how many faults are looked at together: beside one failure as many suspect parts as
	// a look for two failures lets in.
	together = analysis.DefaultFaults + 1
)

// Circuit is a set on the bare mains.
func Circuit(set *netlist.Set) *analysis.Circuit {
	circuit, _ := analysis.New(set, analysis.Bench{}) // no bench, so no node to miss
	return circuit
}

// Report examines a set on the bare mains for that many failures.
func Report(set *netlist.Set, faults int) *rules.Report { return Slim(Circuit(set), faults) }

// ReportAfter is Report of a set after a small change: what it does while it plays is found from what it did
// before.
func ReportAfter(before *analysis.Circuit, set *netlist.Set, faults int) *rules.Report {
	circuit := Circuit(set)
	circuit.BeginFrom(before)
	return Slim(circuit, faults)
}

// Full examines a circuit and keeps all that was solved.
func Full(circuit *analysis.Circuit, faults int) *rules.Report {
	return rules.Check(circuit, options(faults))
}

func options(faults int) analysis.Options {
	return analysis.Options{Faults: faults, Together: together}
}

// Result is what the search finds of a set on the bare mains, where what the rules say of it is not asked for, nor
// of any points and pairs but those that are sought.
func Result(set *netlist.Set, faults int, sought analysis.Sought) *analysis.Result {
	circuit := Circuit(set)
	defer collect(circuit)
	return circuit.ExamineOf(options(faults), sought)
}

// Slim examines a circuit and keeps what a comparison asks for: several such reports are kept, and the
// solved states of a large set take far more room.
func Slim(circuit *analysis.Circuit, faults int) *rules.Report {
	report := Full(circuit, faults)
	report.Slim()
	collect(circuit)
	return report
}

// collect lets go of what a large circuit took: the next such set would come on top of it.
func collect(circuit *analysis.Circuit) {
	if circuit.Bytes() > collected {
		runtime.GC()
	}
}

// collected is how many bytes of equations are collected at once when they are let go.
const collected = 16 << 20

// AtOnce is how many sets like this one are examined at a time: of very large ones few, for the room
// that they take, some four times that of their equations.
func AtOnce(circuit *analysis.Circuit) int {
	const room = 80 << 20 // bytes of equations
	return max(1, min(runtime.GOMAXPROCS(0), int(room/circuit.Bytes())))
}

// SideBySide calls examine for 0 to n-1, so many at a time at most.
func SideBySide(n, atOnce int, examine func(i int)) {
	if atOnce >= runtime.GOMAXPROCS(0) {
		analysis.SideBySide(n, examine)
		return
	}
	for first := 0; first < n; first += atOnce {
		analysis.SideBySide(min(atOnce, n-first), func(i int) { examine(first + i) })
	}
}
