package setfile

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// checkKeys complains of keys of a part that its kind does not take.
func (r *partReader) checkKeys() {
	for _, e := range r.keys.Entries {
		if r.info.Key(e.Key) == nil {
			r.b.unknownPartKey(r, e, slices.Concat(r.info.Keys, netlist.PartKeys()))
		}
	}
}

// unknownPartKey says what is wrong with a key that a kind does not take: a line that landed in
// the wrong table, a dot in a part's name, a key of another kind, a misspelt one.
func (b *builder) unknownPartKey(r *partReader, e netlist.Entry, known []netlist.KeyInfo) {
	if r.b.strays(e, "part "+r.quoted, r.keys) {
		return
	}
	kind := r.info.Kind
	if inner, ok := e.Value.Data.(*netlist.Table); ok && r.keys.Dotted && looksLikePart(inner) {
		r.dotted = true
		b.addf(r.w.Pos, "%s", dotInName(r.quoted, e.Key))
		return
	}
	if r.pairKey(e) || r.polarKey(e) || r.windingKey(e) {
		return
	}
	for _, meant := range keyWords()[strings.ToLower(e.Key)] {
		if k := r.info.Key(meant); k != nil && k.Same == "" {
			b.addf(e.Pos, "%s %s has no key %s; it is called %s here%s", kind, r.quoted, words.Quote(e.Key), meant, r.goOnAs(e, meant))
			return
		}
	}
	if near := b.near(e.Key, netlist.KeyNames(known)); near != "" {
		r.excuse(near)
		r.keys = renamed(r.keys, e.Key, near)
		b.addf(e.Pos, "%s %s has no key %s; did you mean %s?", kind, r.quoted, words.Quote(e.Key), words.Quote(near))
		return
	}
	var others []string
	for _, k := range netlist.Kinds() {
		if k.Kind != kind && netlist.FindKey(k.Keys, e.Key) != nil {
			others = append(others, string(k.Kind))
		}
	}
	takes := words.Choices(slices.Concat(netlist.KeyNames(r.info.Keys), netlist.KeyNames(netlist.PartKeys()[1:])))
	if len(others) > 0 {
		b.addf(e.Pos, "%s is a key of a %s, and %s is a %s; a %s takes %s", e.Key, words.Choices(others), r.quoted, kind, kind, takes)
		return
	}
	b.addf(e.Pos, "%s %s has no key %s; it takes %s", kind, r.quoted, words.Quote(e.Key), takes)
}

// dotInName says how to write a part whose name was meant to have a dot.
func dotInName(before, after string) string {
	return fmt.Sprintf("a part's name has no dot; write %[1]s-%[2]s, or %[1]s_%[2]s", before, words.Visible(after))
}

// keyWords are other words for keys, each with the keys that may be meant.
var keyWords = sync.OnceValue(func() map[string][]string {
	return map[string][]string{
		"live": {"hot"}, "line": {"hot"}, "phase": {"hot"}, "cold": {"neutral"}, "ground": {"earth"}, "pe": {"earth"},
		"nodes": {"ends", "pins"}, "points": {"ends"}, "between": {"ends"}, "terminals": {"ends", "pins", "windings"}, "pin": {"pins"},
		"ohms": {"value"}, "resistance": {"value", "ohms"}, "impedance": {"ohms"}, "value": {"ohms"}, "capacitance": {"value"}, "farads": {"value"},
		"uf": {"value"}, "mfd": {"value"}, "mf": {"value"}, "pf": {"value"}, "mmf": {"value"}, "mmfd": {"value"}, "nf": {"value"},
		"inductance": {"henries"}, "voltage": {"volts", "rating"}, "volts": {"rating"}, "current": {"amps"}, "power": {"watts"},
		"model": {"type"}, "tube": {"type"}, "number": {"type"}, "heater": {"pins"}, "socket": {"pins"}, "sockets": {"pins"}, "wattage": {"watts"},
		"milliamps": {"amps"}, "ma": {"amps"}, "henrys": {"henries"}, "h": {"henries"}, "wv": {"rating"}, "dc": {"rating"}, "working_volts": {"rating"}, "notes": {"note"},
		"dot": {"body_end_dot"}, "colour": {"bands"}, "color": {"bands"}, "colour_code": {"bands"}, "color_code": {"bands"}, "stripes": {"bands"},
		"material": {"type"}, "dielectric": {"type"}, "colours": {"bands"}, "colors": {"bands"},
		"plus": {"positive"}, "minus": {"negative"}, "remark": {"note"}, "comment": {"note"}, "state": {"condition"},
		"shell": {"frame"}, "can": {"frame"}, "shaft": {"frame"}, "body": {"frame"}, "insulation": {"grade", "frame_insulation"},
		"leak": {"leakage"}, "wipers": {"wiper"}, "slider": {"wiper"}, "arm": {"wiper"}, "contacts": {"throws", "poles"},
	}
})

// unknownKey says what is wrong with a key of a table that is no part, and returns the key that was meant; ""
// where that is not plain.
func (b *builder) unknownKey(t *netlist.Table, e netlist.Entry, where string, known []netlist.KeyInfo) string {
	if b.strays(e, where, t) {
		return ""
	}
	if meant := meantKey(e.Key, known); meant != "" {
		b.addf(e.Pos, "%s has no key %s; it is called %s here", where, words.Quote(e.Key), meant)
		return meant
	}
	near := b.near(e.Key, netlist.KeyNames(known))
	b.addf(e.Pos, "%s has no key %s; %s", where, words.Quote(e.Key), words.Meant(near, "it takes "+words.Choices(netlist.KeyNames(known))))
	return near
}

// partMarks are keys that tell a part from other tables.
var partMarks = []string{"kind", "ends", "pins", "windings", "poles", "throws", "decks", "anode", "hot", "positive"}

// looksLikePart reports whether a table is a part by its keys.
func looksLikePart(t *netlist.Table) bool {
	return slices.ContainsFunc(partMarks, t.Has)
}

// strays reports whether a line was meant for a section and landed in a table with a header of its own
// that stands above it, and complains of it.
func (b *builder) strays(e netlist.Entry, where string, t *netlist.Table) bool {
	text := strayText(e, where, t)
	if text != "" {
		b.addf(e.Pos, "%s", text)
	}
	return text != ""
}

// strayText is what a line is told that was meant for a section, "" for one that was not.
func strayText(e netlist.Entry, where string, t *netlist.Table) string {
	inner, ok := e.Value.Data.(*netlist.Table)
	switch {
	case !ok || !t.Header || inner.Header:
		return ""
	case looksLikePart(inner):
		return fmt.Sprintf("the line %s belongs to %s, whose header stands above it; move the line up, under its section's own header", words.Quote(e.Key), where)
	case inner.Has("touch"):
		return fmt.Sprintf("the line %s belongs to %s, whose header stands above it; move the line up, under [nodes]", words.Quote(e.Key), where)
	}
	return ""
}

// unknownKind says what is wrong with the kind of a part, and returns the kind that was meant; nil where that is
// not plain.
func (b *builder) unknownKind(w *netlist.WrittenPart) *netlist.KindInfo {
	names := netlist.KindNames()
	switch meant := meantKind(&b.nearCounter, w.Kind); {
	case w.Kind == unreadableKind:
		return guessKind(w)
	case w.Kind == "":
		return b.noKind(w, names)
	case meant != nil && netlist.KindByWord(w.Kind) == nil && words.FoldWord(w.Kind) != string(meant.Kind) && b.near(w.Kind, names) == string(meant.Kind):
		b.addf(w.KindPos, "the kind %s is not known; did you mean %q?", words.Quote(w.Kind), meant.Kind)
		return meant
	case meant != nil:
		b.addf(w.KindPos, "the kind %s is called %s here; write kind = %q", words.Quote(w.Kind), meant.Kind, meant.Kind)
		return meant
	}
	b.addf(w.KindPos, "the kind %s is not known; it is one of %s", words.Quote(w.Kind), words.Choices(names))
	return nil
}

// noKind tells of a part in [parts] that says no kind.
func (b *builder) noKind(w *netlist.WrittenPart, names []string) *netlist.KindInfo {
	for _, e := range w.Keys.Entries {
		if inner, ok := e.Value.Data.(*netlist.Table); ok && w.Keys.Dotted && looksLikePart(inner) {
			b.addf(w.Pos, "%s", dotInName(words.Visible(w.Name), e.Key))
			return nil
		}
	}
	guess := guessKind(w)
	switch {
	case guess == nil:
		b.addf(w.Pos, "%s has no kind; add kind = \"…\", one of %s", words.Quote(w.Name), words.Choices(names))
	case guess.Section == "":
		b.addf(w.Pos, "%s has no kind; if it is a %s, add kind = %q", words.Quote(w.Name), guess.Kind, guess.Kind)
	default:
		b.addf(w.Pos, "%s has no kind; if it is a %s, add kind = %q, or move the line under [%s]", words.Quote(w.Name), guess.Kind, guess.Kind, guess.Section)
	}
	return guess
}

// unknownSection says what is wrong with a section or a key at the top of the file.
func (r *documentReader) unknownSection(e netlist.Entry) {
	t, isTable := e.Value.Data.(*netlist.Table)
	sections := netlist.KeyNames(netlist.RootKeys())
	for _, k := range netlist.Kinds() {
		if k.Section != "" {
			sections = append(sections, k.Section)
		}
	}
	if isTable && !t.Header && looksLikePart(t) {
		r.unread.aside += texts(e.Value)
		r.addf(e.Pos, "%s looks like a part and stands in no section; put a line [parts] above it", words.Quote(e.Key))
		return
	}
	if meant := netlist.KindByWord(e.Key); meant != nil && isTable {
		if meant.Section == "" {
			r.addf(e.Pos, "there is no section [%s]; put the plug in [parts], like %s, or call the section [\"line cords\"]", words.Visible(e.Key), meant.Example)
		} else {
			r.addf(e.Pos, "there is no section [%s]; it is called [%s] here", words.Visible(e.Key), meant.Section)
		}
		r.parts(e, meant) // so that no point is missed that its parts use
		return
	}
	if isTable && r.meantSection(e, sections) {
		return
	}
	r.unread.aside += texts(e.Value)
	hint := "the sections are [" + words.Join(sections[1:], "], [", "] and [") + "]"
	if near := r.near(e.Key, sections); near != "" {
		hint = "did you mean " + words.Quote(near) + "?"
	} else if !isTable && netlist.FindKey(netlist.SetKeys(), e.Key) != nil {
		hint = "put a line [set] above it"
		r.loose = append(r.loose, e)
	}
	what := "section"
	if !isTable {
		what = "key at the top of the file"
	}
	r.addf(e.Pos, "%s is not a known %s; %s", words.Quote(e.Key), what, hint)
}

// meantSection tells of a section that was plainly meant as another, and reads it as that where there is no such
// section yet; it reports whether it did.
func (r *documentReader) meantSection(e netlist.Entry, sections []string) bool {
	meant := sectionWords[strings.ToLower(strings.ReplaceAll(e.Key, "_", " "))]
	hint := fmt.Sprintf("it is called [%s] here", meant)
	if meant == "" {
		meant = r.near(e.Key, sections)
		hint = "did you mean " + words.Quote(meant) + "?"
	}
	there := map[string]bool{"format": true, "set": r.doc.Header != nil, "nodes": r.doc.Nodes != nil, "readings": r.doc.Readings != nil, "tube_types": r.doc.TubeTypes != nil}
	if meant == "" || there[meant] {
		return false
	}
	r.addf(e.Pos, "%s is not a known section; %s", words.Quote(e.Key), hint)
	e.Key = meant
	r.section(e)
	return true
}

// texts joins all texts in a value, a line each.
func texts(v netlist.Value) string {
	var b strings.Builder
	eachText(v, func(text string) { b.WriteString(text + "\n") })
	return b.String()
}

// eachText visits all texts in a value.
func eachText(v netlist.Value, visit func(string)) {
	switch data := v.Data.(type) {
	case string:
		visit(data)
	case []netlist.Value:
		for _, item := range data {
			eachText(item, visit)
		}
	case *netlist.Table:
		for _, e := range data.Entries {
			eachText(e.Value, visit)
		}
	}
}
