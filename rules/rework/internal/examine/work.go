package examine

import (
	"coldcheck/analysis"
	"coldcheck/analysis/budget"
)

// fewPoints is up to how many touch points one state evaluation judges them all.
const fewPoints = 32

const (
	// perReading is what it takes to read a figure at a touch point with a failure that costs nothing
	// beside another one, beyond the fewReadings that Circuit.Work has in it: such are many where
	// many parts are suspect.
	perReading  = 6
	fewReadings = 50_000
)

// Work is what it takes to examine a circuit at single failures and to judge it.
func Work(c *analysis.Circuit) budget.Count {
	free, costly := c.CountFaults()
	readings := free * (costly + free/2) * c.CountStates() * float64(len(c.Points))
	return c.Work() + budget.Count(perReading*max(0, readings-fewReadings))
}

// WorkOf is what it takes to examine a circuit for that many failures.
func WorkOf(c *analysis.Circuit, faults int) budget.Count {
	if faults <= OneFailure {
		return Work(c)
	}
	return Work(c) + pairs(c)
}

// pairs is what looking for two failures takes besides: each two that cost, alone or with one that
// costs nothing.
func pairs(c *analysis.Circuit) budget.Count {
	free, costly := c.CountFaults()
	evaluations := costly * costly / 2 * (1 + free) * c.CountStates()
	if n := len(c.Points); n > fewPoints {
		evaluations *= float64(n)
	}
	return budget.Count(evaluations)
}

// OutcomeFaults is for how many failures a plan's outcome is examined: two, or one where two would
// take long. The report of the outcome tells which.
func OutcomeFaults(c *analysis.Circuit) int {
	if !budget.New(budget.Outcome).Take(pairs(c)) {
		return OneFailure
	}
	return analysis.DefaultFaults
}
