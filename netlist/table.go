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
		c.Entries[i] = Entry{e.Key, e.Pos, e.Value.clone()}
	}
	return &c
}

// clone returns a copy that shares nothing with v.
func (v Value) clone() Value {
	switch data := v.Data.(type) {
	case *Table:
		return Value{v.Pos, data.Clone()}
	case []Value:
		items := make([]Value, len(data))
		for i, item := range data {
			items[i] = item.clone()
		}
		return Value{v.Pos, items}
	}
	return v
}

// Describe says in plain words what a value is.
func (v Value) Describe() string {
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

// Keys makes a table of keys and values, in that order: for a step that is not read from a file. A
// value is text, a number (float64), a list of texts, or what a table holds.
func Keys(pairs ...any) *Table {
	t := &Table{}
	for i := 0; i+1 < len(pairs); i += 2 {
		name, _ := pairs[i].(string)
		t.Entries = append(t.Entries, Entry{Key: name, Value: valueOf(pairs[i+1])})
	}
	return t
}

func valueOf(data any) Value {
	switch data := data.(type) {
	case []string:
		items := make([]Value, len(data))
		for i, s := range data {
			items[i] = Value{Data: s}
		}
		return Value{Data: items}
	case [][]string:
		items := make([]Value, len(data))
		for i, s := range data {
			items[i] = valueOf(s)
		}
		return Value{Data: items}
	case Value:
		return data
	}
	return Value{Data: data}
}
