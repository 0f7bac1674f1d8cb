// Package schema makes JSON Schemas of the tables of kinds and keys, so that a schema says what the program
// reads and nothing else: definitions that several keys take (schema.go), a table of keys (keys.go), what
// the value of a key may be (values.go, patterns.go), a part of a kind, a point and a reading (kinds.go).
// The schema of set files is put together in netlist/setfile, that of plans in netlist/plan.
package schema
