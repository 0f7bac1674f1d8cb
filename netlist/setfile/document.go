package setfile

import (
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/tomltext"
	"coldcheck/netlist/internal/words"
)

// rootKeys are the keys and sections of a set file that are no section of parts named after a kind.
var rootKeys = []string{"format", "set", "nodes", "parts", "readings", "tube_types"}

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
	return r.doc, r.unread, r.all(file)
}

// documentReader sorts the sections of a file into a document.
type documentReader struct {
	nearCounter
	doc    *netlist.Document
	unread unread
	problemList
	named map[string]netlist.Pos // where each part's name was first used
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

// exampleLine is a line of a section for a part of that name.
func exampleLine(info *netlist.KindInfo, name string) string {
	if info == nil {
		return name + ` = { kind = "resistor", ends = ["B-", "chassis"], value = "220k" }`
	}
	var keys []string
	for _, k := range info.Keys {
		if k.Required {
			keys = append(keys, k.Example)
		}
	}
	return name + " = { " + strings.Join(keys, ", ") + " }"
}
