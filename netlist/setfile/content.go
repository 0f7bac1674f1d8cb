package setfile

import (
	"slices"
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
	switch {
	case slices.ContainsFunc(p.Root.Entries, func(e netlist.Entry) bool { return IsSetSection(e.Key) }):
		return ContentSet
	case p.Root.Has("plan") || p.Root.Has("steps"):
		return ContentPlan
	}
	return ContentUnknown
}

// IsSetSection reports whether a section is one of set files, by which they are told from plans.
func IsSetSection(name string) bool {
	return name == "set" || name == "nodes" || name == "parts" || netlist.SectionKind(name) != nil
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
