package setfile

import (
	"fmt"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// Build checks a document whole and makes the set. The error is Problems, and then there is no set.
func Build(doc *netlist.Document) (*netlist.Set, error) {
	set, problems := build(doc.Clone(), unread{})
	if len(problems) > 0 {
		return nil, problems.Sorted()
	}
	return set, nil
}

// Check is Build with the problems in the order in which they are found: those of single parts before
// those of the whole. The set keeps the document, which must not be changed any more.
func Check(doc *netlist.Document) (*netlist.Set, netlist.Problems) { return build(doc, unread{}) }

// build makes the set, which keeps the document, or tells the problems. Of a document that was not
// read whole it makes none.
func build(doc *netlist.Document, left unread) (*netlist.Set, netlist.Problems) {
	b := &builder{
		doc:   doc,
		set:   netlist.NewSet(doc),
		uses:  map[string]*nodeUse{},
		start: netlist.Pos{File: doc.File, Line: 1, Col: 1},

		unread:   left,
		doubtful: left.any(),
	}
	b.header()
	b.tubeTypes()
	b.declareNodes()
	b.parts()
	b.checkWhole()
	b.readings()
	if b.count() > 0 {
		return nil, b.all(doc.File)
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
	doc    *netlist.Document
	unread unread
	set    *netlist.Set
	tubes  *tubeIndex
	uses   map[string]*nodeUse
	start  netlist.Pos

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
	pos       netlist.Pos
}

func (b *builder) addf(pos netlist.Pos, format string, args ...any) {
	if pos.Line == 0 {
		pos = b.start
	}
	b.problemList.addf(pos, format, args...)
}

func (b *builder) notice(n netlist.Notice) { b.set.Notices = append(b.set.Notices, n) }

// maxNears bounds the search for nearest names in a file that is wrong all through.
const maxNears = 200

// complete reports whether all the lines of a table could be read, so that what it lacks may be
// complained of. A table without a header stands in one line, which was read or was not.
func (b *builder) complete(t *netlist.Table) bool {
	return b.unread.lost == "" || t != nil && !t.Header
}

// nearCounter counts the searches for a nearest name.
type nearCounter int

// near is nearest, and gives up in a file full of slips.
func (n *nearCounter) near(s string, known []string) string {
	if *n++; *n > maxNears {
		return ""
	}
	return words.Nearest(s, known)
}

// header reads [set].
func (b *builder) header() {
	h := b.doc.Header
	mains := netlist.Value{Data: netlist.DefaultMains}
	if h == nil && b.complete(h) && !b.unread.refused["set"] {
		b.addf(b.start, "there is no [set]; begin the file with [set] and, below it, name = \"what the set is called\"")
	} else if h != nil {
		b.checkKeys(h, "[set]", netlist.SetKeys())
		b.set.Name = b.text(h, "name", "[set]")
		b.set.Note = b.note(h, "[set]")
		name, ok := h.Get("name")
		switch {
		case !ok && !b.complete(h):
		case !ok:
			b.addf(h.Pos, "[set] has no name; add name = \"what the set is called\"")
		case name.Value.Data == "" || b.set.Name == "" && name.Value.Describe() == "text":
			b.addf(name.Value.Pos, "the set's name is empty; write what the set is called")
		case words.HasControl(b.set.Name):
			b.addf(name.Value.Pos, "the set's name has a control character in it; write it on one line, in letters")
		}
		if m, ok := h.Get("mains"); ok {
			mains = m.Value
		}
	}
	text, ok := mains.Data.(string)
	if !ok {
		b.addf(mains.Pos, "mains is %s; write volts and hertz in quotes, like mains = %q", mains.Describe(), netlist.DefaultMains)
		return
	}
	volts, hertz, err := netlist.ParseMains(text)
	if err != nil {
		b.addf(mains.Pos, "%v", err)
	}
	b.set.Volts, b.set.Hertz = volts, hertz
}

// checkKeys complains of keys that are not among the known ones. Where is how a message names the
// table.
func (b *builder) checkKeys(t *netlist.Table, where string, known []netlist.KeyInfo) {
	for _, e := range t.Entries {
		if netlist.FindKey(known, e.Key) == nil {
			b.unknownKey(t, e, where, known)
		}
	}
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
	// A safety class is not guessed at: what is marked on the part has to be read again.
	if w := b.near(s, info.Words); w != "" && info.Name != "class" {
		hint = fmt.Sprintf("did you mean %q? It is one of %s", w, words.Choices(info.Words))
	}
	b.addf(e.Value.Pos, "%s = %s is not known; %s", info.Name, words.Quote(s), hint)
	return def
}

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

// use notes that a terminal or a frame of a part is on a node, and makes the node where it is new.
func (b *builder) use(name string, pos netlist.Pos, part, terminal string, frame bool) {
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
	if b.set.Node(name) == nil {
		b.set.AddNode(&netlist.Node{Name: name, Pos: pos})
	}
}
