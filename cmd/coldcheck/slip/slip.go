// Package slip guesses which word was meant where one is written that is not known.
package slip

import (
	"fmt"
	"strings"

	"coldcheck/netlist"
)

// Meant offers the word that was most likely meant, "" where there is none to offer.
func Meant(word string) string {
	if word == "" {
		return ""
	}
	return fmt.Sprintf("; did you mean %s?", netlist.Visible(word))
}

// Nearest is the known word that a word was most likely meant to be: one slip in three letters,
// else one that it is the beginning of. It is "" where none is near.
func Nearest(word string, known []string) string {
	w := strings.ToLower(word)
	limit := min(3, (len([]rune(w))+1)/3)
	best := ""
	for _, k := range known {
		if slips := slipsBetween([]rune(w), []rune(strings.ToLower(k))); slips < limit || slips == limit && best == "" {
			best, limit = k, slips
		}
	}
	if best == "" && len(w) >= 2 {
		for _, k := range known {
			if strings.HasPrefix(strings.ToLower(k), w) {
				return k
			}
		}
	}
	return best
}

// maxCompared bounds the words that are compared; longer ones are no slip.
const maxCompared = 64

// slipsBetween counts the letters left out, added, changed or swapped with their neighbour that
// turn a into b (optimal string alignment distance).
func slipsBetween(a, b []rune) int {
	if len(a) > maxCompared || len(b) > maxCompared {
		return maxCompared
	}
	before, last := make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := range a {
		row := make([]int, len(b)+1)
		row[0] = i + 1
		for j := range b {
			change := 1
			if a[i] == b[j] {
				change = 0
			}
			row[j+1] = min(last[j+1]+1, row[j]+1, last[j]+change)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last = last, row
	}
	return last[len(b)]
}

// MeantOr is Meant, or other words where there is no word to offer.
func MeantOr(word, otherwise string) string {
	if word == "" {
		return "; " + otherwise
	}
	return Meant(word)
}
