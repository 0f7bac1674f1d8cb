package rework

import "coldcheck/analysis"

// mostCompared is how many states with a set of failures are looked at to compare one plan's outcome
// at two failures at once: some half a second's work.
const mostCompared = 1.5e6

// fewPoints is up to how many touch points a state is looked at for all of them at once.
const fewPoints = 32

// What it takes beside what analysis reckons to read the figures with a failure that costs nothing
// beside another one: such are many where many parts are suspect.
const (
	fewReadings = 50_000
	perReading  = 3e-3 // ms
)

// failuresFor is at how many failures at once a plan's outcome is looked at: two, or one where two
// would take long. A plan tells which, beside its depths.
func failuresFor(c *analysis.Circuit) int {
	free, costly := c.CountFaults()
	// Of each two that cost, alone or with one that costs nothing.
	looks := costly * costly / 2 * (1 + free) * c.CountStates()
	if n := len(c.Points); n > fewPoints {
		looks *= float64(n)
	}
	if looks > mostCompared {
		return searchFaults
	}
	return analysis.DefaultFaults
}

// milliseconds is the work of examining a set at single failures, reckoned by counts, so that what
// rests on it is the same on every machine.
func milliseconds(c *analysis.Circuit) float64 {
	free, costly := c.CountFaults()
	readings := free * (costly + free/2) * c.CountStates() * float64(len(c.Points))
	return c.Milliseconds() + perReading*max(0, readings-fewReadings)
}
