package setfile

import (
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/tomltext"
)

// Content is what a file is by what stands in it.
type Content int

// What a file can be.
const (
	ContentUnknown Content = iota // neither by its keys; most often empty, or no TOML
	ContentSet
	ContentPlan
)

// ContentOf tells a set file from a plan. A file that cannot be read whole is told by the lines that
// can.
func ContentOf(data []byte) Content {
	p := tomltext.Parse("", data)
	if p.Root == nil {
		return contentOfLines(string(data))
	}
	plan, set := p.Root.Has("plan") || p.Root.Has("steps"), false
	for _, e := range p.Root.Entries {
		set = set || e.Key == "set" || e.Key == "nodes" || e.Key == "parts" || netlist.SectionKind(e.Key) != nil
	}
	switch {
	case plan && !set:
		return ContentPlan
	case set:
		return ContentSet
	}
	return ContentUnknown
}

func contentOfLines(text string) Content {
	for line := range strings.Lines(text) {
		line = strings.Join(strings.Fields(line), "")
		switch {
		case strings.HasPrefix(line, "plan="), strings.HasPrefix(line, "[[steps]]"):
			return ContentPlan
		case strings.HasPrefix(line, "[set]"), strings.HasPrefix(line, "[nodes]"), strings.HasPrefix(line, "[parts]"):
			return ContentSet
		}
	}
	return ContentUnknown
}
