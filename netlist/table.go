package netlist

import (
	"slices"
	"time"
)

// Table is a table as written: its keys in the order of the file, each with its place.
type Table struct {
	Pos     Pos
	Header  bool // written as [header]: lines below it belong to it
	Dotted  bool // made by a dotted key, a.b = …
	Entries []Entry
}

// Entry is one key of a table.
type Entry struct {
	Key   string
	Pos   Pos
	Value Value
}

// Value is a value as written. Data is a string, int64, float64, bool, time.Time, []Value or *Table.
type Value struct {
	Pos  Pos
	Data any
}

// Get returns the entry of a key.
func (t *Table) Get(key string) (Entry, bool) {
	if t == nil {
		return Entry{}, false
	}
	for _, e := range t.Entries {
		if e.Key == key {
			return e, true
		}
	}
	return Entry{}, false
}

// Has reports whether the table has a key.
func (t *Table) Has(key string) bool {
	_, ok := t.Get(key)
	return ok
}

// Set gives a key a value: in its old place where the table has it, else at the end.
func (t *Table) Set(e Entry) {
	for i := range t.Entries {
		if t.Entries[i].Key == e.Key {
			t.Entries[i] = e
			return
		}
	}
	t.Entries = append(t.Entries, e)
}

// Delete takes a key out.
func (t *Table) Delete(key string) {
	t.Entries = slices.DeleteFunc(t.Entries, func(e Entry) bool { return e.Key == key })
}

// Clone returns a copy that shares nothing with t. Of nil it returns nil.
func (t *Table) Clone() *Table {
	if t == nil {
		return nil
	}
	c := *t
	c.Entries = make([]Entry, len(t.Entries))
	for i, e := range t.Entries {
		c.Entries[i] = Entry{e.Key, e.Pos, e.Value.Clone()}
	}
	return &c
}

// Clone returns a copy that shares nothing with v.
func (v Value) Clone() Value {
	switch data := v.Data.(type) {
	case *Table:
		return Value{v.Pos, data.Clone()}
	case []Value:
		items := make([]Value, len(data))
		for i, item := range data {
			items[i] = item.Clone()
		}
		return Value{v.Pos, items}
	}
	return v
}

// sort says in plain words what a value is.
func (v Value) sort() string {
	switch v.Data.(type) {
	case string:
		return "text"
	case int64, float64:
		return "a number"
	case bool:
		return "true or false"
	case time.Time:
		return "a date"
	case []Value:
		return "a list"
	case *Table:
		return "a table"
	}
	return "something else"
}

// joinTable puts together what the decoder read and where it was written.
func joinTable(ix *lineIndex, s *spot, data map[string]any) *Table {
	t := &Table{Pos: ix.pos(s.key), Header: s.header, Dotted: s.dotted}
	t.Entries = make([]Entry, 0, len(data))
	for _, key := range s.order {
		if value, ok := data[key]; ok {
			at := s.kids[key]
			t.Entries = append(t.Entries, Entry{key, ix.pos(at.key), joinValue(ix, at, value)})
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
		t.Entries = append(t.Entries, Entry{key, ix.pos(at.key), joinValue(ix, at, data[key])})
	}
	return t
}

func joinValue(ix *lineIndex, s *spot, data any) Value {
	pos := ix.pos(s.value)
	item := func(i int) *spot {
		if i < len(s.items) {
			return s.items[i]
		}
		return newSpot(s.key, s.value)
	}
	switch data := data.(type) {
	case map[string]any:
		return Value{pos, joinTable(ix, s, data)}
	case []map[string]any:
		items := make([]Value, len(data))
		for i, d := range data {
			items[i] = joinValue(ix, item(i), d)
		}
		return Value{pos, items}
	case []any:
		items := make([]Value, len(data))
		for i, d := range data {
			items[i] = joinValue(ix, item(i), d)
		}
		return Value{pos, items}
	}
	return Value{pos, data}
}
