package schema

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"

	"coldcheck/netlist"
)

// marshalPlain is JSON without the escapes that are for web pages.
func marshalPlain(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return b.Bytes(), err
}

// objectOf is a table of those keys and no others.
func ObjectOf(keys []netlist.KeyInfo, description string) Object {
	properties := Object{}
	var required []string
	for i := range keys {
		k := &keys[i]
		properties[k.Name] = Key(k)
		if k.Required {
			required = append(required, k.Name)
		}
	}
	s := Object{"type": "object", "properties": properties, "additionalProperties": false}
	if description != "" {
		s["description"] = description
	}
	if len(required) > 0 {
		s["required"] = required
	}
	if ways := waysToWrite(keys); len(ways) > 0 {
		s["anyOf"] = ways
	}
	return s
}

// waysToWrite are the ways of which exactly one is used: the keys that stand together, without
// those that may stand in their place.
func waysToWrite(keys []netlist.KeyInfo) []any {
	var teams [][]string
	var places []string // the Or that each team has in common
	for _, k := range keys {
		if k.Or == "" {
			continue
		}
		// Keys with the same Or stand together, unless each is another of several choices.
		if i := slices.Index(places, k.Or); i >= 0 && !strings.Contains(k.Or, " or ") {
			teams[i] = append(teams[i], k.Name)
			continue
		}
		teams, places = append(teams, []string{k.Name}), append(places, k.Or)
	}
	var ways []any
	for i, team := range teams {
		without := Object{}
		for j, other := range teams {
			for _, key := range other {
				if i != j {
					without[key] = false
				}
			}
		}
		ways = append(ways, Object{"required": team, "properties": without})
	}
	return ways
}

// keySchema is what a key takes.
func Key(k *netlist.KeyInfo) Object {
	s := Object{}
	for key, v := range Value(k) {
		s[key] = v
	}
	words := k.Meaning
	if k.Default != "" {
		words += "; left out: " + k.Default
	}
	s["description"] = words + "; written " + k.Example
	return s
}

// sortSchema is what a value of the key's sort is.
func Value(k *netlist.KeyInfo) Object {
	list := func(items Object, least int) Object {
		return Object{"type": "array", "items": items, "minItems": least}
	}
	table := func(of Object) Object { return Object{"type": "object", "additionalProperties": of} }
	pins := func(of Object) Object {
		return Object{"type": "object", "additionalProperties": of, "propertyNames": Object{"pattern": pinPattern}}
	}
	with := func(s Object, key string, v any) Object { s[key] = v; return s }
	switch k.Sort {
	case netlist.SortNode:
		return Ref("point")
	case netlist.SortEnds:
		return Ref("two points")
	case netlist.SortPoles:
		return with(list(Ref("two points"), 1), "maxItems", netlist.MaxPoles)
	case netlist.SortThrows:
		return Ref("throws")
	case netlist.SortDecks:
		return with(list(ObjectOf(netlist.DeckKeys(), ""), 1), "maxItems", netlist.MaxPoles)
	case netlist.SortPins:
		return with(pins(Ref("point")), "minProperties", 1)
	case netlist.SortWindings:
		return with(with(table(Ref("two points")), "minProperties", 1), "maxProperties", netlist.MaxPoles)
	case netlist.SortWindingVolts:
		return with(table(Ref(netlist.Volt.Plural())), "minProperties", 1)
	case netlist.SortValue:
		return Ref(k.Unit.Plural())
	case netlist.SortNumber:
		return readingValueSchema(k)
	case netlist.SortRating:
		return Object{"anyOf": []any{numberIn(netlist.Volt), Object{"type": "string", "pattern": ratingPattern()}}}
	case netlist.SortLeakage:
		return Object{"anyOf": []any{Ref(netlist.Ohm.Plural()), Object{"type": "string", "pattern": leakPattern()}}}
	case netlist.SortPercent:
		return Object{"anyOf": []any{Object{"type": "number", "exclusiveMinimum": 0, "maximum": 100}, Object{"type": "string", "pattern": percentPattern}}}
	case netlist.SortBands:
		return Object{"type": "string", "pattern": netlist.BandsPattern()}
	case netlist.SortWord:
		return Object{"enum": k.Words}
	case netlist.SortNames:
		return with(list(Object{"type": "string", "pattern": `\S`}, 1), "uniqueItems", true)
	case netlist.SortMains:
		return Object{"type": "string", "pattern": netlist.MainsPattern()}
	case netlist.SortSwitches:
		return table(Object{"type": "string"})
	case netlist.SortTubes:
		return with(list(Object{"type": "string"}, 0), "uniqueItems", true)
	case netlist.SortPinList:
		return with(list(Ref("pin"), 0), "uniqueItems", true)
	case netlist.SortTwoPins:
		return with(with(list(Ref("pin"), 2), "maxItems", 2), "uniqueItems", true)
	case netlist.SortPin:
		return Ref("pin")
	case netlist.SortHeater:
		return ObjectOf(netlist.HeaterKeys(), "")
	case netlist.SortTap:
		return ObjectOf(netlist.TapKeys(), "")
	case netlist.SortSections:
		return list(ObjectOf(netlist.SectionKeys(), ""), 0)
	case netlist.SortElements:
		return pins(Object{"type": "string"})
	}
	return Object{"type": "string"} // SortText
}

// kindSchema is a part of the kind. With kind it stands in [parts], without in its own section.
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

// nodeSchema is a point in [nodes].
func Node() Object {
	s := ObjectOf(netlist.NodeKeys(), "a point that needs a word")
	s["dependentRequired"] = map[string][]string{"guard": {"touch"}, "guard_condition": {"guard"}}
	return s
}

// readingSchema is one of [[readings]]: ohms are read with the plug out, all else with it in.
func Reading() Object {
	s := ObjectOf(netlist.ReadingKeys(), "what a meter showed")
	s["if"] = Object{"required": []string{"ohms"}}
	s["then"] = Object{"properties": Object{"plug": Object{"const": "out"}}}
	s["else"] = Object{"properties": Object{"plug": Object{"not": Object{"const": "out"}}}}
	return s
}
