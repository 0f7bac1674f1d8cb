package plan

import (
	"fmt"
	"io"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/tomltext"
)

// planWidth is how wide a remark of a written plan is at most, in characters.
const planWidth = 96

// Write writes the plan as a plan file, each step below the remark of why it is done. The error is
// the writer's, or tells of a value that no plan has.
func (p *Plan) Write(w io.Writer) error {
	out := tomltext.NewWriter(w)
	out.Line("plan = " + tomltext.Text(p.Name))
	out.Line("format = 1")
	for i := range p.Steps {
		s := &p.Steps[i]
		out.Line("")
		for _, line := range remark(s.Why) {
			out.Line("# " + line)
		}
		out.Line("[[steps]]")
		for _, k := range []struct{ key, text string }{
			{"do", s.Do}, {"part", s.Part}, {"node", s.Node}, {"terminal", s.Terminal}, {"from", s.From}, {"to", s.To},
		} {
			if k.text != "" {
				out.Line(fmt.Sprintf("%-8s = %s", k.key, tomltext.Text(k.text)))
			}
		}
		if s.As != nil {
			out.Line(fmt.Sprintf("%-8s = %s", "as", out.Value(netlist.Value{Data: s.As})))
		}
	}
	return out.Flush()
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
