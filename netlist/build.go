package netlist

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Bounds of a set. Over them a file is refused.
const (
	MaxParts        = 20000
	MaxPoles        = 64   // of a switch; decks of a selector and windings of a transformer likewise
	MaxCombinations = 1024 // positions of all switches and selectors, multiplied
	MaxNameRunes    = 64   // of a point
)

// DefaultMains is the mains where a file says none.
const DefaultMains = "120 V 60 Hz"

// Build checks a document whole and makes the set. The error is Problems, and then there is no set.
func (d *Document) Build() (*Set, error) {
	set, problems := d.Clone().build()
	if len(problems) > 0 {
		return nil, problems.sorted()
	}
	return set, nil
}

// build makes the set, which keeps the document, or tells the problems. Of a document that was not
// read whole it makes none.
func (d *Document) build() (*Set, Problems) {
	b := &builder{
		doc:   d,
		set:   &Set{File: d.File, nodes: map[string]*Node{}, parts: map[string]*Part{}, doc: d},
		uses:  map[string]*nodeUse{},
		start: Pos{d.File, 1, 1},

		doubtful: d.lost != "" || d.aside != "" || len(d.refused) > 0,
	}
	b.header()
	b.tubeTypes()
	b.declareNodes()
	b.parts()
	b.checkWhole()
	b.readings()
	if b.count() > 0 {
		return nil, b.all(d.File)
	}
	if _, plug := b.set.Plug(); b.doubtful || plug == nil {
		return nil, nil // the document's own problems are told by those who read it
	}
	b.notices()
	return b.set, nil
}

// builder makes a set out of a document. It goes on after a problem, so that all are found.
type builder struct {
	nearCounter
	problemList
	doc   *Document
	set   *Set
	tubes *tubeIndex
	uses  map[string]*nodeUse
	start Pos

	// doubtful is set once a part could not be read whole: what it would have joined is not known,
	// and what follows from it alone is not complained of.
	doubtful bool
	mentions map[string]bool // all texts of all parts, made when first asked for
}

// nodeUse is where a node is used.
type nodeUse struct {
	terminals int
	frames    int
	part      string // the first part on it
	terminal  string // and which of its terminals
	pos       Pos
}

func (b *builder) addf(pos Pos, format string, args ...any) {
	if pos.Line == 0 {
		pos = b.start
	}
	b.problemList.addf(pos, format, args...)
}

func (b *builder) notice(n Notice) { b.set.Notices = append(b.set.Notices, n) }

// maxNears bounds the search for nearest names in a file that is wrong all through.
const maxNears = 200

// complete reports whether all the lines of a table could be read, so that what it lacks may be
// complained of. A table without a header stands in one line, which was read or was not.
func (b *builder) complete(t *Table) bool { return b.doc.lost == "" || t != nil && !t.Header }

// nearCounter counts the searches for a nearest name.
type nearCounter int

// near is nearest, and gives up in a file full of slips.
func (n *nearCounter) near(s string, known []string) string {
	if *n++; *n > maxNears {
		return ""
	}
	return nearest(s, known)
}

// header reads [set].
func (b *builder) header() {
	h := b.doc.Header
	mains := Value{Data: DefaultMains}
	if h == nil && b.complete(h) && !b.doc.refused["set"] {
		b.addf(b.start, "there is no [set]; begin the file with [set] and, below it, name = \"what the set is called\"")
	} else if h != nil {
		b.checkKeys(h, "[set]", setKeys)
		b.set.Name = b.text(h, "name", "[set]")
		b.set.Note = b.note(h, "[set]")
		name, ok := h.Get("name")
		switch {
		case !ok && !b.complete(h):
		case !ok:
			b.addf(h.Pos, "[set] has no name; add name = \"what the set is called\"")
		case name.Value.Data == "" || b.set.Name == "" && name.Value.sort() == "text":
			b.addf(name.Value.Pos, "the set's name is empty; write what the set is called")
		case hasControl(b.set.Name):
			b.addf(name.Value.Pos, "the set's name has a control character in it; write it on one line, in letters")
		}
		if m, ok := h.Get("mains"); ok {
			mains = m.Value
		}
	}
	text, ok := mains.Data.(string)
	if !ok {
		b.addf(mains.Pos, "mains is %s; write volts and hertz in quotes, like mains = %q", mains.sort(), DefaultMains)
		return
	}
	volts, hertz, err := parseMains(text)
	if err != nil {
		b.addf(mains.Pos, "%v", err)
	}
	b.set.Volts, b.set.Hertz = volts, hertz
}

// checkKeys complains of keys that are not among the known ones. Where is how a message names the
// table.
func (b *builder) checkKeys(t *Table, where string, known []KeyInfo) {
	for _, e := range t.Entries {
		if findKey(known, e.Key) == nil {
			b.unknownKey(t, e, where, known)
		}
	}
}

// text reads a text key of a table, "" where it is not given or is no text.
func (b *builder) text(t *Table, key, where string) string {
	e, ok := t.Get(key)
	if !ok {
		return ""
	}
	s, ok := e.Value.Data.(string)
	if !ok {
		b.addf(e.Value.Pos, "%s of %s is %s; write text in quotes, like %s = \"…\"", key, where, e.Value.sort(), key)
		return ""
	}
	return strings.TrimSpace(s)
}

// note reads a note, which may have several lines.
func (b *builder) note(t *Table, where string) string { return b.text(t, "note", where) }

// word reads a key that takes one of some words; def where it is left out.
func (b *builder) word(t *Table, info *KeyInfo, where, def string) string {
	e, ok := t.Get(info.Name)
	if !ok {
		return def
	}
	s, ok := e.Value.Data.(string)
	if !ok {
		b.addf(e.Value.Pos, "%s of %s is %s; write one of %s in quotes", info.Name, where, e.Value.sort(), choices(info.Words))
		return def
	}
	for _, w := range info.Words {
		if s == w {
			return w
		}
	}
	hint := "it is one of " + choices(info.Words)
	// A safety class is not guessed at: what is marked on the part has to be read again.
	if w := b.near(s, info.Words); w != "" && info.Name != "class" {
		hint = fmt.Sprintf("did you mean %q? It is one of %s", w, choices(info.Words))
	}
	b.addf(e.Value.Pos, "%s = %s is not known; %s", info.Name, quote(s), hint)
	return def
}

func choices(words []string) string { return joinWords(words, ", ", " or ") }

// nodeName checks a point's name and trims it; "" where it is none, which has been told then.
func (b *builder) nodeName(v Value, where string) string {
	s, ok := v.Data.(string)
	if !ok {
		switch n := v.Data.(type) {
		case int64, float64:
			b.addf(v.Pos, "%s is a number; the name of a point stands in quotes, like \"%v\"", where, n)
		default:
			b.addf(v.Pos, "%s is %s; write the name of one point in quotes, like \"line 1\"", where, v.sort())
		}
		return ""
	}
	name, wrong := checkNodeName(s)
	if wrong != "" {
		b.addf(v.Pos, "%s: %s", where, wrong)
	}
	return name
}

// checkNodeName trims a point's name, or says what is wrong with it.
func checkNodeName(s string) (name, wrong string) {
	name = strings.TrimSpace(s)
	switch {
	case name == "":
		return "", "the name of a point is empty; write a name, like \"line 1\""
	case utf8.RuneCountInString(name) > MaxNameRunes:
		return "", fmt.Sprintf("the name of a point is longer than %d characters; shorten %s", MaxNameRunes, quote(name))
	case strings.ContainsFunc(name, unicode.IsControl):
		return "", fmt.Sprintf("the name of a point has a control character in it; take it out of %s", quote(name))
	}
	return name, ""
}

// use notes that a terminal or a frame of a part is on a node, and makes the node where it is new.
func (b *builder) use(name string, pos Pos, part, terminal string, frame bool) {
	u := b.uses[name]
	if u == nil {
		u = &nodeUse{part: part, terminal: terminal, pos: pos}
		b.uses[name] = u
	}
	if frame {
		u.frames++
	} else {
		u.terminals++
	}
	if b.set.nodes[name] == nil {
		n := &Node{Name: name, Pos: pos}
		b.set.nodes[name] = n
		b.set.Nodes = append(b.set.Nodes, n)
	}
}
