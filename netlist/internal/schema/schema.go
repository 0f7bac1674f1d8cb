package schema

import (
	"strings"

	"coldcheck/netlist"
)

// Schema is a JSON Schema, or a part of one, ready to be written as JSON.
type Object map[string]any

// schemaDraft is the version of JSON Schema that the schemas keep to.
const Draft = "https://json-schema.org/draft/2020-12/schema"

func KindNames() []string {
	names := make([]string, len(netlist.Kinds()))
	for i, k := range netlist.Kinds() {
		names[i] = string(k.Kind)
	}
	return names
}

func Ref(def string) Object {
	return Object{"$ref": "#/$defs/" + strings.ReplaceAll(def, " ", "-")}
}

// commonDefs are the values that several keys take.
func CommonDefs() Defs {
	defs := Defs{}
	defs["point"] = Object{"type": "string", "pattern": pointPattern, "description": "the name of a point, 1 to 64 characters"}
	defs["point or open"] = Object{"anyOf": []any{Ref("point"), Object{"type": "string", "pattern": `^\s*$`}}}
	defs["two points"] = Object{"type": "array", "items": Ref("point"), "minItems": 2, "maxItems": 2, "uniqueItems": true}
	defs["part name"] = Object{"pattern": netlist.PartNamePattern, "not": Object{"const": netlist.SupplyName}}
	defs["pin"] = Object{"type": "integer", "minimum": 1, "maximum": netlist.MaxPin}
	defs["throws"] = Object{"type": "array", "items": Ref("point or open"), "minItems": 2, "maxItems": netlist.MaxCombinations}
	for _, unit := range netlist.Units {
		defs[unit.Plural()] = valueSchema(unit)
	}
	return defs
}

// schemaDefs are definitions by name; blanks in a name become dashes when they are written.
type Defs map[string]Object

// MarshalJSON writes the definitions under the names that references use.
func (d Defs) MarshalJSON() ([]byte, error) {
	named := map[string]Object{}
	for name, s := range d {
		named[strings.ReplaceAll(name, " ", "-")] = s
	}
	return marshalPlain(named)
}
