package setfile

import (
	"io"
	"slices"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/tomltext"
)

// Write writes a document as a set file, with its own remarks: one part a line, in the order of the
// document. What is read back is the same set. The error is the writer's, or tells of a value that
// no set file has.
func Write(w io.Writer, d *netlist.Document) error {
	out := tomltext.NewWriter(w)
	if len(d.Remarks) > 0 {
		out.Remarks(d.Remarks)
		out.Line("")
	}
	out.Line("format = 1")
	if d.Header != nil {
		out.Line("\n[set]")
		out.Entries(d.Header)
	}
	if d.Nodes != nil {
		out.Line("\n[nodes]")
		out.Entries(d.Nodes)
	}
	section := ""
	sections := sectionsOf(d)
	widths := map[string]int{}
	for i, section := range sections {
		widths[section] = max(widths[section], tomltext.Width(d.Parts[i].Name))
	}
	for i := range d.Parts {
		p := &d.Parts[i]
		if sections[i] != section {
			section = sections[i]
			out.Line("")
			out.Remarks(p.Remarks)
			out.Line("[" + section + "]")
		} else {
			out.Remarks(p.Remarks)
		}
		keys := p.Keys.Clone()
		if section == "parts" {
			kind := netlist.Entry{Key: "kind", Value: netlist.Value{Data: p.Kind}}
			keys.Entries = slices.Insert(keys.Entries, 0, kind)
		}
		out.Entry(widths[section], p.Name, netlist.Value{Data: keys})
	}
	for _, r := range d.Readings {
		out.Line("\n[[readings]]")
		out.Entries(r)
	}
	if d.TubeTypes != nil {
		for _, e := range d.TubeTypes.Entries {
			t, ok := e.Value.Data.(*netlist.Table)
			if !ok {
				continue
			}
			out.Line("\n[tube_types." + tomltext.Text(e.Key) + "]")
			out.Entries(t)
		}
	}
	return out.Flush()
}

// sectionsOf says under which section each part is written: the one that it was read from, unless
// the order of the parts would change, for a section stands only once in a file.
func sectionsOf(d *netlist.Document) []string {
	sections := make([]string, len(d.Parts))
	seen := map[string]bool{}
	for i := range d.Parts {
		p := &d.Parts[i]
		sections[i] = "parts"
		if info := netlist.FindKind(netlist.Kind(p.Kind)); info != nil && info.Section == p.Section && p.Section != "" {
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
