package setfile

import (
	"coldcheck/netlist"
	"coldcheck/netlist/internal/schema"
)

// Schema is the JSON Schema (2020-12) of a set file, made of the same table of kinds and keys that
// reads one. It refuses what can be told from a value by itself or from the keys beside it; what
// only the whole set can show (a point that no part uses, a second plug, an unknown tube type) is
// left to the program.
func Schema() schema.Object {
	defs := schema.CommonDefs()
	sections := schema.Object{}
	alternatives := defs.DefineParts(schema.Wholes(), "with kind")
	for _, k := range schema.Wholes() {
		name := string(k.Kind)
		defs[name] = schema.Kind(k, false)
		if pattern := schema.SectionWord(k); pattern != "" {
			sections[pattern] = schema.Object{"type": "object", "description": "every part here is a " + name + ": " + k.Meaning,
				"propertyNames": schema.Ref("part name"), "additionalProperties": schema.Ref(name)}
		}
	}
	kind := schema.AnyKind(schema.Wholes())
	kind["description"] = netlist.FindKey(netlist.PartKeys(), "kind").Meaning
	defs["part"] = schema.Object{"type": "object", "required": []string{"kind"}, "properties": schema.Object{"kind": kind}, "oneOf": alternatives}
	defs["node"] = schema.Node()
	defs["reading"] = schema.Reading()
	defs["tube type"] = schema.TubeType()

	properties := schema.Object{
		"format": schema.Object{"const": 1},
		"set":    schema.ObjectOf(netlist.SetKeys(), ""),
		"nodes": schema.Object{"type": "object",
			"propertyNames":        schema.Object{"allOf": []any{schema.Ref("point"), schema.Object{"not": schema.Object{"const": netlist.BuildingEarth}}}},
			"additionalProperties": schema.Ref("node"),
			// At least one point can be touched.
			"not": schema.Object{"additionalProperties": schema.Object{"not": schema.Object{"required": []string{"touch"}}}}},
		"parts":      schema.Object{"type": "object", "propertyNames": schema.Ref("part name"), "additionalProperties": schema.Ref("part")},
		"readings":   schema.Object{"type": "array", "items": schema.Ref("reading")},
		"tube_types": schema.Object{"type": "object", "additionalProperties": schema.Ref("tube type")},
	}
	for i := range netlist.RootKeys() {
		k := &netlist.RootKeys()[i]
		if of, ok := properties[k.Name].(schema.Object); ok {
			schema.Describe(of, k)
		}
	}
	return schema.Object{"$schema": schema.Draft, "title": "coldcheck set file, format 1", "type": "object", "$defs": defs,
		"properties": properties, "patternProperties": sections, "required": []string{"set", "nodes"}, "anyOf": plugSomewhere(), "additionalProperties": false}
}

// plugSomewhere: one of [parts] is a plug, or there is a section of plugs that is called by a word of the trade.
func plugSomewhere() []any {
	plug := netlist.FindKind(netlist.KindPlug)
	inParts := schema.Object{"not": schema.Object{"additionalProperties": schema.Object{"not": schema.Object{"required": []string{"kind"}, "properties": schema.Object{"kind": schema.KindWord(plug)}}}}}
	return []any{
		schema.Object{"required": []string{"parts"}, "properties": schema.Object{"parts": inParts}},
		schema.Object{"not": schema.Object{"propertyNames": schema.Object{"not": schema.Object{"pattern": schema.SectionWord(plug)}}}},
	}
}
