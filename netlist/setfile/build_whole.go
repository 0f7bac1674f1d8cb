package setfile

import (
	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

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

// checkTouch checks that there is something to judge and that [nodes] names what parts use.
func (b *builder) checkTouch() {
	var used []string
	for _, n := range b.set.Nodes {
		if b.uses[n.Name] != nil {
			used = append(used, n.Name)
		}
	}
	touch := false
	for _, n := range b.set.Nodes {
		touch = touch || n.Touch != ""
		if b.uses[n.Name] != nil || b.doubtful && b.mentioned(n.Name) {
			continue
		}
		hint := words.Meant(b.near(n.Name, used), "write it as the part does, or take the line out")
		b.addf(n.Pos, "no part uses the point %s; %s", words.Quote(n.Name), hint)
	}
	if !touch && !b.touchWritten() && b.complete(b.doc.Nodes) && !b.unread.refused["nodes"] {
		pos := b.start
		if b.doc.Nodes != nil {
			pos = b.doc.Nodes.Pos
		}
		b.addf(pos, "no point can be touched, so there is nothing to judge; name the metal in [nodes], like chassis = { touch = \"chassis\" }")
	}
}

// touchWritten reports whether any point in [nodes] has a touch key, be it a wrong one.
func (b *builder) touchWritten() bool {
	if b.doc.Nodes == nil {
		return false
	}
	for _, e := range b.doc.Nodes.Entries {
		if t, ok := e.Value.Data.(*netlist.Table); ok && t.Has("touch") {
			return true
		}
	}
	return false
}

// checkWhole checks what only the whole set can show.
func (b *builder) checkWhole() {
	b.checkPlugs()
	b.checkTouch()
	b.checkCombinations()
}
