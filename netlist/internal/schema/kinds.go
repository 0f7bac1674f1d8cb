package schema

import (
	"slices"

	"coldcheck/netlist"
)

// Kind is a part of the kind. With kind it stands in [parts], without in its own section.
func Kind(k *netlist.KindInfo, withKind bool) Object {
	keys := slices.Concat(k.Keys, netlist.PartKeys())
	if !withKind {
		keys = slices.DeleteFunc(keys, func(key netlist.KeyInfo) bool { return key.Name == "kind" })
	}
	s := ObjectOf(keys, k.Meaning+"; written "+k.Example)
	if withKind {
		properties, _ := s["properties"].(Object)
		properties["kind"] = Object{"const": k.Kind, "description": k.Meaning}
		required, _ := s["required"].([]string)
		s["required"] = append([]string{"kind"}, required...)
	}
	also := map[string][]string{"frame_insulation": {"frame"}}
	switch k.Kind {
	case netlist.KindRectifier, netlist.KindLamp: // their metal most often is one of their terminals
		also["frame"] = []string{"frame_insulation"}
	case netlist.KindCapacitor: // that of an electrolytic too
		s["if"] = Object{"required": []string{"type", "frame"}, "properties": Object{"type": Object{"const": "electrolytic"}}}
		s["then"] = Object{"required": []string{"frame_insulation"}}
	case netlist.KindPlug:
		s["allOf"] = plugLaws()
	}
	s["dependentRequired"] = also
	return s
}

// plugLaws: a grounding plug alone has an earth, a plain one alone may write ends, and its terminals
// are points of the set.
func plugLaws() []any {
	ofTheSet := Object{"not": Object{"const": netlist.BuildingEarth}}
	style := func(words ...string) Object {
		return Object{"required": []string{"style"}, "properties": Object{"style": Object{"enum": words}}}
	}
	return []any{
		Object{"properties": Object{"hot": ofTheSet, "neutral": ofTheSet, "earth": ofTheSet, "ends": Object{"items": ofTheSet}}},
		Object{"if": style("grounding"), "then": Object{"required": []string{"earth"}}, "else": Object{"properties": Object{"earth": false}}},
		Object{"if": style("grounding", "polarized"), "then": Object{"properties": Object{"ends": false}}},
	}
}

// Node is a point in [nodes].
func Node() Object {
	s := ObjectOf(netlist.NodeKeys(), "a point that needs a word")
	s["dependentRequired"] = map[string][]string{"guard": {"touch"}, "guard_condition": {"guard"}}
	return s
}

// Reading is one of [[readings]]: ohms are read with the plug out, all else with it in.
func Reading() Object {
	s := ObjectOf(netlist.ReadingKeys(), "what a meter showed")
	s["if"] = Object{"required": []string{"ohms"}}
	s["then"] = Object{"properties": Object{"plug": Object{"const": "out"}}}
	s["else"] = Object{"properties": Object{"plug": Object{"not": Object{"const": "out"}}}}
	return s
}

// DefineParts defines a part of each kind as it is written with its kind beside it, and refers to each.
func (d Defs) DefineParts() []any {
	var refs []any
	for i := range netlist.Kinds() {
		k := &netlist.Kinds()[i]
		name := string(k.Kind) + " with kind"
		d[name] = Kind(k, true)
		refs = append(refs, Ref(name))
	}
	return refs
}
