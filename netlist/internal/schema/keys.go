package schema

import (
	"slices"
	"strings"

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

// Key is what a key takes.
func Key(k *netlist.KeyInfo) Object {
	s := Value(k)
	words := k.Meaning
	if k.Default != "" {
		words += "; left out: " + k.Default
	}
	s["description"] = words + "; written " + k.Example
	return s
}
