package phrase

import "strings"

// Be is "is" for one thing and "are" for several.
func Be(n int) string { return Pick(n, "is", "are") }

// Were is "was" for one thing and "were" for several.
func Were(n int) string { return Pick(n, "was", "were") }

// Verb is a regular verb as one thing or several have it: "startles", "startle".
func Verb(n int, verb string) string { return Pick(n, verb+"s", verb) }

// It is "it" for one thing and "them" for several.
func It(n int) string { return Pick(n, "it", "them") }

// Pick is the one word for one thing and the other for several.
func Pick(n int, one, several string) string {
	if n == 1 {
		return one
	}
	return several
}

// Things counts what names stand for: one name that is a plural ("extension sockets") stands for
// several.
func Things(names []string) int {
	if len(names) == 1 && plural(names[0]) {
		return 2
	}
	return len(names)
}

// plural reports whether a name ends as a plural does: "cabinet screws", and not "chassis".
func plural(name string) bool {
	name = strings.ToLower(name)
	if len(name) < 4 || !strings.HasSuffix(name, "s") {
		return false
	}
	for _, singular := range []string{"ss", "is", "us"} {
		if strings.HasSuffix(name, singular) {
			return false
		}
	}
	return true
}
