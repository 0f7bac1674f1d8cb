package setfile

import (
	"fmt"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// parts reads every part, in the order of the file.
func (b *builder) parts() {
	if n := len(b.doc.Parts); n > netlist.MaxParts {
		b.addf(b.doc.Parts[netlist.MaxParts].Pos, "%d parts are more than the %d that a set file may have; split the file into sets", n, netlist.MaxParts)
		b.doubtful = true
		return
	}
	for i := range b.doc.Parts {
		b.part(&b.doc.Parts[i])
	}
}

func (b *builder) part(w *netlist.WrittenPart) {
	before := b.count()
	defer func() { b.doubtful = b.doubtful || b.count() > before }()
	b.checkPartName(w)
	info := netlist.FindKind(netlist.Kind(w.Kind))
	if info == nil {
		b.unknownKind(w)
		return
	}
	r := &partReader{
		b: b, w: w, info: info, keys: w.Keys, quoted: words.Visible(words.Shorten(w.Name)),
		part: &netlist.Part{Name: w.Name, Kind: info.Kind, Pos: w.Pos},
	}
	r.checkKeys()
	r.common()
	r.part.Detail = partBuilders[info.Kind](r)
	r.missing()
	r.frame()
	b.set.AddPart(r.part)
}

// partBuilders read what only one kind has.
var partBuilders = map[netlist.Kind]func(*partReader) netlist.Detail{
	netlist.KindPlug:          buildPlug,
	netlist.KindSwitch:        buildSwitch,
	netlist.KindSelector:      buildSelector,
	netlist.KindFuse:          buildFuse,
	netlist.KindWire:          buildWire,
	netlist.KindResistor:      buildResistor,
	netlist.KindPotentiometer: buildPotentiometer,
	netlist.KindCapacitor:     buildCapacitor,
	netlist.KindCoil:          buildCoil,
	netlist.KindMotor:         buildMotor,
	netlist.KindLamp:          buildLamp,
	netlist.KindTransformer:   buildTransformer,
	netlist.KindTube:          buildTube,
	netlist.KindRectifier:     buildRectifier,
	netlist.KindBattery:       buildBattery,
	netlist.KindInsulation:    buildInsulation,
}

func (b *builder) checkPartName(w *netlist.WrittenPart) {
	switch {
	case w.Name == netlist.SupplyName:
		b.addf(w.Pos, "a part cannot be called supply, which is the mains itself; call it PL1, say")
	case !netlist.IsPartName(w.Name):
		b.addf(w.Pos, "%s is not a part's name; use 1 to 32 letters, digits, _ and -, like R12", words.Quote(w.Name))
	}
}

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
	def := string(netlist.Good)
	if t, ok := r.keys.Get("type"); ok && r.info.Kind == netlist.KindCapacitor && t.Value.Data == "paper" {
		def = string(netlist.Suspect)
	}
	r.part.Condition = netlist.Condition(r.b.word(r.keys, netlist.FindKey(netlist.PartKeys(), "condition"), r.quoted, def))
	r.part.ConditionStated = r.has("condition")
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
	r.note(name, pos)
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

// value reads a key that takes a value; 0 where it is not given or wrong.
func (r *partReader) value(key string) float64 {
	e, ok := r.keys.Get(key)
	if !ok {
		return 0
	}
	return r.b.value(e.Value, r.info.Key(key).Unit, key+" of "+r.quoted, r.w.Name)
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

// word reads a key that takes one of some words; def where it is left out or wrong.
func (r *partReader) word(key, def string) string {
	return r.b.word(r.keys, r.info.Key(key), r.quoted, def)
}

// oneOf complains unless exactly one of two ways to write a part is used.
func (r *partReader) oneOf(a, b string) {
	second, hasB := r.keys.Get(b)
	switch {
	case r.has(a) && hasB:
		r.addf(second.Pos, "%s has both %s and %s; keep one of the two", r.quoted, a, b)
	case r.lacks(a) && r.lacks(b):
		r.addf(r.w.Pos, "%s %s has neither %s nor %s; add %s", r.info.Kind, r.quoted, a, b,
			strings.TrimSpace(r.info.Key(a).Example))
	}
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
