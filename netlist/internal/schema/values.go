package schema

import (
	"coldcheck/netlist"
)

// valueSchema is a number in the base unit, or text with prefix and unit.
func valueSchema(unit netlist.Unit) Object {
	text := matching(`^\s*` + netlist.ValuePattern(unit) + `\s*$`)
	if unit == netlist.Farad { // a capacitance needs its unit
		return text
	}
	return anyOf(numberIn(unit), text)
}

func numberIn(unit netlist.Unit) Object {
	least, most := unit.Range()
	return Object{"type": "number", "minimum": least, "maximum": most}
}

// readingValue is what a meter shows, which may be zero.
func readingValue(k *netlist.KeyInfo) Object {
	number := Object{"type": "number"}
	sign := `\+?`
	if k.Name == "dc_volts" {
		sign = `[-−+]?\s*`
	} else {
		number["minimum"] = 0
	}
	all := anyOf(number, matching(`^\s*`+sign+netlist.ValuePattern(k.Unit)+`\s*$`))
	if k.Name == "ohms" {
		all = anyOf(all, matching(`^\s*`+netlist.OpenPattern+`\s*$`))
	}
	return all
}

// milliamps is a current: a number of milliamperes, or text with its unit.
func milliamps() Object {
	least, most := netlist.Ampere.Range()
	return anyOf(Object{"type": "number", "minimum": least * 1e3, "maximum": most * 1e3}, matching(`^\s*`+netlist.ValuePattern(netlist.Ampere)+`\s*$`))
}

// rating is volts, DC unless AC is written.
func rating() Object { return anyOf(numberIn(netlist.Volt), matching(ratingPattern())) }

// sections is a list with an item for each section of a can.
func sections(item Object) Object {
	return with(listOf(item, 1), "maxItems", netlist.MaxCanSections)
}

// workingPoint is of a section with a screen or of one without: its keys stand together.
func workingPoint() Object {
	s := ObjectOf(netlist.WorkingKeys(), "")
	return with(s, "dependentRequired", map[string][]string{
		"screen": {"screen_volts", "screen_milliamps"}, "screen_volts": {"screen", "screen_milliamps"}, "screen_milliamps": {"screen", "screen_volts"}})
}

// Value is what a value of the key's sort is.
func Value(k *netlist.KeyInfo) Object {
	for _, of := range []func(*netlist.KeyInfo) Object{points, figures, names, tubes} {
		if s := of(k); s != nil {
			return s
		}
	}
	return Object{"type": "string"} // netlist.SortText
}

// points is what a key takes that names points, nil of another.
func points(k *netlist.KeyInfo) Object {
	switch k.Sort {
	case netlist.SortNode:
		return Ref("point")
	case netlist.SortEnds:
		return Ref("two points")
	case netlist.SortPoles:
		return with(listOf(Ref("two points"), 1), "maxItems", netlist.MaxPoles)
	case netlist.SortThrows:
		return Ref("throws")
	case netlist.SortDecks:
		return with(listOf(ObjectOf(netlist.DeckKeys(), ""), 1), "maxItems", netlist.MaxPoles)
	case netlist.SortPins:
		return with(tableOfPins(Ref("point")), "minProperties", 1)
	case netlist.SortNodes:
		return sections(Ref("point"))
	case netlist.SortWindings:
		return with(with(tableOf(Ref("two points")), "minProperties", 1), "maxProperties", netlist.MaxPoles)
	}
	return nil
}

// figures is what a key takes that is a figure, nil of another.
func figures(k *netlist.KeyInfo) Object {
	switch k.Sort {
	case netlist.SortValue:
		return Ref(k.Unit.Plural())
	case netlist.SortWindingVolts:
		return with(tableOf(Ref(netlist.Volt.Plural())), "minProperties", 1)
	case netlist.SortNumber:
		return readingValue(k)
	case netlist.SortRating:
		return rating()
	case netlist.SortLeakage:
		return anyOf(Ref(netlist.Ohm.Plural()), matching(leakPattern()))
	case netlist.SortPercent:
		return anyOf(Object{"type": "number", "exclusiveMinimum": 0, "maximum": 100}, matching(percentPattern))
	case netlist.SortBands:
		return matching(netlist.BandsPattern())
	case netlist.SortDot:
		return matching(netlist.DotPattern())
	case netlist.SortMilliamps:
		return milliamps()
	case netlist.SortValues:
		return sections(Ref(k.Unit.Plural()))
	case netlist.SortRatings:
		return anyOf(rating(), sections(rating()))
	case netlist.SortMains:
		return matching(netlist.MainsPattern())
	}
	return nil
}

// names is what a key takes that is a word or names something else than points, nil of another.
func names(k *netlist.KeyInfo) Object {
	switch k.Sort {
	case netlist.SortWord:
		return Object{"enum": k.Words}
	case netlist.SortNames:
		return with(listOf(matching(`\S`), 1), "uniqueItems", true)
	case netlist.SortSwitches, netlist.SortControls:
		return tableOf(Object{"type": "string"})
	case netlist.SortTubes, netlist.SortParts:
		return with(listOf(Object{"type": "string"}, 0), "uniqueItems", true)
	}
	return nil
}

// tubes is what a key of a tube type takes, nil of another.
func tubes(k *netlist.KeyInfo) Object {
	switch k.Sort {
	case netlist.SortPin:
		return Ref("pin")
	case netlist.SortTwoPins:
		return with(with(listOf(Ref("pin"), 2), "maxItems", 2), "uniqueItems", true)
	case netlist.SortPinList:
		return with(listOf(Ref("pin"), 0), "uniqueItems", true)
	case netlist.SortHeater:
		return ObjectOf(netlist.HeaterKeys(), "")
	case netlist.SortTap:
		return ObjectOf(netlist.TapKeys(), "")
	case netlist.SortSections:
		return listOf(ObjectOf(netlist.SectionKeys(), ""), 0)
	case netlist.SortGrids:
		return listOf(ObjectOf(netlist.GridKeys(), ""), 0)
	case netlist.SortWorking:
		return listOf(workingPoint(), 0)
	case netlist.SortElements:
		return tableOfPins(Object{"type": "string"})
	}
	return nil
}

func listOf(items Object, least int) Object {
	return Object{"type": "array", "items": items, "minItems": least}
}

func tableOf(values Object) Object {
	return Object{"type": "object", "additionalProperties": values}
}

func tableOfPins(values Object) Object {
	return with(tableOf(values), "propertyNames", Object{"pattern": pinPattern})
}

func anyOf(choices ...any) Object { return Object{"anyOf": choices} }

func matching(pattern string) Object { return Object{"type": "string", "pattern": pattern} }

// with adds a keyword to a schema.
func with(s Object, keyword string, v any) Object {
	s[keyword] = v
	return s
}
