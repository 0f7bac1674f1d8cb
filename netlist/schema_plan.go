package netlist

import (
	"reflect"
	"slices"
)

// PlanSchema is the JSON Schema (2020-12) of a rework plan. What a step's keys mean for the set that
// it is for, only the set can show.
func PlanSchema() Schema {
	defs := commonDefs()
	var whole []any
	for i := range kinds {
		k := &kinds[i]
		name := string(k.Kind) + " with kind"
		defs[name] = k.schema(true)
		whole = append(whole, refTo(name))
	}
	defs["part"] = Schema{"type": "object", "required": []string{"kind"}, "properties": Schema{"kind": Schema{"enum": kindNames()}}, "oneOf": whole}
	defs["keys"] = changedKeys()
	mark := nodeSchema()
	delete(mark, "dependentRequired") // what is not named stays
	mark["minProperties"] = 1
	defs["node"] = mark

	var steps []any
	for i := range stepVerbs {
		steps = append(steps, stepVerbs[i].schema())
	}
	properties := Schema{}
	for i := range planKeys {
		k := &planKeys[i]
		properties[k.Name] = Schema{"description": k.Meaning}
	}
	properties["plan"] = Schema{"type": "string", "pattern": `^[^\x00-\x1f\x7f-\x9f]*[^\s\x00-\x1f\x7f-\x9f][^\x00-\x1f\x7f-\x9f]*$`, "description": findKey(planKeys, "plan").Meaning}
	properties["format"] = Schema{"const": 1, "description": findKey(planKeys, "format").Meaning}
	properties["steps"] = Schema{"type": "array", "minItems": 1, "description": findKey(planKeys, "steps").Meaning,
		"items": Schema{"type": "object", "required": []string{"do"}, "properties": Schema{"do": Schema{"enum": verbNames()}}, "oneOf": steps}}
	return Schema{"$schema": schemaDraft, "title": "coldcheck rework plan, format 1", "type": "object", "$defs": defs,
		"properties": properties, "required": []string{"plan", "steps"}, "additionalProperties": false}
}

// schema is a step that does this.
func (v *verb) schema() Schema {
	properties := Schema{"do": Schema{"const": v.name}}
	for _, names := range [][]string{v.required, v.optional} {
		for _, name := range names {
			k := findKey(stepKeys, name)
			key := Schema{"type": "string", "pattern": `\S`}
			switch {
			case name == "as" && v.name == "change":
				key = refTo("keys")
			case name == "as" && v.name == "mark":
				key = refTo("node")
			case name == "as":
				key = refTo("part")
			case k.Sort == SortNode:
				key = refTo("point")
			}
			key["description"] = k.Meaning
			properties[name] = key
		}
	}
	return Schema{"type": "object", "properties": properties, "required": append([]string{"do"}, v.required...), "additionalProperties": false,
		"description": "written " + v.example}
}

// changedKeys are the keys of any kind but kind itself: of which kind the part is, the set says.
func changedKeys() Schema {
	takes := map[string][]any{}
	for i := range kinds {
		for j := range kinds[i].Keys {
			k := &kinds[i].Keys[j]
			s := k.sortSchema()
			if !slices.ContainsFunc(takes[k.Name], func(other any) bool { return reflect.DeepEqual(other, s) }) {
				takes[k.Name] = append(takes[k.Name], s)
			}
		}
	}
	properties := Schema{}
	for name, all := range takes {
		properties[name] = Schema{"anyOf": all}
	}
	for i := range partKeys {
		if k := &partKeys[i]; k.Name != "kind" {
			properties[k.Name] = k.schema()
		}
	}
	return Schema{"type": "object", "properties": properties, "additionalProperties": false, "minProperties": 1}
}
