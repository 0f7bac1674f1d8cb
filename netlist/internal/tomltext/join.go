package tomltext

import (
	"slices"

	"coldcheck/netlist"
)

// joinTable puts together what the decoder read and where it was written.
func joinTable(ix *lineIndex, s *spot, data map[string]any) *netlist.Table {
	t := &netlist.Table{Pos: ix.pos(s.key), Header: s.header, Dotted: s.dotted}
	t.Entries = make([]netlist.Entry, 0, len(data))
	for _, key := range s.order {
		if value, ok := data[key]; ok {
			at := s.kids[key]
			t.Entries = append(t.Entries, netlist.Entry{Key: key, Pos: ix.pos(at.key), Value: joinValue(ix, at, value)})
		}
	}
	if len(t.Entries) == len(data) {
		return t
	}
	var unplaced []string
	for key := range data {
		if s.kids[key] == nil {
			unplaced = append(unplaced, key)
		}
	}
	slices.Sort(unplaced)
	for _, key := range unplaced {
		at := newSpot(s.key, s.value)
		t.Entries = append(t.Entries, netlist.Entry{Key: key, Pos: ix.pos(at.key), Value: joinValue(ix, at, data[key])})
	}
	return t
}

func joinValue(ix *lineIndex, s *spot, data any) netlist.Value {
	pos := ix.pos(s.value)
	item := func(i int) *spot {
		if i < len(s.items) {
			return s.items[i]
		}
		return newSpot(s.key, s.value)
	}
	switch data := data.(type) {
	case map[string]any:
		return netlist.Value{Pos: pos, Data: joinTable(ix, s, data)}
	case []map[string]any:
		items := make([]netlist.Value, len(data))
		for i, d := range data {
			items[i] = joinValue(ix, item(i), d)
		}
		return netlist.Value{Pos: pos, Data: items}
	case []any:
		items := make([]netlist.Value, len(data))
		for i, d := range data {
			items[i] = joinValue(ix, item(i), d)
		}
		return netlist.Value{Pos: pos, Data: items}
	}
	return netlist.Value{Pos: pos, Data: data}
}
