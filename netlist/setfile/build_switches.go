package setfile

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

func buildSelector(r *partReader) netlist.Detail {
	d := &netlist.Selector{}
	decks, hasDecks := r.keys.Get("decks")
	switch {
	case hasDecks && (r.has("common") || r.has("throws")):
		r.addf(decks.Pos, "%s has decks beside common or throws; keep one way of writing it", r.quoted)
		return d
	case hasDecks:
		r.decks(d, decks.Value)
	case r.lacks("common") && r.lacks("throws") && r.lacks("decks"):
		r.addf(r.w.Pos, "selector %s has no common and no throws; add %s, %s", r.quoted,
			r.info.Key("common").Example, r.info.Key("throws").Example)
		return d
	default:
		for _, key := range []string{"common", "throws"} {
			if r.lacks(key) && !r.misnamed["decks"] {
				r.addf(r.w.Pos, "selector %s has no %s; add %s", r.quoted, key, r.info.Key(key).Example)
			}
		}
		if common, ok := r.keys.Get("common"); ok {
			if throws, ok := r.keys.Get("throws"); ok {
				d.Decks = append(d.Decks, r.deck(common.Value, throws.Value, ""))
			}
		}
	}
	r.positions(d)
	r.deckTerminals(d)
	return d
}

// decks reads the key decks.
func (r *partReader) decks(d *netlist.Selector, v netlist.Value) {
	items, ok := v.Data.([]netlist.Value)
	switch {
	case !ok || len(items) == 0:
		r.addf(v.Pos, "decks of %s is %s; write a list of decks, like %s", r.quoted, emptyOr(v), r.info.Key("decks").Example)
		return
	case len(items) > netlist.MaxPoles:
		r.addf(v.Pos, "%s has %d decks, more than the %d that a selector may have", r.quoted, len(items), netlist.MaxPoles)
		return
	}
	for i, item := range items {
		where := fmt.Sprintf("deck %d of %s", i+1, r.quoted)
		t, ok := item.Data.(*netlist.Table)
		if !ok {
			r.addf(item.Pos, "%s is %s; write { common = \"a\", throws = [\"b\", \"c\"] }", where, item.Describe())
			continue
		}
		t = r.b.checkKeys(t, where, netlist.DeckKeys())
		common, hasCommon := t.Get("common")
		throws, hasThrows := t.Get("throws")
		if !hasCommon || !hasThrows {
			r.addf(item.Pos, "%s lacks its common or its throws; write { common = \"a\", throws = [\"b\", \"c\"] }", where)
			continue
		}
		deck := r.deck(common.Value, throws.Value, fmt.Sprintf("deck %d ", i+1))
		first := deck
		if len(d.Decks) > 0 {
			first = d.Decks[0]
		}
		// A deck with no throws could not be read, which has been told.
		if n, of := len(deck.Throws), len(first.Throws); n != of && n > 0 && of > 0 {
			r.addf(throws.Value.Pos, "%s has %s and deck 1 has %d; all decks have as many, \"\" for an open one", where, words.Count(n, "throw"), of)
		}
		d.Decks = append(d.Decks, deck)
	}
}

// deck reads one deck. Its terminals are named later, when the positions are known.
func (r *partReader) deck(common, throws netlist.Value, prefix string) netlist.Deck {
	deck := netlist.Deck{Common: r.b.nodeName(common, prefix+"common of "+r.quoted)}
	r.remember(deck.Common, common.Pos)
	where := prefix + "throws of " + r.quoted
	items, ok := throws.Data.([]netlist.Value)
	if !ok || len(items) < 2 {
		r.addf(throws.Pos, "%s is %s; write two points or more in brackets, like [\"b\", \"c\"], \"\" for an open one", where, shortList(throws))
		return deck
	}
	if len(items) > netlist.MaxCombinations {
		r.addf(throws.Pos, "%s are %d, more than the %d positions that a set may have", where, len(items), netlist.MaxCombinations)
		return deck
	}
	seen := map[string]bool{}
	for _, item := range items {
		name := ""
		if s, isText := item.Data.(string); !isText || strings.TrimSpace(s) != "" {
			name = r.b.nodeName(item, where)
		}
		switch {
		case name == "":
		case name == deck.Common:
			r.addf(item.Pos, "%s: %s is the common itself; a throw is another point, or \"\" where it is open", where, words.Quote(name))
		case seen[name]:
			r.addf(item.Pos, "%s: %s stands twice; each throw is another point, or \"\" where it is open", where, words.Quote(name))
		default:
			r.remember(name, item.Pos)
		}
		seen[name] = true
		deck.Throws = append(deck.Throws, name)
	}
	return deck
}

func shortList(v netlist.Value) string {
	if items, ok := v.Data.([]netlist.Value); ok {
		return words.Count(len(items), "point") + " long"
	}
	return v.Describe()
}

// positions names the positions: as the file says, else after the throws, else by number.
func (r *partReader) positions(d *netlist.Selector) {
	if len(d.Decks) == 0 || len(d.Decks[0].Throws) == 0 {
		return
	}
	throws := d.Decks[0].Throws
	e, named := r.keys.Get("positions")
	if named {
		d.Positions = r.names(e.Value, "positions of "+r.quoted)
		if len(d.Positions) > 0 && len(d.Positions) != len(throws) {
			r.addf(e.Value.Pos, "%s has %s and %s; name every throw", r.quoted, words.Count(len(throws), "throw"), words.Count(len(d.Positions), "position"))
			return
		}
	} else {
		r.derivePositions(d)
	}
	fixed, ok := r.keys.Get("fixed")
	if !ok || len(d.Positions) == 0 {
		return
	}
	d.Fixed = r.b.text(r.keys, "fixed", r.quoted)
	if fixed.Value.Describe() == "text" && !slices.Contains(d.Positions, d.Fixed) {
		r.addf(fixed.Value.Pos, "%s has no position %s; it is one of %s", r.quoted, words.Quote(d.Fixed), words.QuoteAll(d.Positions))
	}
}

// derivePositions names the positions where the file does not.
func (r *partReader) derivePositions(d *netlist.Selector) {
	throws, open := d.Decks[0].Throws, 0
	for i, throw := range throws {
		switch {
		case len(d.Decks) > 1:
			throw = fmt.Sprint(i + 1)
		case throw == "":
			throw, open = "open", open+1
		}
		d.Positions = append(d.Positions, throw)
	}
	if open > 1 || open == 1 && slices.Contains(throws, "open") {
		e, _ := r.keys.Get("throws")
		r.addf(e.Value.Pos, "two positions of %s would both be called open; name them, like %s", r.quoted, r.info.Key("positions").Example)
	}
}

// names reads a list of different names; empty where it is wrong.
func (r *partReader) names(v netlist.Value, where string) []string {
	items, ok := v.Data.([]netlist.Value)
	if !ok {
		r.addf(v.Pos, "%s is %s; write a list of names, like [\"line\", \"battery\"]", where, v.Describe())
		return nil
	}
	var names []string
	seen := map[string]bool{}
	for _, item := range items {
		s, ok := item.Data.(string)
		s = strings.TrimSpace(s)
		switch {
		case !ok:
			r.addf(item.Pos, "%s: one is %s; write names in quotes", where, item.Describe())
			return nil
		case s == "" || words.HasControl(s):
			r.addf(item.Pos, "%s: a name is empty or has a control character in it; write letters and digits", where)
			return nil
		case seen[s]:
			r.addf(item.Pos, "%s: %s stands twice; give each its own name", where, words.Quote(s))
			return nil
		}
		seen[s] = true
		names = append(names, s)
	}
	if len(names) == 0 {
		r.addf(v.Pos, "%s is empty; name every throw", where)
	}
	return names
}

// deckTerminals makes the terminals, in the order common, throws of each deck.
func (r *partReader) deckTerminals(d *netlist.Selector) {
	for i, deck := range d.Decks {
		prefix := ""
		if len(d.Decks) > 1 {
			prefix = fmt.Sprintf("deck %d ", i+1)
		}
		r.terminal(prefix+"common", deck.Common, r.places[deck.Common])
		for k, throw := range deck.Throws {
			if throw == "" {
				continue
			}
			position := fmt.Sprint(k + 1)
			if k < len(d.Positions) {
				position = d.Positions[k]
			}
			r.terminal(prefix+"throw "+position, throw, r.places[throw])
		}
	}
}

func buildSwitch(r *partReader) netlist.Detail {
	d := &netlist.Switch{}
	r.oneOf("ends", "poles")
	if r.has("ends") {
		d.Poles = append(d.Poles, r.ends())
	}
	e, ok := r.keys.Get("poles")
	if !ok {
		return d
	}
	poles, ok := e.Value.Data.([]netlist.Value)
	switch {
	case !ok || len(poles) == 0:
		r.addf(e.Value.Pos, "poles of %s is %s; write a list of poles, like %s", r.quoted, emptyOr(e.Value), r.info.Key("poles").Example)
		return d
	case len(poles) > netlist.MaxPoles:
		r.addf(e.Value.Pos, "%s has %d poles, more than the %d that a switch may have", r.quoted, len(poles), netlist.MaxPoles)
		return d
	}
	if _, flat := poles[0].Data.(string); flat {
		r.addf(e.Value.Pos, "poles of %s is a list of points; put each pole's two points in brackets of their own, like %s",
			r.quoted, r.info.Key("poles").Example)
		return d
	}
	for i, p := range poles {
		name := fmt.Sprintf("pole %d", i+1)
		d.Poles = append(d.Poles, r.pair(p, name+" of "+r.quoted, name+" end 1", name+" end 2"))
	}
	return d
}
