// Package words is what a message makes of the words of a file: visible and in quotes (visible.go,
// quote.go), in lists and counted (list.go), compared as a person would compare them (fold.go), and
// guessed at where they are misspelt (nearest.go).
package words
