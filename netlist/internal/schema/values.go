package schema

import (
	"coldcheck/netlist"
)

// The patterns keep to what the regular expressions of ECMA-262, which JSON Schema names, and those
// of other engines have in common: no classes by name, no flags, no looking ahead.

// pointPattern is a point's name: no control characters, 1 to MaxNameRunes once trimmed.
const pointPattern = `^\s*[^\s\x00-\x1f\x7f-\x9f]([^\x00-\x1f\x7f-\x9f]{0,62}[^\s\x00-\x1f\x7f-\x9f])?\s*$`

// pinPattern is a pin's number, 1 to maxPin.
const pinPattern = `^[1-9][0-9]?$`

// percentPattern is "10 %", "±10" or "10".
const percentPattern = `^\s*(±|\+/-)?\s*([0-9]+\.?[0-9]*|\.[0-9]+)\s*%?\s*$`

// valueSchema is a number in the base unit, or text with prefix and unit.
func valueSchema(unit netlist.Unit) Object {
	text := Object{"type": "string", "pattern": `^\s*` + netlist.ValuePattern(unit) + `\s*$`}
	if unit == netlist.Farad { // a capacitance needs its unit
		return text
	}
	return Object{"anyOf": []any{numberIn(unit), text}}
}

func numberIn(unit netlist.Unit) Object {
	least, most := unit.Range()
	return Object{"type": "number", "minimum": least, "maximum": most}
}

func ratingPattern() string {
	return `^\s*` + netlist.ValuePattern(netlist.Volt) + `\s*([wW]\.?[vV]\.?)?\s*([aAdD]\.?[cC]\.?|~)?\s*$`
}

// leakPattern is a current at a voltage.
func leakPattern() string {
	return `^\s*` + netlist.ValuePattern(netlist.Ampere) + `\s+([aA][tT]|@)\s+` + netlist.ValuePattern(netlist.Volt) + `\s*$`
}

// readingValueSchema is what a meter shows, which may be zero.
func readingValueSchema(k *netlist.KeyInfo) Object {
	number := Object{"type": "number"}
	sign := `\+?`
	if k.Name == "dc_volts" {
		sign = `[-−+]?\s*`
	} else {
		number["minimum"] = 0
	}
	return Object{"anyOf": []any{number, Object{"type": "string", "pattern": `^\s*` + sign + netlist.ValuePattern(k.Unit) + `\s*$`}}}
}
