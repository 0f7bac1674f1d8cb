package setfile

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// checkKeys complains of keys that are not among the known ones. Where is how a message names the
// table. It returns the table to go on with, in which they are called as they were meant.
func (b *builder) checkKeys(t *netlist.Table, where string, known []netlist.KeyInfo) *netlist.Table {
	meant := t
	for _, e := range t.Entries {
		if netlist.FindKey(known, e.Key) != nil {
			continue
		}
		if key := b.unknownKey(t, e, where, known); key != "" {
			meant = renamed(meant, e.Key, key)
		}
	}
	return meant
}

// text reads a text key of a table, "" where it is not given or is no text.
func (b *builder) text(t *netlist.Table, key, where string) string {
	e, ok := t.Get(key)
	if !ok {
		return ""
	}
	s, ok := e.Value.Data.(string)
	if !ok {
		b.addf(e.Value.Pos, "%s of %s is %s; write text in quotes, like %s = \"…\"", key, where, e.Value.Describe(), key)
		return ""
	}
	return strings.TrimSpace(s)
}

// note reads a note, which may have several lines.
func (b *builder) note(t *netlist.Table, where string) string { return b.text(t, "note", where) }

// word reads a key that takes one of some words; def where it is left out.
func (b *builder) word(t *netlist.Table, info *netlist.KeyInfo, where, def string) string {
	e, ok := t.Get(info.Name)
	if !ok {
		return def
	}
	s, ok := e.Value.Data.(string)
	if n, isInt := e.Value.Data.(int64); isInt && slices.Contains(info.Words, strconv.FormatInt(n, 10)) {
		b.addf(e.Value.Pos, "%s of %s is a number; write it in quotes, like %s = \"%d\"", info.Name, where, info.Name, n)
		return def
	}
	if !ok {
		b.addf(e.Value.Pos, "%s of %s is %s; write one of %s in quotes", info.Name, where, e.Value.Describe(), words.Choices(info.Words))
		return def
	}
	for _, w := range info.Words {
		if s == w {
			return w
		}
	}
	hint := "it is one of " + words.Choices(info.Words)
	// A safety class and a lamp's number are not guessed at: what is marked on the part has to be read again.
	guess := info.Name != "class" && strings.Trim(info.Words[0], "0123456789") != ""
	w := meantWord(info, s)
	if w == "" {
		w = b.near(s, info.Words)
	}
	if info.Name == "guard" && slices.Contains(noneWords, strings.ToLower(strings.TrimSpace(s))) {
		hint = "leave " + info.Name + " out, or write one of " + words.Choices(info.Words)
	}
	if w != "" && guess {
		hint = fmt.Sprintf("did you mean %q? It is one of %s", w, words.Choices(info.Words))
	}
	b.addf(e.Value.Pos, "%s = %s is not known; %s", info.Name, words.Quote(s), hint)
	return def
}

// noneWords are what is written where a guard would be left out; of other keys, what is left out is not none.
var noneWords = []string{"none", "no", "nothing", "bare", "n/a", "-", ""}

// nodeName checks a point's name and trims it; "" where it is none, which has been told then.
func (b *builder) nodeName(v netlist.Value, where string) string {
	s, ok := v.Data.(string)
	if !ok {
		switch n := v.Data.(type) {
		case int64, float64:
			b.addf(v.Pos, "%s is a number; the name of a point stands in quotes, like \"%v\"", where, n)
		default:
			b.addf(v.Pos, "%s is %s; write the name of one point in quotes, like \"line 1\"", where, v.Describe())
		}
		return ""
	}
	name, wrong := netlist.CheckNodeName(s)
	if wrong != "" {
		b.addf(v.Pos, "%s: %s", where, wrong)
	}
	return name
}

// pair reads two different nodes. The items are empty where it is not a list of two.
func (b *builder) pair(v netlist.Value, where string) (netlist.Ends, []netlist.Value) {
	items, ok := v.Data.([]netlist.Value)
	switch {
	case !ok:
		b.addf(v.Pos, "%s is %s; write two points in brackets, like [\"line 1\", \"B-\"]", where, v.Describe())
		return netlist.Ends{}, nil
	case len(items) != 2:
		b.addf(v.Pos, "%s names %s; write two points in brackets, like [\"line 1\", \"B-\"]", where, words.Count(len(items), "point"))
		return netlist.Ends{}, nil
	}
	ends := netlist.Ends{b.nodeName(items[0], where), b.nodeName(items[1], where)}
	if ends[0] != "" && ends[0] == ends[1] {
		b.addf(items[1].Pos, "%s: both are %s; they must be two different points", where, words.Quote(ends[0]))
	}
	return ends, items
}

// value reads a value of a unit; 0 where it is wrong. Part is the part it belongs to, if one.
func (b *builder) value(v netlist.Value, unit netlist.Unit, where, part string) float64 {
	var x float64
	var err error
	switch data := v.Data.(type) {
	case string:
		var q netlist.Quantity
		if q, err = netlist.ParseQuantity(data, unit); err == nil {
			x, err = q.Value, netlist.CheckRange(q.Value, unit, data)
			if q.Milli && err == nil {
				b.noteMilli(v.Pos, data, x, part)
			}
			if q.BareM && err == nil {
				b.noteBareM(v.Pos, data, part)
			}
		}
	case int64:
		x, err = netlist.NumberValue(float64(data), unit)
	case float64:
		x, err = netlist.NumberValue(data, unit)
	default:
		err = fmt.Errorf("it is %s; write it like %s", v.Describe(), unit.Sample())
	}
	if err != nil {
		b.addf(v.Pos, "%s: %v", where, err)
		return 0
	}
	return x
}

func emptyOr(v netlist.Value) string {
	if items, ok := v.Data.([]netlist.Value); ok && len(items) == 0 {
		return "empty"
	}
	if t, ok := v.Data.(*netlist.Table); ok && len(t.Entries) == 0 {
		return "empty"
	}
	return v.Describe()
}
