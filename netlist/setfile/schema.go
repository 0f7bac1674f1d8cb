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
	alternatives := defs.DefineParts()
	for i := range netlist.Kinds() {
		k := &netlist.Kinds()[i]
		name := string(k.Kind)
		defs[name] = schema.Kind(k, false)
		if k.Section != "" {
			sections[k.Section] = schema.Object{"type": "object", "description": "every part here is a " + name + ": " + k.Meaning,
				"propertyNames": schema.Ref("part name"), "additionalProperties": schema.Ref(name)}
		}
	}
	defs["part"] = schema.Object{"type": "object", "required": []string{"kind"},
		"properties": schema.Object{"kind": schema.Object{"enum": netlist.KindNames(), "description": netlist.FindKey(netlist.PartKeys(), "kind").Meaning}}, "oneOf": alternatives}
	defs["node"] = schema.Node()
	defs["reading"] = schema.Reading()
	defs["tube type"] = schema.ObjectOf(netlist.TubeTypeKeys(), "what a tube type's pins are")

	properties := schema.Object{
		"format": schema.Object{"const": 1, "description": "the version of the format; 1 when left out"},
		"set":    schema.ObjectOf(netlist.SetKeys(), "what the set is"),
		"nodes": schema.Object{"type": "object", "description": "the points that need a word; others exist by use",
			"propertyNames":        schema.Object{"allOf": []any{schema.Ref("point"), schema.Object{"not": schema.Object{"const": netlist.BuildingEarth}}}},
			"additionalProperties": schema.Ref("node"),
			// At least one point can be touched.
			"not": schema.Object{"additionalProperties": schema.Object{"not": schema.Object{"required": []string{"touch"}}}}},
		"parts": schema.Object{"type": "object", "description": "parts of any kind, the plug among them",
			"propertyNames": schema.Ref("part name"), "additionalProperties": schema.Ref("part"),
			// At least one part is a plug.
			"not": schema.Object{"additionalProperties": schema.Object{"not": schema.Object{"required": []string{"kind"}, "properties": schema.Object{"kind": schema.Object{"const": netlist.KindPlug}}}}}},
		"readings":   schema.Object{"type": "array", "items": schema.Ref("reading"), "description": "what a meter showed"},
		"tube_types": schema.Object{"type": "object", "additionalProperties": schema.Ref("tube type"), "description": "tube types that the catalogue has not, or has otherwise"},
	}
	for name, s := range sections {
		properties[name] = s
	}
	return schema.Object{"$schema": schema.Draft, "title": "coldcheck set file, format 1", "type": "object", "$defs": defs,
		"properties": properties, "required": []string{"set", "nodes", "parts"}, "additionalProperties": false}
}
