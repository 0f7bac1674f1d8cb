package phrase

import (
	"fmt"
	"strings"

	"coldcheck/netlist"
)

// List joins words as a sentence does: "a", "a and b", "a, b and c".
func List(words []string) string { return joined(words, " and ") }

// Or is List with "or".
func Or(words []string) string { return joined(words, " or ") }

func joined(words []string, last string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + last + words[n-1]
}

// Few is List of the first n words and how many more there are. One more is told in full: its name
// is as short as the count.
func Few(words []string, n int) string {
	if len(words) <= n+1 {
		return List(words)
	}
	return fmt.Sprintf("%s and %d more", strings.Join(words[:n], ", "), len(words)-n)
}

// FewOf joins the first n words with a separator, then how many more there are of what: "a; b; 2
// more ways".
func FewOf(words []string, n int, separator, more string) string {
	if len(words) <= n+1 {
		return strings.Join(words, separator)
	}
	return strings.Join(words[:n], separator) + separator + fmt.Sprintf("%d %s", len(words)-n, more)
}

// Counted is "1 part" or "3 parts".
func Counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// Visible makes names fit for a terminal.
func Visible(names []string) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = netlist.Visible(n)
	}
	return out
}

// Ends tells the two ends of something: "line 1 to chassis".
func Ends(a, b string) string {
	return netlist.Visible(a) + " to " + netlist.Visible(b)
}

// Metal tells a piece of metal with all its names.
func Metal(names []string) string {
	if len(names) < 2 {
		return List(names)
	}
	return List(names) + " (one piece of metal)"
}
