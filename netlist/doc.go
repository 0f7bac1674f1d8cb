// Package netlist says what a set is: its nodes, its parts and how they are joined, as a person
// would call them out from the chassis. It knows nothing of hazards: not what a fault is, nor what is
// dangerous. It reads no file; what is read comes from the packages below it.
//
// Where to look:
//
//	what a set is, what can be touched        set.go
//	what a part is, its condition and grade   part.go
//	what a fuse has, or a tube                detail.go
//	what a tube's pins are                    tubetype.go
//	what a meter showed                       reading.go
//	which keys a kind of part takes           kinds.go, kinds_table.go; of all else kinds_keys.go
//	what a value may be ("4k7", ".05 mfd")    value.go, mains.go, colour_code.go
//	how a value is printed                    value_format.go
//	the same for a JSON Schema                value_pattern.go
//	what a node or a part may be called       names.go; how many there may be limits.go
//	what names speak of metal within reach    touch.go
//	a set as its file writes it               document.go, table.go
//	what is wrong in a file, and where        problem.go, pos.go
//
// All values are in base units: volts, amps, ohms, farads, henries, watts, hertz.
//
// Below it stand netlist/setfile, which reads set files, checks them and writes them; netlist/plan, the
// rework plans; netlist/draft, which makes a set file of answers; netlist/examples, the files that the program
// brings along. What they share among themselves stands in netlist/internal.
package netlist
