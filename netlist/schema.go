package netlist

import "strings"

// Schema is a JSON Schema, or a part of one, ready to be written as JSON.
type Schema map[string]any

// schemaDraft is the version of JSON Schema that the schemas keep to.
const schemaDraft = "https://json-schema.org/draft/2020-12/schema"

// SetSchema is the JSON Schema (2020-12) of a set file, made of the same table of kinds and keys that
// reads one. It refuses what can be told from a value by itself or from the keys beside it; what
// only the whole set can show (a point that no part uses, a second plug, an unknown tube type) is
// left to the program.
func SetSchema() Schema {
	defs := commonDefs()
	sections := Schema{}
	var alternatives []any
	for i := range kinds {
		k := &kinds[i]
		name := string(k.Kind)
		defs[name] = k.schema(false)
		defs[name+" with kind"] = k.schema(true)
		alternatives = append(alternatives, refTo(name+" with kind"))
		if k.Section != "" {
			sections[k.Section] = Schema{"type": "object", "description": "every part here is a " + name + ": " + k.Meaning,
				"propertyNames": refTo("part name"), "additionalProperties": refTo(name)}
		}
	}
	defs["part"] = Schema{"type": "object", "required": []string{"kind"},
		"properties": Schema{"kind": Schema{"enum": kindNames(), "description": findKey(partKeys, "kind").Meaning}}, "oneOf": alternatives}
	defs["node"] = nodeSchema()
	defs["reading"] = readingSchema()
	defs["tube type"] = objectOf(tubeTypeKeys, "what a tube type's pins are")

	properties := Schema{
		"format": Schema{"const": 1, "description": "the version of the format; 1 when left out"},
		"set":    objectOf(setKeys, "what the set is"),
		"nodes": Schema{"type": "object", "description": "the points that need a word; others exist by use",
			"propertyNames":        Schema{"allOf": []any{refTo("point"), Schema{"not": Schema{"const": BuildingEarth}}}},
			"additionalProperties": refTo("node"),
			// At least one point can be touched.
			"not": Schema{"additionalProperties": Schema{"not": Schema{"required": []string{"touch"}}}}},
		"parts": Schema{"type": "object", "description": "parts of any kind, the plug among them",
			"propertyNames": refTo("part name"), "additionalProperties": refTo("part"),
			// At least one part is a plug.
			"not": Schema{"additionalProperties": Schema{"not": Schema{"required": []string{"kind"}, "properties": Schema{"kind": Schema{"const": KindPlug}}}}}},
		"readings":   Schema{"type": "array", "items": refTo("reading"), "description": "what a meter showed"},
		"tube_types": Schema{"type": "object", "additionalProperties": refTo("tube type"), "description": "tube types that the catalogue has not, or has otherwise"},
	}
	for name, s := range sections {
		properties[name] = s
	}
	return Schema{"$schema": schemaDraft, "title": "coldcheck set file, format 1", "type": "object", "$defs": defs,
		"properties": properties, "required": []string{"set", "nodes", "parts"}, "additionalProperties": false}
}

func kindNames() []string {
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = string(k.Kind)
	}
	return names
}

func refTo(def string) Schema {
	return Schema{"$ref": "#/$defs/" + strings.ReplaceAll(def, " ", "-")}
}

// commonDefs are the values that several keys take.
func commonDefs() schemaDefs {
	defs := schemaDefs{}
	defs["point"] = Schema{"type": "string", "pattern": pointPattern, "description": "the name of a point, 1 to 64 characters"}
	defs["point or open"] = Schema{"anyOf": []any{refTo("point"), Schema{"type": "string", "pattern": `^\s*$`}}}
	defs["two points"] = Schema{"type": "array", "items": refTo("point"), "minItems": 2, "maxItems": 2, "uniqueItems": true}
	defs["part name"] = Schema{"pattern": partNamePattern, "not": Schema{"const": supplyName}}
	defs["pin"] = Schema{"type": "integer", "minimum": 1, "maximum": maxPin}
	defs["throws"] = Schema{"type": "array", "items": refTo("point or open"), "minItems": 2, "maxItems": MaxCombinations}
	for unit, facts := range units {
		defs[facts.plural] = valueSchema(unit)
	}
	return defs
}

// schemaDefs are definitions by name; blanks in a name become dashes when they are written.
type schemaDefs map[string]Schema

// MarshalJSON writes the definitions under the names that references use.
func (d schemaDefs) MarshalJSON() ([]byte, error) {
	named := map[string]Schema{}
	for name, s := range d {
		named[strings.ReplaceAll(name, " ", "-")] = s
	}
	return marshalPlain(named)
}
