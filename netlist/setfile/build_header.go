package setfile

import (
	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// header reads [set].
func (b *builder) header() {
	h := b.doc.Header
	mains := netlist.Value{Data: netlist.DefaultMains}
	b.set.Earthed = netlist.EarthedNeutral
	if h == nil && b.complete(h) && !b.unread.refused["set"] {
		b.addf(b.start, "there is no [set]; begin the file with [set] and, below it, name = \"what the set is called\"")
	} else if h != nil {
		b.checkKeys(h, "[set]", netlist.SetKeys())
		b.set.Name = b.text(h, "name", "[set]")
		b.set.Note = b.note(h, "[set]")
		name, ok := h.Get("name")
		switch {
		case !ok && !b.complete(h):
		case !ok:
			b.addf(h.Pos, "[set] has no name; add name = \"what the set is called\"")
		case name.Value.Data == "" || b.set.Name == "" && name.Value.Describe() == "text":
			b.addf(name.Value.Pos, "the set's name is empty; write what the set is called")
		case words.HasControl(b.set.Name):
			b.addf(name.Value.Pos, "the set's name has a control character in it; write it on one line, in letters")
		}
		b.set.Earthed = b.word(h, netlist.FindKey(netlist.SetKeys(), "earthed"), "[set]", netlist.EarthedNeutral)
		b.set.Condition = netlist.Condition(b.word(h, netlist.FindKey(netlist.SetKeys(), "condition"), "[set]", ""))
		if m, ok := h.Get("mains"); ok {
			mains = m.Value
		}
	}
	text, ok := mains.Data.(string)
	if !ok {
		b.addf(mains.Pos, "mains is %s; write volts and hertz in quotes, like mains = %q", mains.Describe(), netlist.DefaultMains)
		return
	}
	volts, hertz, err := netlist.ParseMains(text)
	if err != nil {
		b.addf(mains.Pos, "%v", err)
	}
	b.set.Volts, b.set.Hertz = volts, hertz
}
