// Package setfile reads set files (TOML, format 1), checks them whole and writes them.
//
// The story runs in this order. Load reads a file within its bound (load.go). The TOML comes as a table
// with every place known; document.go sorts its sections into a document, the parts as written: words of the
// trade become ours there, and a can the capacitors that it stands for. Build
// (build.go) makes the set of it, piece by piece: build_nodes.go, build_parts.go with
// part_reader.go and a file for each kind that takes more than a line, build_readings.go; what only
// the whole set can show comes last (build_whole.go). Tube types, and dial lamps, come from the embedded
// catalogue (catalogue.go) or from the file itself (build_tube_type.go).
//
// What is wrong is told in one go, each problem at its line and column with what would be right
// (problems.go, unknown.go); what a line that could not be read may have said is not missed. What is
// merely odd becomes a notice (notices.go, with line_side.go).
//
// write.go writes a document, schema.go gives the JSON Schema of set files, content.go tells a set file
// from a plan.
package setfile
