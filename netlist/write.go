package netlist

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// Write writes the document as a set file, without remarks: one part a line, in the order of the
// document. What is read back is the same set. The error is the writer's, or tells of a value that
// no set file has.
func (d *Document) Write(w io.Writer) error {
	out := &tomlWriter{w: bufio.NewWriter(w)}
	out.line("format = 1")
	if d.Header != nil {
		out.line("\n[set]")
		out.entries(d.Header)
	}
	if d.Nodes != nil {
		out.line("\n[nodes]")
		out.entries(d.Nodes)
	}
	section := ""
	sections := d.sections()
	for i := range d.Parts {
		p := &d.Parts[i]
		if sections[i] != section {
			section = sections[i]
			out.line("\n[" + section + "]")
		}
		keys := p.Keys.Clone()
		if section == "parts" {
			kind := Entry{Key: "kind", Value: Value{Data: p.Kind}}
			keys.Entries = slices.Insert(keys.Entries, 0, kind)
		}
		out.line(writeKey(p.Name) + " = " + out.value(Value{Data: keys}))
	}
	for _, r := range d.Readings {
		out.line("\n[[readings]]")
		out.entries(r)
	}
	if d.TubeTypes != nil {
		for _, e := range d.TubeTypes.Entries {
			t, ok := e.Value.Data.(*Table)
			if !ok {
				continue
			}
			out.line("\n[tube_types." + writeText(e.Key) + "]")
			out.entries(t)
		}
	}
	if err := out.w.Flush(); err != nil {
		return err
	}
	return out.err
}

// sections says under which section each part is written: the one that it was read from, unless
// the order of the parts would change, for a section stands only once in a file.
func (d *Document) sections() []string {
	sections := make([]string, len(d.Parts))
	seen := map[string]bool{}
	for i := range d.Parts {
		p := &d.Parts[i]
		sections[i] = "parts"
		if info := FindKind(Kind(p.Kind)); info != nil && info.Section == p.Section && p.Section != "" {
			sections[i] = p.Section
		}
		if i > 0 && sections[i] == sections[i-1] {
			continue
		}
		if seen[sections[i]] {
			for k := range sections {
				sections[k] = "parts"
			}
			return sections
		}
		seen[sections[i]] = true
	}
	return sections
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

// tomlWriter writes TOML and keeps the first error.
type tomlWriter struct {
	w   *bufio.Writer
	err error
}

func (o *tomlWriter) line(s string) { o.w.WriteString(s + "\n") } // a bufio.Writer keeps its error until Flush

func (o *tomlWriter) entries(t *Table) {
	for _, e := range t.Entries {
		o.line(writeKey(e.Key) + " = " + o.value(e.Value))
	}
}

// value writes a value on one line.
func (o *tomlWriter) value(v Value) string {
	switch data := v.Data.(type) {
	case string:
		return writeText(data)
	case int64:
		return strconv.FormatInt(data, 10)
	case float64:
		return writeFloat(data)
	case bool:
		return strconv.FormatBool(data)
	case []Value:
		items := make([]string, len(data))
		for i, item := range data {
			items[i] = o.value(item)
		}
		return "[" + strings.Join(items, ", ") + "]"
	case *Table:
		items := make([]string, len(data.Entries))
		for i, e := range data.Entries {
			items[i] = writeKey(e.Key) + " = " + o.value(e.Value)
		}
		if len(items) == 0 {
			return "{}"
		}
		return "{ " + strings.Join(items, ", ") + " }"
	}
	if o.err == nil {
		o.err = fmt.Errorf("%s: a value of a set file is text, a number, a list or a table, not %s", v.Pos, v.sort())
	}
	return `""`
}

// writeFloat writes a number so that TOML reads it as a float again.
func writeFloat(x float64) string {
	switch {
	case math.IsNaN(x):
		return "nan"
	case math.IsInf(x, 0):
		return strings.ToLower(strconv.FormatFloat(x, 'g', -1, 64)[:4])
	}
	s := strconv.FormatFloat(x, 'g', -1, 64)
	if !strings.ContainsAny(s, ".e") {
		s += ".0"
	}
	return s
}

// writeKey writes a key, in quotes where it needs them.
func writeKey(key string) string {
	for i := range len(key) {
		if !isBareKey(key[i]) {
			return writeText(key)
		}
	}
	if key == "" {
		return `""`
	}
	return key
}

// writeText writes a TOML string in double quotes. What would not show is spelt out.
func writeText(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case (unicode.IsControl(r) || invisible(r)) && r <= 0xFFFF:
			fmt.Fprintf(&b, `\u%04X`, r)
		case unicode.IsControl(r) || invisible(r):
			fmt.Fprintf(&b, `\U%08X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
