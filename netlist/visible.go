package netlist

import "coldcheck/netlist/internal/words"

// Visible returns s with every character spelt out that a terminal would act upon or would not
// show. A name is printed through it, always.
func Visible(s string) string { return words.Visible(s) }

// Nearest is the known word that a word most likely was meant to be, "" where none is near.
func Nearest(word string, known []string) string { return words.Nearest(word, known) }
