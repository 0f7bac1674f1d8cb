package jsonout

import "embed"

// schemas are derived from the types that are written; a test holds that they are theirs, and writes them anew.
//
//go:embed schemas/*.json
var schemas embed.FS

// SchemaOf is the JSON Schema (2020-12) of what a command prints as JSON, as text; nil of a command that
// prints none. Every key of this version is required, and keys that it does not name are let
// through: in time some may be added.
func SchemaOf(command string) []byte {
	text, err := schemas.ReadFile("schemas/" + command + ".json")
	if err != nil {
		return nil
	}
	return text
}

// SchemaCommands are the commands that print JSON, in the order of help.
var SchemaCommands = []string{"inspect", "states", "trace", "rework", "checklist", "record"}
