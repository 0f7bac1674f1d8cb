package setfile

import (
	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// checkWhole checks what only the whole set can show.
func (b *builder) checkWhole() {
	b.checkPlugs()
	b.checkTouch()
	b.checkCombinations()
}

// checkPlugs: a set has exactly one plug.
func (b *builder) checkPlugs() {
	var first *netlist.WrittenPart
	unread := b.unread.lost != "" || b.unread.aside != "" || b.unread.refused["parts"]
	for i := range b.doc.Parts {
		w := &b.doc.Parts[i]
		unread = unread || netlist.FindKind(netlist.Kind(w.Kind)) == nil
		if w.Kind != string(netlist.KindPlug) {
			continue
		}
		if first != nil {
			b.addf(w.Pos, "%s is a second plug (the first is %s on line %d); a set has one", words.Quote(w.Name), words.Quote(first.Name), first.Pos.Line)
			continue
		}
		first = w
	}
	// A part of unknown kind may have been meant as the plug.
	if first == nil && !unread && len(b.doc.Parts) <= netlist.MaxParts {
		pos := b.start
		if b.doc.PartsPos.Line > 0 {
			pos = b.doc.PartsPos
		}
		b.addf(pos, "the set has no plug; add in [parts]: %s", netlist.FindKind(netlist.KindPlug).Example)
	}
}

// checkCombinations bounds the positions of all switches and selectors together.
func (b *builder) checkCombinations() {
	combinations := 1
	for _, p := range b.set.Parts {
		switch d := p.Detail.(type) {
		case *netlist.Switch:
			combinations *= 2
		case *netlist.Selector:
			if d.Fixed == "" {
				combinations *= max(1, len(d.Positions))
			}
		}
		if combinations > netlist.MaxCombinations {
			b.addf(p.Pos, "up to %s the switches and selectors have more than %d combinations of positions; describe the line side alone, or one position of the others",
				words.Quote(p.Name), netlist.MaxCombinations)
			return
		}
	}
}
