package usage

import (
	"fmt"

	"coldcheck/netlist"
)

// Meant offers the word that was most likely meant, "" where there is none to offer.
func Meant(word string) string { return MeantOr(word, "") }

// MeantOr is Meant, or other words where there is no word to offer.
func MeantOr(word, otherwise string) string {
	switch {
	case word != "":
		return fmt.Sprintf("; did you mean %s?", netlist.Visible(word))
	case otherwise != "":
		return "; " + otherwise
	}
	return ""
}
