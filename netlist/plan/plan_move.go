package plan

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// slot is one place of a part as written where the name of a point stands.
type slot struct {
	terminal string // as a Terminal of the part is called; "frame" of its metal
	value    *netlist.Value
}

// node is the point that stands there, "" where none does.
func (s slot) node() string {
	name, _ := s.value.Data.(string)
	return strings.TrimSpace(name)
}

// slotsOf lists the places of a part as written where points stand, in the order of its keys. A
// value of another shape than the format has is passed over: building tells of it.
func slotsOf(w *netlist.WrittenPart) []slot {
	var all []slot
	add := func(terminal string, v *netlist.Value) {
		if _, ok := v.Data.(string); ok {
			all = append(all, slot{terminal, v})
		}
	}
	pair := func(v *netlist.Value, first, second string) {
		if items, ok := v.Data.([]netlist.Value); ok && len(items) == 2 {
			add(first, &items[0])
			add(second, &items[1])
		}
	}
	for i := range w.Keys.Entries {
		e := &w.Keys.Entries[i]
		items, _ := e.Value.Data.([]netlist.Value)
		table, _ := e.Value.Data.(*netlist.Table)
		switch e.Key {
		case "hot", "neutral", "earth", "common", "wiper", "anode", "cathode", "frame":
			if e.Key != "common" || !w.Keys.Has("decks") {
				add(e.Key, &e.Value)
			}
		case "positive", "negative":
			if netlist.Kind(w.Kind) == netlist.KindBattery {
				add(e.Key, &e.Value)
			}
		case "ends":
			if netlist.Kind(w.Kind) == netlist.KindPlug {
				pair(&e.Value, "hot", "neutral")
			} else {
				pair(&e.Value, "end 1", "end 2")
			}
		case "poles":
			for k := range items {
				pair(&items[k], fmt.Sprintf("pole %d end 1", k+1), fmt.Sprintf("pole %d end 2", k+1))
			}
		case "throws":
			throwSlots(items, "", w.Keys, add)
		case "decks":
			for k := range items {
				deck, ok := items[k].Data.(*netlist.Table)
				if !ok {
					continue
				}
				prefix := ""
				if len(items) > 1 {
					prefix = fmt.Sprintf("deck %d ", k+1)
				}
				for j := range deck.Entries {
					d := &deck.Entries[j]
					throws, _ := d.Value.Data.([]netlist.Value)
					switch d.Key {
					case "common":
						add(prefix+"common", &d.Value)
					case "throws":
						throwSlots(throws, prefix, w.Keys, add)
					}
				}
			}
		case "pins":
			if table != nil {
				for k := range table.Entries {
					add("pin "+table.Entries[k].Key, &table.Entries[k].Value)
				}
			}
		case "windings":
			if table != nil {
				for k := range table.Entries {
					name := strings.TrimSpace(table.Entries[k].Key)
					pair(&table.Entries[k].Value, name+" start", name+" end")
				}
			}
		}
	}
	return all
}

// throwSlots adds the throws of a deck, named by position where the file names them, else by
// number.
func throwSlots(throws []netlist.Value, prefix string, keys *netlist.Table, add func(string, *netlist.Value)) {
	e, _ := keys.Get("positions")
	names, _ := e.Value.Data.([]netlist.Value)
	for k := range throws {
		position := fmt.Sprint(k + 1)
		if k < len(names) {
			if name, ok := names[k].Data.(string); ok {
				position = strings.TrimSpace(name)
			}
		} else if throw, _ := throws[k].Data.(string); prefix == "" && strings.TrimSpace(throw) != "" {
			position = strings.TrimSpace(throw)
		}
		if throw, _ := throws[k].Data.(string); strings.TrimSpace(throw) != "" {
			add(prefix+"throw "+position, &throws[k])
		}
	}
}

// move takes one end of a part from one point to another.
func (a *applier) move(s *Step, w *netlist.WrittenPart) {
	if s.From == s.To {
		a.misfit(s, "to", "from and to are both %s; name the point that the end goes to", words.Quote(s.To))
		return
	}
	if name, wrong := netlist.CheckNodeName(s.To); wrong != "" || name == "" {
		a.misfit(s, "to", "%s", wrong)
		return
	}
	slots := slotsOf(w)
	var on, terminals []slot
	for _, x := range slots {
		if x.terminal != "frame" {
			terminals = append(terminals, x)
		}
		if x.node() == s.From && (s.Terminal == "" && x.terminal != "frame" || x.terminal == s.Terminal) {
			on = append(on, x)
		}
	}
	switch {
	case len(on) == 0 && s.Terminal != "":
		a.noTerminal(s, slots)
		return
	case len(on) == 0:
		a.notOn(s, slots, terminals)
		return
	case len(on) > 1:
		names := make([]string, len(on))
		for i, x := range on {
			names[i] = x.terminal
		}
		a.misfit(s, "from", "%s of %s are on %s; say which one moves, like terminal = %q",
			words.Join(names, ", ", " and "), words.Quote(s.Part), words.Quote(s.From), on[0].terminal)
		return
	}
	// The mark for plus goes along with its end.
	if e, ok := w.Keys.Get("positive"); ok && netlist.Kind(w.Kind) == netlist.KindCapacitor && on[0].terminal != "frame" {
		if plus, _ := e.Value.Data.(string); strings.TrimSpace(plus) == s.From {
			e.Value.Data = s.To
			w.Keys.Set(e)
		}
	}
	on[0].value.Data = s.To
	on[0].value.Pos = s.places["to"]
}

// noTerminal tells that a part has no such end, or has it elsewhere.
func (a *applier) noTerminal(s *Step, slots []slot) {
	var names []string
	for _, x := range slots {
		if x.terminal == s.Terminal {
			a.misfit(s, "from", "%s of %s is on %s here, not on %s; write from = %s", words.Visible(s.Terminal), words.Quote(s.Part), words.Quote(x.node()), words.Quote(s.From), words.Quote(x.node()))
			return
		}
		names = append(names, x.terminal)
	}
	hint := "it has " + words.Join(names, ", ", " and ")
	if near := words.Nearest(s.Terminal, names); near != "" {
		hint = "did you mean " + words.Quote(near) + "?"
	}
	a.misfit(s, "terminal", "%s has no terminal %s; %s", words.Quote(s.Part), words.Quote(s.Terminal), hint)
}

// notOn tells that a part has no end on a point, and which points its ends are on.
func (a *applier) notOn(s *Step, slots, terminals []slot) {
	var nodes, told []string
	for _, x := range terminals {
		if !slices.Contains(nodes, x.node()) {
			nodes = append(nodes, x.node())
			told = append(told, words.Quote(x.node()))
		}
	}
	hint := "its ends are on " + words.Join(told, ", ", " and ")
	if near := words.Nearest(s.From, nodes); near != "" {
		hint = fmt.Sprintf("did you mean %s? Its ends are on %s", words.Quote(near), words.Join(told, ", ", " and "))
	}
	for _, x := range slots {
		if x.terminal == "frame" && x.node() == s.From {
			hint = "that is its frame; add terminal = \"frame\" if the metal is what moves"
		}
	}
	a.misfit(s, "from", "%s has no end on %s here; %s", words.Quote(s.Part), words.Quote(s.From), hint)
}
