package words

import "strings"

// MaxCompared is how long a word may be to be compared with others; longer ones are no slip.
const MaxCompared = 64

// Nearest returns the known word that s most likely was meant to be, "" where none is near. Of
// several as near the first is taken; failing all, one that s is the beginning of.
func Nearest(s string, known []string) string {
	folded := []rune(FoldName(s))
	if len(folded) == 0 || len(folded) > MaxCompared {
		return ""
	}
	// One slip in three letters, and never more than three.
	best, limit := "", min(3, (len(folded)+1)/3)
	for _, word := range known {
		other := []rune(FoldName(word))
		if abs(len(other)-len(folded)) > limit || len(other) > MaxCompared {
			continue
		}
		if d := slipsBetween(folded, other); d < limit || d == limit && best == "" {
			best, limit = word, d
		}
		if best != "" && limit == 0 {
			break
		}
	}
	if best == "" && len(folded) >= 3 {
		for _, word := range known {
			if strings.HasPrefix(FoldName(word), string(folded)) {
				return word
			}
		}
	}
	return best
}

func abs(n int) int { return max(n, -n) }

// slipsBetween counts the letters left out, added, changed or swapped with their neighbour that
// turn a into b (optimal string alignment distance).
func slipsBetween(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := range a {
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
		before, last, row = last, row, before
	}
	return last[len(b)]
}

// Meant is the hint that names what a misspelt word was meant to be, or another where nothing is near.
func Meant(near, otherwise string) string {
	if near == "" {
		return otherwise
	}
	return "did you mean " + Quote(near) + "?"
}
