package netlist

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
)

const (
	numberPattern    = `([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?`
	thousandsPattern = `[0-9]{1,3}(,[0-9]{3})+(\.[0-9]*)?([eE][-+]?[0-9]+)?`
	fractionPattern  = `([0-9]+|[0-9]{1,3}(,[0-9]{3})+)/[1-9][0-9]*`
)

// ValuePattern is a value as text, blanks around it aside.
func ValuePattern(unit Unit) string {
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
	return `(\+?(` + numberPattern + `|` + thousandsPattern + `|` + fractionPattern + `)\s*` + prefixed + `|\+?` + infix + `)`
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
			b.WriteString(regexp.QuoteMeta(string(r)))
		default:
			b.WriteString("[" + string(lower) + string(upper) + "]")
		}
	}
	return b.String()
}

// MainsPattern is volts, and hertz after them.
func MainsPattern() string {
	return `^\s*` + ValuePattern(Volt) + `(\s*[aA]\.?\s*[cC]\.?)?[\s,;/]*` + ValuePattern(Hertz) + `(\s*[aA]\.?[cC]\.?)?\s*$`
}

// BandsPattern is three to six colours.
func BandsPattern() string { return coloursPattern("{2,5}") }

// DotPattern is three colours.
func DotPattern() string { return coloursPattern("{2}") }

// coloursPattern is a colour and so many more.
func coloursPattern(more string) string {
	var all []string
	for _, c := range slices.Concat(colours, []string{"gray", "purple", "gold", "silver", "pink"}) {
		all = append(all, anyCase(c))
	}
	colour := `(` + strings.Join(all, "|") + `)`
	return `^[\s,;/]*` + colour + `([\s,;/]+` + colour + `)` + more + `[\s,;/]*$`
}

// WordsPattern is one of some words in which letter case is free, and blanks, _ and - are one.
func WordsPattern(all []string) string {
	patterns := make([]string, len(all))
	for i, w := range all {
		parts := strings.Fields(strings.ToLower(w))
		for j := range parts {
			parts[j] = anyCase(parts[j])
		}
		patterns[i] = strings.Join(parts, `[ _-]+`)
	}
	return `[ _-]*(` + strings.Join(patterns, "|") + `)[ _-]*`
}
