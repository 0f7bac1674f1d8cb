package schema

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"coldcheck/netlist"
)

// Object is a JSON Schema, or a part of one, ready to be written as JSON.
type Object map[string]any

// Draft is the version of JSON Schema that the schemas keep to.
const Draft = "https://json-schema.org/draft/2020-12/schema"

// Ref refers to one of the definitions.
func Ref(def string) Object {
	return Object{"$ref": "#/$defs/" + strings.ReplaceAll(def, " ", "-")}
}

// CommonDefs are the values that several keys take.
func CommonDefs() Defs {
	defs := Defs{}
	defs["point"] = with(matching(pointPattern()), "description", fmt.Sprintf("the name of a point, 1 to %d characters", netlist.MaxNameRunes))
	defs["point or open"] = anyOf(Ref("point"), matching(`^\s*$`))
	defs["two points"] = with(with(listOf(Ref("point"), 2), "maxItems", 2), "uniqueItems", true)
	defs["part name"] = Object{"pattern": netlist.PartNamePattern, "not": Object{"const": netlist.SupplyName}}
	defs["pin"] = Object{"type": "integer", "minimum": 1, "maximum": netlist.MaxPin}
	defs["throws"] = with(listOf(Ref("point or open"), 2), "maxItems", netlist.MaxCombinations)
	for _, unit := range netlist.Units {
		defs[unit.Plural()] = valueSchema(unit)
	}
	return defs
}

// Defs are definitions by name; blanks in a name become dashes when they are written.
type Defs map[string]Object

// MarshalJSON writes the definitions under the names that references use.
func (d Defs) MarshalJSON() ([]byte, error) {
	named := map[string]Object{}
	for name, s := range d {
		named[strings.ReplaceAll(name, " ", "-")] = s
	}
	return marshalPlain(named)
}

// marshalPlain is JSON without the escapes that are for web pages.
func marshalPlain(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return b.Bytes(), err
}
