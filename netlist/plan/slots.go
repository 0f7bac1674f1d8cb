package plan

import (
	"fmt"
	"strings"

	"coldcheck/netlist"
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
