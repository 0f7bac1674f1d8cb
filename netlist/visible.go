package netlist

import "coldcheck/netlist/internal/words"

// Visible returns s with every character spelt out that a terminal would act upon or would not
// show. A name is printed through it, always.
func Visible(s string) string { return words.Visible(s) }
