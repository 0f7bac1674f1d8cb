package schema

import (
	"coldcheck/netlist"
)

// ObjectOf is a table of those keys and no others.
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
	for i := range keys { // of two names of one key there is one
		if k := &keys[i]; k.Same != "" {
			s["not"] = Object{"required": []string{k.Same, k.Name}}
		}
	}
	return s
}

// waysToWrite are the ways of which exactly one is used, each without the keys of the others.
func waysToWrite(keys []netlist.KeyInfo) []any {
	ways := netlist.Alternatives(keys)
	var schemas []any
	for i, way := range ways {
		without := Object{}
		for j, other := range ways {
			for _, key := range other {
				if i != j {
					without[key] = false
				}
			}
		}
		schemas = append(schemas, Object{"required": way, "properties": without})
	}
	return schemas
}

// Key is what a key takes.
func Key(k *netlist.KeyInfo) Object { return Describe(Value(k), k) }

// Describe says in a schema what a key means and how it is written.
func Describe(s Object, k *netlist.KeyInfo) Object {
	words := k.Meaning
	if k.Default != "" {
		words += "; left out: " + k.Default
	}
	s["description"] = words + "; written " + k.Example
	return s
}
