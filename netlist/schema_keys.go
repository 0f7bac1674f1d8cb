package netlist

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
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
func objectOf(keys []KeyInfo, description string) Schema {
	properties := Schema{}
	var required []string
	for i := range keys {
		k := &keys[i]
		properties[k.Name] = k.schema()
		if k.Required {
			required = append(required, k.Name)
		}
	}
	s := Schema{"type": "object", "properties": properties, "additionalProperties": false}
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
func waysToWrite(keys []KeyInfo) []any {
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
		without := Schema{}
		for j, other := range teams {
			for _, key := range other {
				if i != j {
					without[key] = false
				}
			}
		}
		ways = append(ways, Schema{"required": team, "properties": without})
	}
	return ways
}

// schema is what a key takes.
func (k *KeyInfo) schema() Schema {
	s := Schema{}
	for key, v := range k.sortSchema() {
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
func (k *KeyInfo) sortSchema() Schema {
	list := func(items Schema, least int) Schema {
		return Schema{"type": "array", "items": items, "minItems": least}
	}
	table := func(of Schema) Schema { return Schema{"type": "object", "additionalProperties": of} }
	pins := func(of Schema) Schema {
		return Schema{"type": "object", "additionalProperties": of, "propertyNames": Schema{"pattern": pinPattern}}
	}
	with := func(s Schema, key string, v any) Schema { s[key] = v; return s }
	switch k.Sort {
	case SortNode:
		return refTo("point")
	case SortEnds:
		return refTo("two points")
	case SortPoles:
		return with(list(refTo("two points"), 1), "maxItems", MaxPoles)
	case SortThrows:
		return refTo("throws")
	case SortDecks:
		return with(list(objectOf(deckKeys, ""), 1), "maxItems", MaxPoles)
	case SortPins:
		return with(pins(refTo("point")), "minProperties", 1)
	case SortWindings:
		return with(with(table(refTo("two points")), "minProperties", 1), "maxProperties", MaxPoles)
	case SortWindingVolts:
		return with(table(refTo(units[Volt].plural)), "minProperties", 1)
	case SortValue:
		return refTo(units[k.Unit].plural)
	case SortNumber:
		return k.readingSchema()
	case SortRating:
		return Schema{"anyOf": []any{numberIn(Volt), Schema{"type": "string", "pattern": ratingPattern()}}}
	case SortLeakage:
		return Schema{"anyOf": []any{refTo(units[Ohm].plural), Schema{"type": "string", "pattern": leakPattern()}}}
	case SortPercent:
		return Schema{"anyOf": []any{Schema{"type": "number", "exclusiveMinimum": 0, "maximum": 100}, Schema{"type": "string", "pattern": percentPattern}}}
	case SortBands:
		return Schema{"type": "string", "pattern": bandsPattern()}
	case SortWord:
		return Schema{"enum": k.Words}
	case SortNames:
		return with(list(Schema{"type": "string", "pattern": `\S`}, 1), "uniqueItems", true)
	case SortMains:
		return Schema{"type": "string", "pattern": mainsPattern()}
	case SortSwitches:
		return table(Schema{"type": "string"})
	case SortTubes:
		return with(list(Schema{"type": "string"}, 0), "uniqueItems", true)
	case SortPinList:
		return with(list(refTo("pin"), 0), "uniqueItems", true)
	case SortTwoPins:
		return with(with(list(refTo("pin"), 2), "maxItems", 2), "uniqueItems", true)
	case SortPin:
		return refTo("pin")
	case SortHeater:
		return objectOf(heaterKeys, "")
	case SortTap:
		return objectOf(tapKeys, "")
	case SortSections:
		return list(objectOf(sectionKeys, ""), 0)
	case SortElements:
		return pins(Schema{"type": "string"})
	}
	return Schema{"type": "string"} // SortText
}

// schema is a part of the kind. With kind it stands in [parts], without in its own section.
func (k *KindInfo) schema(withKind bool) Schema {
	keys := slices.Concat(k.Keys, partKeys)
	if !withKind {
		keys = slices.DeleteFunc(keys, func(key KeyInfo) bool { return key.Name == "kind" })
	}
	s := objectOf(keys, k.Meaning+"; written "+k.Example)
	if withKind {
		properties, _ := s["properties"].(Schema)
		properties["kind"] = Schema{"const": k.Kind, "description": k.Meaning}
		required, _ := s["required"].([]string)
		s["required"] = append([]string{"kind"}, required...)
	}
	also := map[string][]string{"frame_insulation": {"frame"}}
	switch k.Kind {
	case KindRectifier, KindLamp: // their metal most often is one of their terminals
		also["frame"] = []string{"frame_insulation"}
	case KindCapacitor: // that of an electrolytic too
		s["if"] = Schema{"required": []string{"type", "frame"}, "properties": Schema{"type": Schema{"const": "electrolytic"}}}
		s["then"] = Schema{"required": []string{"frame_insulation"}}
	case KindPlug:
		s["allOf"] = plugLaws()
	}
	s["dependentRequired"] = also
	return s
}

// plugLaws: a grounding plug alone has an earth, a plain one alone may write ends, and its terminals
// are points of the set.
func plugLaws() []any {
	ofTheSet := Schema{"not": Schema{"const": BuildingEarth}}
	style := func(words ...string) Schema {
		return Schema{"required": []string{"style"}, "properties": Schema{"style": Schema{"enum": words}}}
	}
	return []any{
		Schema{"properties": Schema{"hot": ofTheSet, "neutral": ofTheSet, "earth": ofTheSet, "ends": Schema{"items": ofTheSet}}},
		Schema{"if": style("grounding"), "then": Schema{"required": []string{"earth"}}, "else": Schema{"properties": Schema{"earth": false}}},
		Schema{"if": style("grounding", "polarized"), "then": Schema{"properties": Schema{"ends": false}}},
	}
}

// nodeSchema is a point in [nodes].
func nodeSchema() Schema {
	s := objectOf(nodeKeys, "a point that needs a word")
	s["dependentRequired"] = map[string][]string{"guard": {"touch"}, "guard_condition": {"guard"}}
	return s
}

// readingSchema is one of [[readings]]: ohms are read with the plug out, all else with it in.
func readingSchema() Schema {
	s := objectOf(readingKeys, "what a meter showed")
	s["if"] = Schema{"required": []string{"ohms"}}
	s["then"] = Schema{"properties": Schema{"plug": Schema{"const": "out"}}}
	s["else"] = Schema{"properties": Schema{"plug": Schema{"not": Schema{"const": "out"}}}}
	return s
}
