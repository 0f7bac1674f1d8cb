package netlist

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"coldcheck/netlist/internal/words"
)

// CheckNodeName trims a point's name, or says what is wrong with it.
func CheckNodeName(s string) (name, wrong string) {
	name = strings.TrimSpace(s)
	switch {
	case name == "":
		return "", "the name of a point is empty; write a name, like \"line 1\""
	case utf8.RuneCountInString(name) > MaxNameRunes:
		return "", fmt.Sprintf("the name of a point is longer than %d characters; shorten %s", MaxNameRunes, words.Quote(name))
	case strings.ContainsFunc(name, unicode.IsControl):
		return "", fmt.Sprintf("the name of a point has a control character in it; take it out of %s", words.Quote(name))
	}
	return name, ""
}

// PartNamePattern is what a part may be called.
const PartNamePattern = `^[A-Za-z0-9_-]{1,32}$`

var partName = words.Pattern(PartNamePattern)

// SupplyName stands for the supply where faults are told, so no part has it.
const SupplyName = "supply"

// IsPartName reports whether a part may be called so, the reserved name aside.
func IsPartName(name string) bool { return partName().MatchString(name) }
