package setfile

import (
	"slices"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// can takes a can of several electrolytics as the capacitors that it stands for: C1A, C1B … of C1. What is
// wrong with the can itself is told here, what is wrong with a section when that is built.
func (r *documentReader) can(w netlist.WrittenPart) {
	before, name := r.count(), words.Visible(words.Shorten(w.Name))
	if !r.canKeys(w, name) {
		r.unread.aside += texts(netlist.Value{Data: w.Keys})
		return
	}
	sections := r.canList(w, "sections", name, 0)
	positive := r.canList(w, "positive", name, len(sections))
	negative, _ := w.Keys.Get("negative")
	rating, rated := w.Keys.Get("rating")
	var ratings []netlist.Value
	r.canPoints(negative.Value, positive, name)
	broken := r.count() > before
	if _, isList := rating.Value.Data.([]netlist.Value); isList {
		ratings = r.canList(w, "rating", name, len(sections))
	} else if rated {
		ratings = slices.Repeat([]netlist.Value{rating.Value}, len(sections))
	}
	if broken {
		r.unread.aside += texts(netlist.Value{Data: w.Keys})
		return
	}
	section := "parts"
	if w.Section == netlist.Can().Section {
		section = netlist.FindKind(netlist.KindCapacitor).Section
	}
	for i := range sections {
		part := netlist.WrittenPart{Name: w.Name + string(rune('A'+i)), Kind: string(netlist.KindCapacitor), KindPos: w.KindPos, Section: section, Pos: w.Pos}
		if first, ok := r.named[part.Name]; ok {
			r.addf(w.Pos, "a section of the can %s is called %s, and so is the part on line %d; give one of the two another name", name, words.Quote(part.Name), first.Line)
			return
		}
		r.named[part.Name] = w.Pos
		part.Keys = &netlist.Table{Pos: w.Keys.Pos, Header: w.Keys.Header}
		add := func(key string, e netlist.Entry, v netlist.Value) {
			part.Keys.Entries = append(part.Keys.Entries, netlist.Entry{Key: key, Pos: e.Pos, Value: v})
		}
		plus, _ := w.Keys.Get("positive")
		value, _ := w.Keys.Get("sections")
		add("ends", plus, netlist.Value{Pos: positive[i].Pos, Data: []netlist.Value{positive[i], negative.Value}})
		add("value", value, sections[i])
		if len(ratings) > 0 {
			add("rating", rating, ratings[i])
		}
		add("type", value, netlist.Value{Pos: w.KindPos, Data: "electrolytic"})
		add("positive", plus, positive[i])
		for _, e := range w.Keys.Entries {
			if netlist.FindKey(netlist.PartKeys(), e.Key) != nil {
				part.Keys.Entries = append(part.Keys.Entries, e)
			}
		}
		r.doc.Parts = append(r.doc.Parts, part)
	}
}

// canKeys checks which keys a can has, and reports whether it has those that it needs.
func (r *documentReader) canKeys(w netlist.WrittenPart, name string) bool {
	known := slices.Concat(netlist.Can().Keys, netlist.PartKeys())
	whole := true
	for _, e := range w.Keys.Entries {
		if netlist.FindKey(known, e.Key) != nil {
			continue
		}
		if text := strayText(e, "part "+name, w.Keys); text != "" {
			r.addf(e.Pos, "%s", text)
			continue
		}
		hint := words.Meant(r.near(e.Key, netlist.KeyNames(known)), "it takes "+words.Choices(netlist.KeyNames(known[:len(known)-1])))
		r.addf(e.Pos, "can %s has no key %s; %s", name, words.Quote(e.Key), hint)
		whole = false
	}
	for _, k := range netlist.Can().Keys {
		if k.Required && !w.Keys.Has(k.Name) && whole && (r.unread.lost == "" || !w.Keys.Header) {
			r.addf(w.Pos, "can %s has no %s; add %s", name, k.Name, k.Example)
		}
		whole = whole && (w.Keys.Has(k.Name) || !k.Required)
	}
	return whole
}

// canList reads a list with a value a section; of the sections themselves, which come first, count is 0.
func (r *documentReader) canList(w netlist.WrittenPart, key, name string, count int) []netlist.Value {
	e, _ := w.Keys.Get(key)
	items, ok := e.Value.Data.([]netlist.Value)
	switch {
	case !ok || len(items) == 0:
		r.addf(e.Value.Pos, "%s of %s is %s; write one for each section, like %s", key, name, emptyOr(e.Value), netlist.FindKey(netlist.Can().Keys, key).Example)
		return nil
	case len(items) > netlist.MaxCanSections:
		r.addf(e.Value.Pos, "%s of %s has %d, more than the %d sections that a can may have", key, name, len(items), netlist.MaxCanSections)
		return nil
	case count > 0 && len(items) != count:
		r.addf(e.Value.Pos, "%s has %s and %s in %s; write one for each section", name, words.Count(count, "section"), words.Count(len(items), "entry"), key)
		return nil
	}
	return items
}

// canPoints checks the point that all sections share, once for all of them, and that it is none of their own.
func (r *documentReader) canPoints(negative netlist.Value, positive []netlist.Value, name string) {
	minus := r.canPoint(negative, "negative", name)
	for _, v := range positive {
		if plus := r.canPoint(v, "positive", name); plus != "" && plus == minus {
			r.addf(v.Pos, "positive and negative of %s are both %s; they must be two different points", name, words.Quote(minus))
		}
	}
}

// canPoint checks the name of a point; "" where it is none, which has been told then.
func (r *documentReader) canPoint(v netlist.Value, key, name string) string {
	text, ok := v.Data.(string)
	if !ok {
		r.addf(v.Pos, "%s of %s is %s; write the name of a point in quotes, like \"B-\"", key, name, v.Describe())
		return ""
	}
	point, wrong := netlist.CheckNodeName(text)
	if wrong != "" {
		r.addf(v.Pos, "%s of %s: %s", key, name, wrong)
	}
	return point
}
