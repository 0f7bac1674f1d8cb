package tomltext

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// Writer writes TOML and keeps the first error.
type Writer struct {
	w   *bufio.Writer
	err error
}

// NewWriter returns a writer of TOML.
func NewWriter(w io.Writer) *Writer { return &Writer{w: bufio.NewWriter(w)} }

// Flush writes what is left and returns the first error: the writer's, or of a value that TOML has not.
func (o *Writer) Flush() error {
	if err := o.w.Flush(); err != nil {
		return err
	}
	return o.err
}

// Line writes a line.
func (o *Writer) Line(s string) { o.w.WriteString(s + "\n") } // a bufio.Writer keeps its error until Flush

// Remarks writes lines as remarks; "" is an empty line.
func (o *Writer) Remarks(lines []string) {
	for _, line := range lines {
		if line != "" {
			line = "# " + line
		}
		o.Line(line)
	}
}

// remarkWidth is how wide a remark is at most, in characters.
const remarkWidth = 96

// Remark breaks a text into the lines of a remark.
func Remark(text string) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case len([]rune(line))+1+len([]rune(word)) > remarkWidth:
			lines = append(lines, line)
			line = word
		default:
			line += " " + word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// Entries writes the keys of a table, a line each, their values below each other.
func (o *Writer) Entries(t *netlist.Table) {
	width := 0
	for _, e := range t.Entries {
		width = max(width, Width(e.Key))
	}
	for _, e := range t.Entries {
		o.Entry(width, e.Key, e.Value)
	}
}

// Entry writes a key and its value, the key as wide as those beside it.
func (o *Writer) Entry(width int, key string, v netlist.Value) {
	o.Line(Key(key) + strings.Repeat(" ", max(width-Width(key), 0)) + " = " + o.Value(v))
}

// Width is how wide a key is where it is written, in characters.
func Width(key string) int { return utf8.RuneCountInString(Key(key)) }

// Value gives a value on one line.
func (o *Writer) Value(v netlist.Value) string {
	switch data := v.Data.(type) {
	case string:
		return Text(data)
	case int64:
		return strconv.FormatInt(data, 10)
	case float64:
		return writeFloat(data)
	case bool:
		return strconv.FormatBool(data)
	case []netlist.Value:
		items := make([]string, len(data))
		for i, item := range data {
			items[i] = o.Value(item)
		}
		return "[" + strings.Join(items, ", ") + "]"
	case *netlist.Table:
		items := make([]string, len(data.Entries))
		for i, e := range data.Entries {
			items[i] = Key(e.Key) + " = " + o.Value(e.Value)
		}
		if len(items) == 0 {
			return "{}"
		}
		return "{ " + strings.Join(items, ", ") + " }"
	}
	if o.err == nil {
		o.err = fmt.Errorf("%s: a value of a set file is text, a number, a list or a table, not %s", v.Pos, v.Describe())
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

// Key writes a key, in quotes where it needs them.
func Key(key string) string {
	for i := range len(key) {
		if !isBareKey(key[i]) {
			return Text(key)
		}
	}
	if key == "" {
		return `""`
	}
	return key
}

// Text writes a TOML string in double quotes. What would not show is spelt out.
func Text(s string) string {
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
		case (unicode.IsControl(r) || words.Invisible(r)) && r <= 0xFFFF:
			fmt.Fprintf(&b, `\u%04X`, r)
		case unicode.IsControl(r) || words.Invisible(r):
			fmt.Fprintf(&b, `\U%08X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
