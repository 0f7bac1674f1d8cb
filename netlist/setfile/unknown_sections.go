package setfile

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// unknownKind says what is wrong with the kind of a part.
func (b *builder) unknownKind(w *netlist.WrittenPart) {
	names := netlist.KindNames()
	switch meant := netlist.KindByWord(w.Kind); {
	case w.Kind == unreadableKind:
	case w.Kind == "":
		text := fmt.Sprintf("%s has no kind; add kind = \"…\", one of %s", words.Quote(w.Name), words.Choices(names))
		for _, e := range w.Keys.Entries {
			if inner, ok := e.Value.Data.(*netlist.Table); ok && w.Keys.Dotted && looksLikePart(inner) {
				text = dotInName(words.Visible(w.Name), e.Key)
			}
		}
		b.addf(w.Pos, "%s", text)
	case meant != nil:
		b.addf(w.KindPos, "the kind %s is called %s here; write kind = %q", words.Quote(w.Kind), meant.Kind, meant.Kind)
	default:
		hint := words.Meant(b.near(w.Kind, names), "it is one of "+words.Choices(names))
		b.addf(w.KindPos, "the kind %s is not known; %s", words.Quote(w.Kind), hint)
	}
}

// unknownSection says what is wrong with a section or a key at the top of the file.
func (r *documentReader) unknownSection(e netlist.Entry) {
	t, isTable := e.Value.Data.(*netlist.Table)
	sections := slices.Clone(rootKeys)
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
			r.addf(e.Pos, "there is no section [%s]; put the plug in [parts], like %s", words.Visible(e.Key), meant.Example)
		} else {
			r.addf(e.Pos, "there is no section [%s]; it is called [%s] here", words.Visible(e.Key), meant.Section)
		}
		r.parts(e, meant) // so that no point is missed that its parts use
		return
	}
	r.unread.aside += texts(e.Value)
	hint := "the sections are [" + words.Join(sections[1:], "], [", "] and [") + "]"
	if near := r.near(e.Key, sections); near != "" {
		hint = "did you mean " + words.Quote(near) + "?"
	} else if !isTable && netlist.FindKey(netlist.SetKeys(), e.Key) != nil {
		hint = "put a line [set] above it"
	}
	what := "section"
	if !isTable {
		what = "key at the top of the file"
	}
	r.addf(e.Pos, "%s is not a known %s; %s", words.Quote(e.Key), what, hint)
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
