package words

import (
	"fmt"
	"strings"
)

// Count gives a number and what is counted: "1 point", "3 points".
func Count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// Choices lists words of which one is to be taken: "a, b or c".
func Choices(all []string) string { return Join(all, ", ", " or ") }

// And lists words of which all are meant: "a, b and c".
func And(all []string) string { return Join(all, ", ", " and ") }

// Join lists words with one thing between them, and another before the last.
func Join(all []string, between, last string) string {
	if len(all) < 2 {
		return strings.Join(all, "")
	}
	return strings.Join(all[:len(all)-1], between) + last + all[len(all)-1]
}
