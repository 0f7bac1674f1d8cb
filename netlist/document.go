package netlist

import "slices"

// Document is a set file as written: nothing in it is judged yet but that its parts are tables.
// A plan edits it part by part; Build checks it whole and makes the set.
type Document struct {
	File      string
	Header    *Table // [set]; nil where the file has none
	Nodes     *Table // [nodes]: names to tables; nil where the file has none
	Parts     []WrittenPart
	Readings  []*Table
	TubeTypes *Table // [tube_types]; nil where the file has none

	partsPos Pos             // of the first section of parts
	lost     string          // the lines that could not be read
	aside    string          // the texts of sections that are not known
	refused  map[string]bool // sections that are not what they should be
}

// WrittenPart is a part as written.
type WrittenPart struct {
	Name    string
	Kind    string // as written, or the kind of its section; "" where none is given
	KindPos Pos
	Section string // "parts", or the section that gave the kind
	Pos     Pos    // of the name
	Keys    *Table // all keys but kind
}

// rootKeys are the keys and sections of a set file that are no section of parts named after a kind.
var rootKeys = []string{"format", "set", "nodes", "parts", "readings", "tube_types"}

// ParseDocument reads a set file as far as it is written: the error is Problems.
func ParseDocument(file string, data []byte) (*Document, error) {
	doc, problems := parseDocument(file, data)
	if len(problems) > 0 {
		return nil, problems.sorted()
	}
	return doc, nil
}

// parseDocument returns a document with what could be read even where there are problems, and nil
// where the file is no TOML.
func parseDocument(file string, data []byte) (*Document, Problems) {
	p := parseTable(file, data)
	if p.root == nil {
		return nil, p.problems
	}
	r := &documentReader{doc: &Document{File: file, lost: p.lost}, problemList: problemList{problems: p.problems}, named: map[string]Pos{}}
	for _, e := range p.root.Entries {
		r.section(e)
	}
	return r.doc, r.all(file)
}

// documentReader sorts the sections of a file into a document.
type documentReader struct {
	nearCounter
	doc *Document
	problemList
	named map[string]Pos // where each part's name was first used
}

// section takes one key of the file's top.
func (r *documentReader) section(e Entry) {
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
		r.parts(e, "")
	default:
		if kind := sectionKind(e.Key); kind != nil {
			r.parts(e, kind.Kind)
			return
		}
		r.unknownSection(e)
	}
}

func (r *documentReader) table(e Entry, header, below string) *Table {
	t, ok := e.Value.Data.(*Table)
	if !ok {
		r.refuse(e.Key)
		r.addf(e.Value.Pos, "%s is %s; write %s on a line of its own and %s", e.Key, e.Value.sort(), header, below)
		return nil
	}
	return t
}

func (r *documentReader) refuse(section string) {
	if r.doc.refused == nil {
		r.doc.refused = map[string]bool{}
	}
	r.doc.refused[section] = true
}

func (r *documentReader) readings(e Entry) {
	items, ok := e.Value.Data.([]Value)
	if !ok {
		r.addf(e.Pos, "readings is %s; write [[readings]], with two brackets, before each reading", e.Value.sort())
		return
	}
	for _, item := range items {
		t, ok := item.Data.(*Table)
		if !ok {
			r.addf(item.Pos, "a reading is %s; write [[readings]] on a line of its own and the reading below it", item.sort())
			continue
		}
		r.doc.Readings = append(r.doc.Readings, t)
	}
}

// parts takes a section of parts; kind is "" for [parts].
func (r *documentReader) parts(e Entry, kind Kind) {
	t := r.table(e, "["+e.Key+"]", "a line below it for each part")
	if t == nil {
		return
	}
	if r.doc.partsPos.Line == 0 {
		r.doc.partsPos = e.Pos
	}
	for _, p := range t.Entries {
		r.part(p, kind, e.Key)
	}
}

func (r *documentReader) part(e Entry, kind Kind, section string) {
	if first, ok := r.named[e.Key]; ok {
		r.addf(e.Pos, "a second part named %s (the first is on line %d); give each part its own name", quote(e.Key), first.Line)
		return
	}
	r.named[e.Key] = e.Pos
	t, ok := e.Value.Data.(*Table)
	if !ok {
		r.addf(e.Value.Pos, "part %s is %s; write its keys between braces, like %s", quote(e.Key), e.Value.sort(), exampleLine(kind, Visible(shorten(e.Key))))
		return
	}
	w := WrittenPart{Name: e.Key, Kind: string(kind), KindPos: e.Pos, Section: section, Pos: e.Pos, Keys: t}
	if k, ok := t.Get("kind"); ok {
		keys := *t
		keys.Entries = slices.Clone(t.Entries)
		w.Keys = &keys
		w.Keys.Delete("kind")
		word, isText := k.Value.Data.(string)
		switch {
		case kind != "":
			r.addf(k.Pos, "the section [%s] says what kind %s is; take the key kind out, or move the line to [parts]", Visible(section), Visible(e.Key))
		case !isText:
			r.addf(k.Value.Pos, "kind is %s; write a word in quotes, like kind = \"resistor\"", k.Value.sort())
			word = unreadableKind
		}
		if kind == "" {
			w.Kind, w.KindPos = word, k.Value.Pos
		}
	}
	r.doc.Parts = append(r.doc.Parts, w)
}

// unreadableKind stands for a kind that has been complained of already.
const unreadableKind = "\x00"

// exampleLine is a line of a section for a part of that name.
func exampleLine(kind Kind, name string) string {
	info := FindKind(kind)
	if info == nil {
		return name + ` = { kind = "resistor", ends = ["B-", "chassis"], value = "220k" }`
	}
	var keys []string
	for _, k := range info.Keys {
		if k.Required {
			keys = append(keys, k.Example)
		}
	}
	return name + " = { " + joinWords(keys, ", ", ", ") + " }"
}

// Part returns the part of that name as written, or nil.
func (d *Document) Part(name string) *WrittenPart {
	for i := range d.Parts {
		if d.Parts[i].Name == name {
			return &d.Parts[i]
		}
	}
	return nil
}

// Clone returns a copy that shares nothing with d.
func (d *Document) Clone() *Document {
	if d == nil {
		return &Document{}
	}
	c := *d
	c.Header, c.Nodes, c.TubeTypes = d.Header.Clone(), d.Nodes.Clone(), d.TubeTypes.Clone()
	c.Parts = slices.Clone(d.Parts)
	for i := range c.Parts {
		c.Parts[i].Keys = c.Parts[i].Keys.Clone()
	}
	c.Readings = slices.Clone(d.Readings)
	for i := range c.Readings {
		c.Readings[i] = c.Readings[i].Clone()
	}
	return &c
}
