package setfile

import (
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

// header reads [set].
func (b *builder) header() {
	h := b.doc.Header
	mains := netlist.Value{Data: netlist.DefaultMains}
	b.set.Earthed = netlist.EarthedNeutral
	if h == nil && b.complete(h) && !b.unread.refused["set"] {
		b.addf(b.start, "there is no [set]; begin the file with [set] and, below it, name = \"what the set is called\"")
	} else if h != nil {
		h = b.checkKeys(h, "[set]", netlist.SetKeys())
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
		b.set.Earthed = b.word(h, netlist.FindKey(netlist.SetKeys(), "earthed"), "[set]", netlist.EarthedNeutral)
		b.set.Condition = netlist.Condition(b.word(h, netlist.FindKey(netlist.SetKeys(), "condition"), "[set]", ""))
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
