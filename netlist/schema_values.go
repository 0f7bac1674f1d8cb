package netlist

import (
	"slices"
	"strings"
	"unicode"
)

// The patterns keep to what the regular expressions of ECMA-262, which JSON Schema names, and those
// of other engines have in common: no classes by name, no flags, no looking ahead.

// pointPattern is a point's name: no control characters, 1 to MaxNameRunes once trimmed.
const pointPattern = `^\s*[^\s\x00-\x1f\x7f-\x9f]([^\x00-\x1f\x7f-\x9f]{0,62}[^\s\x00-\x1f\x7f-\x9f])?\s*$`

// pinPattern is a pin's number, 1 to maxPin.
const pinPattern = `^[1-9][0-9]?$`

// percentPattern is "10 %", "±10" or "10".
const percentPattern = `^\s*(±|\+/-)?\s*([0-9]+\.?[0-9]*|\.[0-9]+)\s*%?\s*$`

const numberPattern = `([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?`

// valueSchema is a number in the base unit, or text with prefix and unit.
func valueSchema(unit Unit) Schema {
	text := Schema{"type": "string", "pattern": `^\s*` + valuePattern(unit) + `\s*$`}
	if unit == Farad { // a capacitance needs its unit
		return text
	}
	return Schema{"anyOf": []any{numberIn(unit), text}}
}

func numberIn(unit Unit) Schema {
	return Schema{"type": "number", "minimum": units[unit].min, "maximum": units[unit].max}
}

// valuePattern is a value as text, blanks around it aside.
func valuePattern(unit Unit) string {
	var words []string
	for _, word := range units[unit].words {
		words = append(words, anyCase(word))
	}
	ends := strings.Join(words, "|")
	prefixed := `(` + prefixPattern(unit) + `)?\s*(` + ends + `)?`
	infix := `[0-9]+[kKMGpnuµμm` + map[bool]string{true: "R"}[unit == Ohm] + `][0-9]+(\s*(` + ends + `))?`
	if unit == Farad {
		prefixed = `(` + prefixPattern(unit) + `)?\s*(` + ends + `)`
		infix = `[0-9]+[pnuµμPNU][0-9]+\s*(` + ends + `)`
	}
	return `(\+?` + numberPattern + `\s*` + prefixed + `|\+?` + infix + `)`
}

// prefixPattern is the prefixes that a unit may have.
func prefixPattern(unit Unit) string {
	var all []string
	if unit == Farad {
		for p := range faradPrefixes {
			all = append(all, anyCase(p))
		}
	} else {
		for p := range prefixes {
			all = append(all, p)
		}
		for p := range prefixWords {
			all = append(all, anyCase(p))
		}
	}
	slices.Sort(all)
	return strings.Join(slices.DeleteFunc(all, func(p string) bool { return p == "" }), "|")
}

// anyCase is a pattern for a word of letters in either case.
func anyCase(word string) string {
	var b strings.Builder
	for _, r := range word {
		upper, lower := unicode.ToUpper(r), unicode.ToLower(r)
		switch {
		case r == 'ω': // the letter and the sign of the unit
			b.WriteString("[ωΩ\u2126]")
		case upper == lower:
			b.WriteRune(r)
		default:
			b.WriteString("[" + string(lower) + string(upper) + "]")
		}
	}
	return b.String()
}

func ratingPattern() string {
	return `^\s*` + valuePattern(Volt) + `\s*([wW]\.?[vV]\.?)?\s*([aAdD]\.?[cC]\.?|~)?\s*$`
}

// leakPattern is a current at a voltage.
func leakPattern() string {
	return `^\s*` + valuePattern(Ampere) + `\s+([aA][tT]|@)\s+` + valuePattern(Volt) + `\s*$`
}

// mainsPattern is volts, and hertz after them.
func mainsPattern() string {
	return `^\s*` + valuePattern(Volt) + `(\s*[aA]\.?\s*[cC]\.?)?[\s,;/]*` + valuePattern(Hertz) + `\s*$`
}

// bandsPattern is three to six colours.
func bandsPattern() string {
	var all []string
	for _, c := range slices.Concat(colours, []string{"gray", "purple", "gold", "silver", "pink"}) {
		all = append(all, anyCase(c))
	}
	colour := `(` + strings.Join(all, "|") + `)`
	return `^[\s,;/]*` + colour + `([\s,;/]+` + colour + `){2,5}[\s,;/]*$`
}

// readingSchema is what a meter shows, which may be zero.
func (k *KeyInfo) readingSchema() Schema {
	number := Schema{"type": "number"}
	sign := `\+?`
	if k.Name == "dc_volts" {
		sign = `[-−+]?\s*`
	} else {
		number["minimum"] = 0
	}
	return Schema{"anyOf": []any{number, Schema{"type": "string", "pattern": `^\s*` + sign + valuePattern(k.Unit) + `\s*$`}}}
}
