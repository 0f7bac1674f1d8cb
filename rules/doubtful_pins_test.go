package rules

import "testing"

// Tubes of a type with pins in doubt are told in one finding with the pins; a type that is sure is not.
func TestDoubtfulPins(t *testing.T) {
	with := func(name string) *Report {
		tube := ` = { kind = "tube", type = "` + name + `", pins = { 3 = "H", 4 = "B-" } }`
		return check(t, polarized, switchHot, wireNeut, toChassis, "V1"+tube, "V2"+tube)
	}
	one(t, with("117Z3"), "doubtful-pins", Caution, "V1 and V2 (117Z3)", "pins 5 and 6")
	silent(t, with("12AX7"), "doubtful-pins")
}
