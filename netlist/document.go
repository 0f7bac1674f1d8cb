package netlist

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist/internal/words"
)

// Document is a set file as written: nothing in it is judged yet but that its parts are tables.
// A plan edits it part by part; Build checks it whole and makes the set.
type Document struct {
	File      string
	Header    *Table // [set]; nil where the file has none
	Nodes     *Table // [nodes]: names to tables; nil where the file has none
	Parts     []WrittenPart
	Readings  []*Table
	TubeTypes *Table // [tube_types]; nil where the file has none

	PartsPos Pos // of the first section of parts

	// Remarks stand above all else where the document is written, a line each. Those of a file are not kept.
	Remarks []string
}

// WrittenPart is a part as written.
type WrittenPart struct {
	Name    string
	Kind    string // as written, or the kind of its section; "" where none is given
	KindPos Pos
	Section string // "parts", or the section that gave the kind
	Pos     Pos    // of the name
	Keys    *Table // all keys but kind
	// Remarks stand above the part where it is written, a line each, and of the first part of a section above
	// its header; "" is an empty line.
	Remarks []string
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
	c.Remarks = slices.Clone(d.Remarks)
	c.Parts = slices.Clone(d.Parts)
	for i := range c.Parts {
		c.Parts[i].Keys = c.Parts[i].Keys.Clone()
		c.Parts[i].Remarks = slices.Clone(c.Parts[i].Remarks)
	}
	c.Readings = slices.Clone(d.Readings)
	for i := range c.Readings {
		c.Readings[i] = c.Readings[i].Clone()
	}
	return &c
}

// Remove takes a part out; it returns false where there is none of that name.
func (d *Document) Remove(name string) bool {
	before := len(d.Parts)
	d.Parts = slices.DeleteFunc(d.Parts, func(w WrittenPart) bool { return w.Name == name })
	return len(d.Parts) < before
}

// Fit puts a part in: behind the last one of the section named after its kind, where the document
// has that section, else behind all others. It does not look whether the name is taken.
func (d *Document) Fit(w WrittenPart) {
	at := len(d.Parts)
	w.Section = "parts"
	if info := FindKind(Kind(w.Kind)); info != nil && info.Section != "" {
		for i := range d.Parts {
			if d.Parts[i].Section == info.Section {
				at, w.Section = i+1, info.Section
			}
		}
	}
	d.Parts = slices.Insert(d.Parts, at, w)
}

// FreeName is the first of PREFIX1, PREFIX2 … that no part has.
func (d *Document) FreeName(prefix string) string {
	for n := 1; ; n++ {
		if name := fmt.Sprintf("%s%d", prefix, n); d.Part(name) == nil {
			return name
		}
	}
}

// Rename gives the set another name: the one given, else its own and that it is reworked. That it was as found
// is true of it no more, and is not carried along.
func (d *Document) Rename(name string) {
	if d.Header == nil {
		d.Header = Keys()
	}
	if name == "" {
		e, _ := d.Header.Get("name")
		old, _ := e.Value.Data.(string)
		name = reworkedName(old)
	}
	d.Header.Set(Keys("name", name).Entries[0])
}

// asFound is what a set's name says of it before it was worked on, with the marks that part it from the rest.
var asFound = words.Pattern(`(?i)[\s,;:([-]*\bas found\b[)\]]*`)

func reworkedName(old string) string {
	const reworked = "reworked"
	switch old = strings.TrimSpace(asFound().ReplaceAllString(old, "")); {
	case old == "" || strings.HasSuffix(old, reworked):
		return cmp.Or(old, reworked)
	}
	return old + ", " + reworked
}
