package setfile

import (
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

func isTube(p *netlist.Part) bool { return p.Kind == netlist.KindTube }

func isControl(p *netlist.Part) bool { return p.Kind == netlist.KindPotentiometer }

func isSwitch(p *netlist.Part) bool {
	return p.Kind == netlist.KindSwitch || p.Kind == netlist.KindSelector
}

// hasTwoLeads reports whether it is plain what one lead off a part means: of a plug or a tube it means nothing,
// and of a part with more leads than two it would have to be said which.
func hasTwoLeads(p *netlist.Part) bool {
	if d, ok := p.Detail.(*netlist.Potentiometer); ok {
		return d.Rheostat()
	}
	return p.Kind != netlist.KindPlug && p.Kind != netlist.KindTube && len(p.Terminals) == 2
}

// readingSwitches reads how the switches stood.
func (b *builder) readingSwitches(v netlist.Value, where string) map[string]string {
	return b.readingStood(v, where, "switches", "switch or selector", isSwitch, func(p *netlist.Part) []string {
		if d, ok := p.Detail.(*netlist.Selector); ok {
			return selectorPositions(d)
		}
		return []string{"on", "off"}
	})
}

// readingControls reads how the controls stood.
func (b *builder) readingControls(v netlist.Value, where string) map[string]string {
	return b.readingStood(v, where, "controls", "control", isControl, func(p *netlist.Part) []string {
		d, _ := p.Detail.(*netlist.Potentiometer)
		switch {
		case d.Ends[0] == "" || d.Ends[1] == "":
			return nil
		case d.Rheostat():
			return []string{"full", "zero"}
		}
		return []string{"middle", d.Ends[0], d.Ends[1]}
	})
}

// readingStood reads a table of parts and the positions in which they stood. A part that could not be read
// has no positions, and is not complained of.
func (b *builder) readingStood(v netlist.Value, where, key, what string, wanted func(*netlist.Part) bool, positionsOf func(*netlist.Part) []string) map[string]string {
	t, ok := v.Data.(*netlist.Table)
	if !ok {
		b.addf(v.Pos, "%s of %s is %s; write %s", key, where, v.Describe(), netlist.FindKey(netlist.ReadingKeys(), key).Example)
		return nil
	}
	stood := map[string]string{}
	for _, e := range t.Entries {
		p := b.set.Part(e.Key)
		if p == nil || !wanted(p) {
			b.notThat(e.Pos, e.Key, where, what, wanted)
			continue
		}
		positions := positionsOf(p)
		position, ok := e.Value.Data.(string)
		position = strings.TrimSpace(position)
		if len(positions) > 0 && (!ok || !slices.Contains(positions, position)) {
			b.addf(e.Value.Pos, "%s stands on one of its positions in %s; write %s", words.Quote(e.Key), where, words.QuoteAll(positions))
			continue
		}
		stood[e.Key] = position
	}
	return stood
}

func selectorPositions(d *netlist.Selector) []string {
	if d.Fixed != "" {
		return []string{d.Fixed}
	}
	return d.Positions
}

// readingParts reads a list of parts of the set, what being what each of them is.
func (b *builder) readingParts(list netlist.Entry, where, what string, wanted func(*netlist.Part) bool) []string {
	key, v := list.Key, list.Value
	items, ok := v.Data.([]netlist.Value)
	if !ok {
		b.addf(v.Pos, "%s of %s is %s; write %s", key, where, v.Describe(), netlist.FindKey(netlist.ReadingKeys(), key).Example)
		return nil
	}
	var named []string
	for _, item := range items {
		name, ok := item.Data.(string)
		name = strings.TrimSpace(name)
		switch p := b.set.Part(name); {
		case !ok:
			b.addf(item.Pos, "%s of %s: one is %s; write the names of %ss in quotes", key, where, item.Describe(), firstWord(what))
		case p != nil && key == "lifted" && isTube(p):
			b.addf(item.Pos, "lifted of %s: %s is a tube, which has no lead to lift; name it in pulled", where, words.Quote(name))
		case p == nil || !wanted(p):
			b.notThat(item.Pos, name, where, what, wanted)
		case slices.Contains(named, name):
			b.addf(item.Pos, "%s of %s names %s twice; write it once", key, where, words.Quote(name))
		default:
			named = append(named, name)
		}
	}
	return named
}

func firstWord(s string) string {
	first, _, _ := strings.Cut(s, " ")
	return first
}

// notThat complains of a name in a reading that is no part of the kinds wanted.
func (b *builder) notThat(pos netlist.Pos, name, where, what string, wanted func(*netlist.Part) bool) {
	if w := b.doc.Part(name); w != nil && netlist.FindKind(netlist.Kind(w.Kind)) == nil || strings.Contains(b.unread.lost, name) {
		return // its kind has been complained of, or its line
	}
	if p := b.set.Part(name); p != nil {
		b.addf(pos, "%s: %s is a %s and no %s; name a %s", where, words.Quote(name), p.Kind, what, what)
		return
	}
	var known []string
	for _, p := range b.set.Parts {
		if wanted(p) {
			known = append(known, p.Name)
		}
	}
	hint := "the set has none"
	if near := b.near(name, known); near != "" {
		hint = "did you mean " + words.Quote(near) + "?"
	} else if len(known) > 0 {
		hint = "it has " + words.QuoteAll(known)
	}
	b.addf(pos, "%s: the set has no %s %s; %s", where, what, words.Quote(name), hint)
}
