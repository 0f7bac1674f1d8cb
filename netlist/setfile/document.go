package setfile

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/tomltext"
	"coldcheck/netlist/internal/words"
)

// Parse reads a set file as far as it is written: the error is Problems.
func Parse(file string, data []byte) (*netlist.Document, error) {
	doc, _, problems := parse(file, data)
	if len(problems) > 0 {
		return nil, problems.Sorted()
	}
	return doc, nil
}

// parse returns a document with what could be read even where there are problems, and nil
// where the file is no TOML.
func parse(file string, data []byte) (*netlist.Document, unread, netlist.Problems) {
	p := tomltext.Parse(file, data)
	if p.Root == nil {
		return nil, unread{}, p.Problems
	}
	r := &documentReader{doc: &netlist.Document{File: file}, unread: unread{lost: p.Lost}, problemList: problemList{problems: p.Problems}, named: map[string]netlist.Pos{}}
	for _, e := range p.Root.Entries {
		r.section(e)
	}
	r.looseKeys()
	return r.doc, r.unread, r.all(file)
}

// documentReader sorts the sections of a file into a document.
type documentReader struct {
	nearCounter
	doc    *netlist.Document
	unread unread
	problemList
	named map[string]netlist.Pos // where each part's name was first used
	loose []netlist.Entry        // keys of [set] that stand above any section
}

// looseKeys reads the keys of [set] that stand above any section as if they stood in it.
func (r *documentReader) looseKeys() {
	if len(r.loose) == 0 || r.unread.refused["set"] {
		return
	}
	if r.doc.Header == nil {
		r.doc.Header = &netlist.Table{Pos: r.loose[0].Pos}
	}
	for _, e := range r.loose {
		if !r.doc.Header.Has(e.Key) {
			r.doc.Header.Entries = append(r.doc.Header.Entries, e)
		}
	}
}

// section takes one key of the file's top.
func (r *documentReader) section(e netlist.Entry) {
	switch e.Key {
	case "format":
		if n, ok := e.Value.Data.(int64); !ok || n != 1 {
			r.addf(e.Value.Pos, "format is 1 and no other; write format = 1, or leave it out")
		}
	case "set":
		r.doc.Header = r.table(e, `[set]`, "a line name = \"…\" below it")
	case "nodes":
		r.doc.Nodes = r.table(e, `[nodes]`, "a line below it for each point")
	case "tube_types":
		r.doc.TubeTypes = r.table(e, `[tube_types."TYPE"]`, "the type's lines below it")
	case "readings":
		r.readings(e)
	case "parts":
		r.parts(e, nil)
	default:
		if kind := netlist.SectionKind(e.Key); kind != nil {
			r.parts(e, kind)
			return
		}
		r.unknownSection(e)
	}
}

func (r *documentReader) table(e netlist.Entry, header, below string) *netlist.Table {
	t, ok := e.Value.Data.(*netlist.Table)
	if !ok {
		r.refuse(e.Key)
		r.addf(e.Value.Pos, "%s is %s; write %s on a line of its own and %s", e.Key, e.Value.Describe(), header, below)
		return nil
	}
	return t
}

func (r *documentReader) refuse(section string) {
	if r.unread.refused == nil {
		r.unread.refused = map[string]bool{}
	}
	r.unread.refused[section] = true
}

func (r *documentReader) readings(e netlist.Entry) {
	items, ok := e.Value.Data.([]netlist.Value)
	if one, isTable := e.Value.Data.(*netlist.Table); isTable {
		r.doc.Readings = append(r.doc.Readings, one)
	}
	if !ok {
		r.addf(e.Pos, "readings is %s; write [[readings]], with two brackets, before each reading", e.Value.Describe())
		return
	}
	for _, item := range items {
		t, ok := item.Data.(*netlist.Table)
		if !ok {
			r.addf(item.Pos, "a reading is %s; write [[readings]] on a line of its own and the reading below it", item.Describe())
			continue
		}
		r.doc.Readings = append(r.doc.Readings, t)
	}
}

// parts takes a section of parts; kind is nil for [parts].
func (r *documentReader) parts(e netlist.Entry, kind *netlist.KindInfo) {
	t := r.table(e, "["+e.Key+"]", "a line below it for each part")
	if t == nil {
		return
	}
	if r.doc.PartsPos.Line == 0 {
		r.doc.PartsPos = e.Pos
	}
	for _, p := range t.Entries {
		r.part(p, kind, e.Key)
	}
}

func (r *documentReader) part(e netlist.Entry, kind *netlist.KindInfo, section string) {
	if first, ok := r.named[e.Key]; ok {
		r.addf(e.Pos, "a second part named %s (the first is on line %d); give each part its own name", words.Quote(e.Key), first.Line)
		return
	}
	r.named[e.Key] = e.Pos
	t, ok := e.Value.Data.(*netlist.Table)
	if !ok {
		r.addf(e.Value.Pos, "part %s is %s; write its keys between braces, like %s", words.Quote(e.Key), e.Value.Describe(), exampleLine(kind, words.Visible(words.Shorten(e.Key))))
		return
	}
	w := netlist.WrittenPart{Name: e.Key, KindPos: e.Pos, Pos: e.Pos, Keys: t}
	if k, ok := t.Get("kind"); ok {
		keys := *t
		keys.Entries = slices.Clone(t.Entries)
		w.Keys = &keys
		w.Keys.Delete("kind")
		word, isText := k.Value.Data.(string)
		switch {
		case kind != nil:
			r.addf(k.Pos, "the section [%s] says what kind %s is; take the key kind out, or move the line to [parts]", words.Visible(section), words.Visible(e.Key))
		case !isText:
			r.addf(k.Value.Pos, "kind is %s; write a word in quotes, like kind = \"resistor\"", k.Value.Describe())
			word = unreadableKind
		}
		w.Kind, w.KindPos = word, k.Value.Pos
	}
	if kind == nil {
		kind = netlist.KindMeant(w.Kind)
	} else {
		w.Section = kind.Section
	}
	kind = r.meantAsCan(w, kind)
	// A word of the trade is written back as ours, and so is the section that is called by one.
	if w.Section == "" {
		w.Section = "parts"
	}
	if kind != nil {
		w.Kind = string(kind.Kind)
	}
	if kind == netlist.Can() {
		r.can(w)
		return
	}
	r.doc.Parts = append(r.doc.Parts, w)
}

// meantAsCan complains of a can that is written as something else, and returns its kind.
func (r *documentReader) meantAsCan(w netlist.WrittenPart, kind *netlist.KindInfo) *netlist.KindInfo {
	sections, has := w.Keys.Get("sections")
	switch {
	case kind == nil && w.Kind != "" && (has || netlist.KindByWord(w.Kind) == netlist.Can()):
		r.addf(w.KindPos, "the kind %s is called can here; write kind = \"can\"", words.Quote(w.Kind))
	case has && kind != nil && kind.Kind == netlist.KindCapacitor:
		r.addf(sections.Pos, "%s has sections, and is a can; move the line under [cans], or write it in [parts] with kind = \"can\"", words.Quote(w.Name))
	default:
		return kind
	}
	return netlist.Can()
}

// exampleLine is a line of a section for a part of that name.
func exampleLine(info *netlist.KindInfo, name string) string {
	if info == nil {
		return name + ` = { kind = "resistor", ends = ["B-", "chassis"], value = "220k" }`
	}
	_, keys, _ := strings.Cut(info.Example, "= { ")
	return name + " = { " + strings.TrimPrefix(keys, fmt.Sprintf("kind = %q, ", info.Kind))
}

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

// canWords are other words for the keys of a can.
var canWords = map[string]string{
	"volts": "rating", "voltage": "rating", "value": "sections", "values": "sections", "plus": "positive", "minus": "negative", "common": "negative", "shell": "negative",
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
		whole = false
		if meant := canWords[strings.ToLower(e.Key)]; meant != "" {
			r.addf(e.Pos, "can %s has no key %s; it is called %s here", name, words.Quote(e.Key), meant)
			continue
		}
		hint := words.Meant(r.near(e.Key, netlist.KeyNames(known)), "it takes "+words.Choices(netlist.KeyNames(known[:len(known)-1])))
		r.addf(e.Pos, "can %s has no key %s; %s", name, words.Quote(e.Key), hint)
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
