package plan

import (
	"fmt"
	"io"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/tomltext"
)

// Write writes the plan as a plan file, each step below the remark of why it is done. The error is
// the writer's, or tells of a value that no plan has.
func (p *Plan) Write(w io.Writer) error {
	out := tomltext.NewWriter(w)
	out.Line("plan = " + tomltext.Text(p.Name))
	out.Line("format = 1")
	for i := range p.Steps {
		s := &p.Steps[i]
		out.Line("")
		out.Remarks(tomltext.Remark(s.Why))
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
