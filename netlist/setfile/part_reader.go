package setfile

import (
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// partReader reads the keys of one part.
type partReader struct {
	b        *builder
	w        *netlist.WrittenPart
	info     *netlist.KindInfo
	keys     *netlist.Table
	part     *netlist.Part
	quoted   string                 // the name as a message shows it
	places   map[string]netlist.Pos // where each terminal's point was written; of a selector, each point
	misnamed map[string]bool        // keys that are there under another name, which has been told
	dotted   bool                   // the part came of a dot in a name, and is none
}

func (r *partReader) addf(pos netlist.Pos, format string, args ...any) {
	r.b.addf(pos, format, args...)
}

func (r *partReader) has(key string) bool { return r.keys.Has(key) }

// missing complains of required keys that are not there.
func (r *partReader) missing() {
	for _, k := range r.info.Keys {
		if k.Required && r.lacks(k.Name) {
			r.addf(r.w.Pos, "%s %s has no %s; add %s", r.info.Kind, r.quoted, k.Name, k.Example)
		}
	}
}

// complete reports whether all the lines of the part could be read, so that what it lacks may be
// complained of.
func (r *partReader) complete() bool { return !r.dotted && r.b.complete(r.keys) }

// excuse says that a key is there under another name.
func (r *partReader) excuse(key string) {
	if r.misnamed == nil {
		r.misnamed = map[string]bool{}
	}
	r.misnamed[key] = true
}

// lacks reports whether a key is not there, nor anything that may have been meant as it.
func (r *partReader) lacks(key string) bool {
	return !r.has(key) && !r.misnamed[key] && r.complete()
}

// common reads the keys that any part may have, but the frame.
func (r *partReader) common() {
	r.part.Note = r.b.note(r.keys, r.quoted)
	r.part.Condition = netlist.Condition(r.b.word(r.keys, netlist.FindKey(netlist.PartKeys(), "condition"), r.quoted, string(r.condition())))
	r.part.ConditionStated = r.has("condition")
}

// condition is that of a part which has none of its own: what the set says, unless a safety class is marked
// on the part, which is no word for paper.
func (r *partReader) condition() netlist.Condition {
	kind, _ := r.keys.Get("type")
	capacitor := r.info.Kind == netlist.KindCapacitor
	switch {
	case r.b.set.Condition != "" && !(capacitor && r.has("class")):
		return r.b.set.Condition
	case capacitor && kind.Value.Data == "paper":
		return netlist.Suspect
	}
	return netlist.Good
}

// frame reads the part's own metal.
func (r *partReader) frame() {
	e, ok := r.keys.Get("frame")
	said, isSaid := r.keys.Get("frame_insulation")
	grade := r.b.word(r.keys, netlist.FindKey(netlist.PartKeys(), "frame_insulation"), r.quoted, string(netlist.Basic))
	if !ok {
		if isSaid {
			r.addf(said.Pos, "%s has frame_insulation and no frame; name the metal, like frame = \"chassis\", or take it out", r.quoted)
		}
		return
	}
	name := r.b.nodeName(e.Value, "frame of "+r.quoted)
	if name == "" {
		return
	}
	r.part.Frame, r.part.FrameInsulation = name, netlist.Grade(grade)
	r.b.use(name, e.Value.Pos, r.w.Name, "frame", true)
	if sort := r.metalIsTerminal(); sort != "" && !isSaid {
		r.addf(e.Pos, "the metal of %s most often is one of its terminals: then give it that terminal's point and take frame out; "+
			"else say what stands between, like frame_insulation = \"basic\"", sort)
	}
}

// metalIsTerminal names the sort of part whose can or shell most often is one of its terminals.
func (r *partReader) metalIsTerminal() string {
	switch d := r.part.Detail.(type) {
	case *netlist.Capacitor:
		if d.Type == "electrolytic" {
			return "an electrolytic"
		}
	case *netlist.Rectifier:
		return "a rectifier"
	case *netlist.Lamp:
		return "a lamp"
	}
	return ""
}

// terminal gives the part a terminal on a node.
func (r *partReader) terminal(name, node string, pos netlist.Pos) {
	if node == "" {
		return
	}
	r.part.Terminals = append(r.part.Terminals, netlist.Terminal{Name: name, Node: node})
	r.remember(name, pos)
	r.b.use(node, pos, r.w.Name, name, false)
}

// node reads a key that names a point and makes it a terminal of the same name; "" where it is not
// given or wrong.
func (r *partReader) node(key string) string {
	e, ok := r.keys.Get(key)
	if !ok {
		return ""
	}
	name := r.b.nodeName(e.Value, key+" of "+r.quoted)
	r.terminal(key, name, e.Value.Pos)
	return name
}

// ends reads the key ends.
func (r *partReader) ends() netlist.Ends {
	e, ok := r.keys.Get("ends")
	if !ok {
		return netlist.Ends{}
	}
	return r.pair(e.Value, "ends of "+r.quoted, "end 1", "end 2")
}

// pair reads two different nodes and makes them terminals of the names given.
func (r *partReader) pair(v netlist.Value, where, first, second string) netlist.Ends {
	ends, items := r.b.pair(v, where)
	for i, name := range []string{first, second} {
		if i < len(items) {
			r.terminal(name, ends[i], items[i].Pos)
		}
	}
	return ends
}

// value reads a key that takes a value; 0 where it is not given or wrong.
func (r *partReader) value(key string) float64 {
	e, ok := r.keys.Get(key)
	if !ok {
		return 0
	}
	return r.b.value(e.Value, r.info.Key(key).Unit, key+" of "+r.quoted, r.w.Name)
}

// word reads a key that takes one of some words; def where it is left out or wrong.
func (r *partReader) word(key, def string) string {
	return r.b.word(r.keys, r.info.Key(key), r.quoted, def)
}

// oneOf complains unless exactly one of several ways to write a part is used.
func (r *partReader) oneOf(ways ...string) {
	used, lacking := "", true
	for _, way := range ways {
		lacking = lacking && r.lacks(way)
		e, ok := r.keys.Get(way)
		switch {
		case ok && used != "":
			r.addf(e.Pos, "%s has both %s and %s; keep one of the two", r.quoted, used, way)
		case ok:
			used = way
		}
	}
	last := len(ways) - 1
	if used == "" && lacking {
		r.addf(r.w.Pos, "%s %s has neither %s nor %s; add %s", r.info.Kind, r.quoted, strings.Join(ways[:last], ", "), ways[last],
			r.info.Key(ways[0]).Example)
	}
}

// eitherName complains of a key that stands beside another name of it.
func (r *partReader) eitherName() {
	for _, k := range r.info.Keys {
		if e, ok := r.keys.Get(k.Name); ok && k.Same != "" && r.has(k.Same) {
			r.addf(e.Pos, "%s has both %s and %s, which are one here; keep one of the two", r.quoted, k.Same, k.Name)
		}
	}
}

// remember notes where a terminal, or a node of a deck, was written first.
func (r *partReader) remember(name string, pos netlist.Pos) {
	if r.places == nil {
		r.places = map[string]netlist.Pos{}
	}
	if _, ok := r.places[name]; !ok {
		r.places[name] = pos
	}
}

// different complains where two terminals that must differ are one node. It speaks of the second.
func (r *partReader) different(first, a, second, b string) {
	if a == "" || a != b {
		return
	}
	e, ok := r.keys.Get(second)
	if !ok {
		return
	}
	r.addf(e.Value.Pos, "%s and %s of %s are both %s; they must be two different points", first, second, r.quoted, words.Quote(a))
}
