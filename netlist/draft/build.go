package draft

import (
	"cmp"
	"slices"
	"strconv"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/tomltext"
	"coldcheck/netlist/internal/words"
)

// builder makes the document of a set from answers that were judged, in the order of the cord.
type builder struct {
	s        answers
	doc      *netlist.Document
	nodes    *netlist.Table
	tubes    []netlist.WrittenPart // which stand behind all other parts
	heading  string                // of the parts that follow, until it stands above one
	waiting  []string              // what is assumed of the next part
	doubtful bool                  // that part
	noted    []string              // the keys of what is not known and has no part

	top  string // the end of a leg that is not B-minus; of a transformer set the first
	far  string // of a transformer set the other
	line string // behind the first blade, ahead of all
	back string // behind the other
}

// build makes the set that some answers give.
func build(s answers) *builder {
	b := &builder{s: s, doc: &netlist.Document{File: "draft", Header: header(s)}, nodes: &netlist.Table{}}
	b.cord()
	b.heaters()
	b.supply()
	b.barrier()
	b.metal()
	b.outside("antenna", "antenna lead")
	b.outside("ground", "ground terminal")
	b.others()
	b.doc.Nodes = b.nodes
	b.doc.Parts = append(b.doc.Parts, b.tubes...)
	b.replaced()
	return b
}

func header(s answers) *netlist.Table {
	h := netlist.Keys("name", s.or("name", find("name").usual(s)), "mains", s.or("mains", defaultMains))
	if earthed, ok := s.known("earthed"); ok && earthed != netlist.EarthedNeutral {
		h.Entries = append(h.Entries, netlist.Keys("earthed", earthed).Entries...)
	}
	all := netlist.Suspect
	if s.is("replaced", every) {
		all = netlist.Good // but for what is not known, which says so itself
	}
	h.Entries = append(h.Entries, netlist.Keys("condition", string(all)).Entries...)
	return h
}

// group heads the parts that follow.
func (b *builder) group(heading string) { b.heading = heading }

// assume marks the next part as one of which a thing is not known, where that is so.
func (b *builder) assume(keys ...string) {
	for _, key := range keys {
		if _, ok := b.s.known(key); ok || !find(key).applies(b.s) {
			continue
		}
		b.waiting = append(b.waiting, assumption(key))
		b.doubtful = true
	}
}

func assumption(key string) string {
	return key + ": not known, taken as " + find(key).Unknown + "."
}

// note marks what is not known and has no part: it stands at the head of the file.
func (b *builder) note(key string) {
	if b.s.is(key, DontKnow) {
		b.noted = append(b.noted, key)
	}
}

// written makes a part with what was assumed of it. Its name is the first that is free.
func (b *builder) written(name string, kind netlist.Kind, keys *netlist.Table) netlist.WrittenPart {
	p := netlist.WrittenPart{Name: name, Kind: string(kind), Section: "parts", Keys: keys}
	if b.heading != "" {
		if len(b.doc.Parts) > 0 && kind != netlist.KindTube { // the tubes have a section of their own
			p.Remarks = append(p.Remarks, "")
		}
		p.Remarks = append(p.Remarks, tomltext.Remark(b.heading)...)
	}
	for _, remark := range b.waiting {
		p.Remarks = append(p.Remarks, tomltext.Remark(remark)...)
	}
	if b.doubtful {
		condition(keys, netlist.Suspect)
	}
	b.heading, b.waiting, b.doubtful = "", nil, false
	return p
}

// part adds a part.
func (b *builder) part(prefix string, kind netlist.Kind, keys *netlist.Table) {
	b.doc.Parts = append(b.doc.Parts, b.written(b.doc.FreeName(prefix), kind, keys))
}

func ends(a, b string) []string { return []string{a, b} }

// prefixes begin the names of parts.
var prefixes = map[netlist.Kind]string{
	netlist.KindWire: "W", netlist.KindResistor: "R", netlist.KindCapacitor: "C", netlist.KindCoil: "L", netlist.KindMotor: "M", netlist.KindLamp: "LP",
	netlist.KindInsulation: "I", netlist.KindFuse: "F", netlist.KindSwitch: "S", netlist.KindPlug: "PL", netlist.KindTransformer: "T",
}

// between adds a part with two ends, what was said of it, and further keys and values.
func (b *builder) between(kind netlist.Kind, said *netlist.Table, from, to string, pairs ...any) {
	keys := netlist.Keys("ends", ends(from, to))
	if said != nil {
		keys.Entries = append(keys.Entries, said.Entries...)
	}
	keys.Entries = append(keys.Entries, netlist.Keys(pairs...).Entries...)
	b.part(prefixes[kind], kind, keys)
}

// condition says what to believe of a part, ahead of its note.
func condition(keys *netlist.Table, of netlist.Condition) {
	e := netlist.Keys("condition", string(of)).Entries[0]
	at := slices.IndexFunc(keys.Entries, func(e netlist.Entry) bool { return e.Key == "note" })
	if at < 0 || keys.Has("condition") {
		keys.Set(e)
		return
	}
	keys.Entries = slices.Insert(keys.Entries, at, e)
}

// keysOr are the keys of an answer, or others where it is not known.
func (b *builder) keysOr(key string, kind netlist.Kind, otherwise *netlist.Table) *netlist.Table {
	text, ok := b.s.known(key)
	if !ok {
		return otherwise
	}
	keys, err := fields(kind, withoutKind(kind, text))
	if err != nil {
		return otherwise
	}
	return keys
}

// tube adds a tube with its wired pins.
func (b *builder) tube(typed string, pins map[int]string) {
	table := &netlist.Table{}
	numbers := make([]int, 0, len(pins))
	for n := range pins {
		numbers = append(numbers, n)
	}
	slices.Sort(numbers)
	for _, n := range numbers {
		table.Entries = append(table.Entries, netlist.Keys(strconv.Itoa(n), pins[n]).Entries...)
	}
	p := b.written("V"+strconv.Itoa(len(b.tubes)+1), netlist.KindTube, netlist.Keys("type", typed, "pins", table))
	p.Section = netlist.FindKind(netlist.KindTube).Section
	b.tubes = append(b.tubes, p)
}

// replaced marks what is new, or was proved, as good.
func (b *builder) replaced() {
	text, ok := b.s.known("replaced")
	if !ok {
		b.note("replaced")
		return
	}
	for _, name := range items(text) {
		if p := b.doc.Part(name); p != nil && p.Kind != string(netlist.KindPlug) && !p.Keys.Has("condition") {
			condition(p.Keys, netlist.Good)
		}
	}
}

// finished heads the document with what is not known and what was not asked yet.
func (b *builder) finished(open []*Question) *netlist.Document {
	text := "Drafted from what was traced of the line side."
	if len(b.s) == 0 {
		text = "Drafted before anything was answered."
	}
	var missing []string
	for _, q := range open {
		missing = append(missing, q.Key)
	}
	b.doc.Remarks = tomltext.Remark(text)
	slices.SortStableFunc(b.noted, func(x, y string) int { return cmp.Compare(order(x), order(y)) })
	for _, key := range slices.Compact(b.noted) {
		b.doc.Remarks = append(b.doc.Remarks, tomltext.Remark(assumption(key))...)
	}
	if len(missing) > 0 {
		b.doc.Remarks = append(b.doc.Remarks, tomltext.Remark("Not answered: "+words.And(missing)+". Each is taken as not known.")...)
	}
	return b.doc
}

// order is the place of a question.
func order(key string) int {
	return slices.IndexFunc(questions(), func(q *Question) bool { return q.Key == key })
}
