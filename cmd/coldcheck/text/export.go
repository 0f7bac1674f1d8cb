package text

import (
	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
)

// What the text report says is said in the same words elsewhere.

// Digits tells a figure with three digits, and no exponent.
func Digits(x float64) string { return digits(x) }

// Guarded is a touch point's name with what keeps fingers off it.
func Guarded(p *analysis.TouchPoint) string { return guarded(p) }

// Mains tells the mains that the set is for.
func Mains(set *netlist.Set) string { return mains(set) }

// Inventory tells what the file describes.
func Inventory(c *analysis.Circuit) string { return inventory(c) }

// OnBuildingEarth says which parts stand on the building's earth, "" where none does.
func OnBuildingEarth(set *netlist.Set) string { return onBuildingEarth(set) }

// Undescribed lists the kinds of touchable metal of which the file has none.
func Undescribed(set *netlist.Set) []string { return undescribed(set) }

// BlindSpots are the things that the model leaves out and that bear on this set.
func BlindSpots(k *rules.Case) []string { return blindSpots(k) }

// BenchChecks are what no file can answer.
func BenchChecks(c *analysis.Circuit) string { return benchChecks(c) }

// WorstWords tells the worst of several states.
func WorstWords(w *analysis.Worst) string { return worstWords(w) }
