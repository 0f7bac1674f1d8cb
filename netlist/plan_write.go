package netlist

import (
	"bufio"
	"fmt"
	"io"
	"strings"
)

// planWidth is how wide a remark of a written plan is at most, in characters.
const planWidth = 96

// Write writes the plan as a plan file, each step below the remark of why it is done. The error is
// the writer's, or tells of a value that no plan has.
func (p *Plan) Write(w io.Writer) error {
	out := &tomlWriter{w: bufio.NewWriter(w)}
	out.line("plan = " + writeText(p.Name))
	out.line("format = 1")
	for i := range p.Steps {
		s := &p.Steps[i]
		out.line("")
		for _, line := range remark(s.Why) {
			out.line("# " + line)
		}
		out.line("[[steps]]")
		for _, k := range []struct{ key, text string }{
			{"do", s.Do}, {"part", s.Part}, {"node", s.Node}, {"terminal", s.Terminal}, {"from", s.From}, {"to", s.To},
		} {
			if k.text != "" {
				out.line(fmt.Sprintf("%-8s = %s", k.key, writeText(k.text)))
			}
		}
		if s.As != nil {
			out.line(fmt.Sprintf("%-8s = %s", "as", out.value(Value{Data: s.As})))
		}
	}
	if err := out.w.Flush(); err != nil {
		return err
	}
	return out.err
}

// remark breaks a text into the lines of a remark.
func remark(text string) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		switch {
		case line == "":
			line = word
		case len([]rune(line))+1+len([]rune(word)) > planWidth:
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

// Keys makes a table of keys and values, in that order: for a step that is not read from a file. A
// value is text, a number (float64), a list of texts, or what a table holds.
func Keys(pairs ...any) *Table {
	t := &Table{}
	for i := 0; i+1 < len(pairs); i += 2 {
		name, _ := pairs[i].(string)
		t.Entries = append(t.Entries, Entry{Key: name, Value: valueOf(pairs[i+1])})
	}
	return t
}

func valueOf(data any) Value {
	switch data := data.(type) {
	case []string:
		items := make([]Value, len(data))
		for i, s := range data {
			items[i] = Value{Data: s}
		}
		return Value{Data: items}
	case [][]string:
		items := make([]Value, len(data))
		for i, s := range data {
			items[i] = valueOf(s)
		}
		return Value{Data: items}
	case Value:
		return data
	}
	return Value{Data: data}
}
