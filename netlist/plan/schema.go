package plan

import (
	"reflect"
	"slices"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/schema"
)

// Schema is the JSON Schema (2020-12) of a rework plan. What a step's keys mean for the set that
// it is for, only the set can show.
func Schema() schema.Object {
	defs := schema.CommonDefs()
	kinds := schema.Wholes()[:len(netlist.Kinds())] // a can is several parts, and a step fits one
	defs["part"] = schema.Object{"type": "object", "required": []string{"kind"}, "properties": schema.Object{"kind": schema.AnyKind(kinds)}, "oneOf": defs.DefineParts(kinds, "with kind")}
	defs["keys"] = changedKeys()
	defs["replacement"] = replacement(kinds, defs)
	mark := schema.Node()
	delete(mark, "dependentRequired") // what is not named stays
	mark["minProperties"] = 1
	defs["node"] = mark

	var steps []any
	for i := range stepVerbs {
		steps = append(steps, stepVerbs[i].schema())
	}
	properties := schema.Object{}
	properties["plan"] = schema.Object{"type": "string", "pattern": `^[^\x00-\x1f\x7f-\x9f]*[^\s\x00-\x1f\x7f-\x9f][^\x00-\x1f\x7f-\x9f]*$`}
	properties["format"] = schema.Object{"const": 1}
	properties["steps"] = schema.Object{"type": "array", "minItems": 1,
		"items": schema.Object{"type": "object", "required": []string{"do"}, "properties": schema.Object{"do": schema.Object{"enum": verbNames()}}, "oneOf": steps}}
	for i := range planKeys {
		of, _ := properties[planKeys[i].Name].(schema.Object)
		schema.Describe(of, &planKeys[i])
	}
	return schema.Object{"$schema": schema.Draft, "title": "coldcheck rework plan, format 1", "type": "object", "$defs": defs,
		"properties": properties, "required": []string{"plan", "steps"}, "additionalProperties": false}
}

// schema is a step that does this.
func (v *verb) schema() schema.Object {
	properties := schema.Object{"do": schema.Object{"const": v.name}}
	for _, names := range [][]string{v.required, v.optional} {
		for _, name := range names {
			k := netlist.FindKey(stepKeys, name)
			key := schema.Object{"type": "string", "pattern": `\S`}
			switch {
			case name == "as" && v.name == "change":
				key = schema.Ref("keys")
			case name == "as" && v.name == "mark":
				key = schema.Ref("node")
			case name == "as" && v.name == "replace":
				key = schema.Ref("replacement")
			case name == "as":
				key = schema.Ref("part")
			case k.Sort == netlist.SortNode:
				key = schema.Ref("point")
			}
			properties[name] = schema.Describe(key, k)
		}
	}
	return schema.Object{"type": "object", "properties": properties, "required": append([]string{"do"}, v.required...), "additionalProperties": false,
		"description": v.meaning + "; written " + v.example}
}

// replacement is a part that takes the place of another: what it does not say of its kind and its ends is the
// other's.
func replacement(kinds []*netlist.KindInfo, defs schema.Defs) schema.Object {
	loose := make([]*netlist.KindInfo, len(kinds))
	for i, k := range kinds {
		endless := *k
		endless.Keys = slices.Clone(k.Keys)
		for j := range endless.Keys {
			if key := &endless.Keys[j]; slices.Contains(k.Terminals, key.Name) {
				key.Required, key.Or = false, ""
			}
		}
		loose[i] = &endless
	}
	return schema.Object{"type": "object", "properties": schema.Object{"kind": schema.AnyKind(kinds)}, "if": schema.Object{"required": []string{"kind"}},
		"then": schema.Object{"oneOf": defs.DefineParts(loose, "in the place of another")}, "else": schema.Ref("keys")}
}

// changedKeys are the keys of any kind but kind itself: of which kind the part is, the set says.
func changedKeys() schema.Object {
	takes := map[string][]any{}
	for i := range netlist.Kinds() {
		for j := range netlist.Kinds()[i].Keys {
			k := &netlist.Kinds()[i].Keys[j]
			s := schema.Value(k)
			if !slices.ContainsFunc(takes[k.Name], func(other any) bool { return reflect.DeepEqual(other, s) }) {
				takes[k.Name] = append(takes[k.Name], s)
			}
		}
	}
	properties := schema.Object{}
	for name, all := range takes {
		properties[name] = schema.Object{"anyOf": all}
	}
	for i := range netlist.PartKeys() {
		if k := &netlist.PartKeys()[i]; k.Name != "kind" {
			properties[k.Name] = schema.Key(k)
		}
	}
	return schema.Object{"type": "object", "properties": properties, "additionalProperties": false, "minProperties": 1}
}
