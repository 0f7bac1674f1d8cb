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
		properties["kind"] = with(KindWord(k), "description", k.Meaning)
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
	case netlist.KindCan: // an electrolytic
		also["frame"] = []string{"frame_insulation"}
	}
	s["dependentRequired"] = also
	return s
}

// KindWord is a kind as [parts] writes it: its name, or a word of the trade that is taken for it.
func KindWord(k *netlist.KindInfo) Object {
	return matching(`^` + netlist.WordsPattern(append([]string{string(k.Kind)}, k.Taken...)) + `$`)
}

// SectionWord is the pattern of the sections of a kind, "" of one that has none.
func SectionWord(k *netlist.KindInfo) string {
	var names []string
	for _, w := range k.Taken {
		names = append(names, w+"s")
	}
	if k.Section != "" {
		names = append([]string{k.Section}, names...)
	}
	if len(names) == 0 {
		return ""
	}
	return `^` + netlist.WordsPattern(names) + `$`
}

// Wholes are the kinds that a file may write, the can among them.
func Wholes() []*netlist.KindInfo {
	var all []*netlist.KindInfo
	for i := range netlist.Kinds() {
		all = append(all, &netlist.Kinds()[i])
	}
	return append(all, netlist.Can())
}

// AnyKind is the key kind of any part.
func AnyKind(kinds []*netlist.KindInfo) Object {
	var names []string
	for _, k := range kinds {
		names = append(names, string(k.Kind))
		names = append(names, k.Taken...)
	}
	return matching(`^` + netlist.WordsPattern(names) + `$`)
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

// TubeType is a type in [tube_types]: a drop is so many volts at so many milliamperes, of a rectifier.
func TubeType() Object {
	return with(ObjectOf(netlist.TubeTypeKeys(), "what a tube type's pins are"), "dependentRequired", map[string][]string{
		"drop_volts": {"drop_milliamps", "rectifiers"}, "drop_milliamps": {"drop_volts", "rectifiers"}})
}

// Reading is one of [[readings]]: ohms are read with the plug out, all else with it in.
func Reading() Object {
	s := ObjectOf(netlist.ReadingKeys(), "what a meter showed")
	s["if"] = Object{"required": []string{"ohms"}}
	s["then"] = Object{"properties": Object{"plug": Object{"const": "out"}}}
	s["else"] = Object{"properties": Object{"plug": Object{"not": Object{"const": "out"}}}}
	return s
}

// DefineParts defines a part of each of the kinds as it is written with its kind beside it, and refers to each.
// The definitions are named after the kinds and what they are here.
func (d Defs) DefineParts(kinds []*netlist.KindInfo, here string) []any {
	var refs []any
	for _, k := range kinds {
		name := string(k.Kind) + " " + here
		d[name] = Kind(k, true)
		refs = append(refs, Ref(name))
	}
	return refs
}
