package schema

import (
	"fmt"

	"coldcheck/netlist"
)

// The patterns keep to what the regular expressions of ECMA-262, which JSON Schema names, and those
// of other engines have in common: no classes by name, no flags, no looking ahead.

// pointPattern is a point's name: no control characters, 1 to netlist.MaxNameRunes once trimmed.
func pointPattern() string {
	const inner, end = `[^\x00-\x1f\x7f-\x9f]`, `[^\s\x00-\x1f\x7f-\x9f]`
	return fmt.Sprintf(`^\s*%s(%s{0,%d}%s)?\s*$`, end, inner, netlist.MaxNameRunes-2, end)
}

// pinPattern is a pin's number, 1 to netlist.MaxPin.
const pinPattern = `^[1-9][0-9]?$`

// percentPattern is "10 %", "±10" or "10".
const percentPattern = `^\s*(±|\+/-)?\s*([0-9]+\.?[0-9]*|\.[0-9]+)\s*%?\s*$`

// ratingPattern is volts, as capacitors are marked: AC or DC, working volts.
func ratingPattern() string {
	return `^\s*` + netlist.ValuePattern(netlist.Volt) + `\s*([wW]\.?[vV]\.?)?\s*([aAdD]\.?[cC]\.?|~)?\s*$`
}

// leakPattern is a current at a voltage.
func leakPattern() string {
	return `^\s*` + netlist.ValuePattern(netlist.Ampere) + `\s+([aA][tT]|@)\s+` + netlist.ValuePattern(netlist.Volt) + `\s*$`
}
