package netlist

// Bounds of a set. Over them a file is refused.
const (
	MaxParts        = 20000
	MaxPoles        = 64   // of a switch; decks of a selector and windings of a transformer likewise
	MaxCombinations = 1024 // positions of all switches and selectors, multiplied
	MaxNameRunes    = 64   // of a point
)
