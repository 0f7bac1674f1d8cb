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
func (s slot) node() string { return textOf(s.value) }

// textOf is a value that is text, trimmed; "" of another.
func textOf(v *netlist.Value) string {
	text, _ := v.Data.(string)
	return strings.TrimSpace(text)
}

// slotsOf lists the places of a part as written where points stand, in the order of its keys. A
// value of another shape than the format has is passed over: building tells of it.
func slotsOf(w *netlist.WrittenPart) []slot {
	l := &slotList{part: w}
	for i := range w.Keys.Entries {
		l.key(&w.Keys.Entries[i])
	}
	return l.slots
}

// slotList gathers the slots of a part.
type slotList struct {
	part  *netlist.WrittenPart
	slots []slot
}

func (l *slotList) add(terminal string, v *netlist.Value) {
	if _, ok := v.Data.(string); ok {
		l.slots = append(l.slots, slot{terminal, v})
	}
}

func (l *slotList) pair(v *netlist.Value, first, second string) {
	if items, ok := v.Data.([]netlist.Value); ok && len(items) == 2 {
		l.add(first, &items[0])
		l.add(second, &items[1])
	}
}

// key adds what stands in one key of the part.
func (l *slotList) key(e *netlist.Entry) {
	items, _ := e.Value.Data.([]netlist.Value)
	switch kind := netlist.Kind(l.part.Kind); e.Key {
	case "hot": // of a thermistor, its ohms
		if kind == netlist.KindPlug {
			l.add(e.Key, &e.Value)
		}
	case "neutral", "earth", "wiper", "anode", "cathode", "frame":
		l.add(e.Key, &e.Value)
	case "common":
		if !l.part.Keys.Has("decks") {
			l.add(e.Key, &e.Value)
		}
	case "positive", "negative":
		if kind == netlist.KindBattery {
			l.add(e.Key, &e.Value)
		}
	case "ends":
		if kind == netlist.KindPlug {
			l.pair(&e.Value, "hot", "neutral")
		} else {
			l.pair(&e.Value, "end 1", "end 2")
		}
	case "poles":
		for k := range items {
			l.pair(&items[k], fmt.Sprintf("pole %d end 1", k+1), fmt.Sprintf("pole %d end 2", k+1))
		}
	case "throws":
		l.throws(items, "")
	case "decks":
		l.decks(items)
	case "pins":
		eachEntry(&e.Value, func(pin *netlist.Entry) { l.add("pin "+pin.Key, &pin.Value) })
	case "windings":
		eachEntry(&e.Value, func(winding *netlist.Entry) {
			name := strings.TrimSpace(winding.Key)
			l.pair(&winding.Value, name+" start", name+" end")
		})
	}
}

// eachEntry visits the keys of a value that is a table.
func eachEntry(v *netlist.Value, visit func(*netlist.Entry)) {
	if t, ok := v.Data.(*netlist.Table); ok {
		for i := range t.Entries {
			visit(&t.Entries[i])
		}
	}
}

// decks adds the decks of a selector, which are numbered where there are several.
func (l *slotList) decks(decks []netlist.Value) {
	for i := range decks {
		prefix := ""
		if len(decks) > 1 {
			prefix = fmt.Sprintf("deck %d ", i+1)
		}
		eachEntry(&decks[i], func(e *netlist.Entry) {
			throws, _ := e.Value.Data.([]netlist.Value)
			switch e.Key {
			case "common":
				l.add(prefix+"common", &e.Value)
			case "throws":
				l.throws(throws, prefix)
			}
		})
	}
}

// throws adds the throws of a deck, named by position where the file names them, else by the point of a
// single deck, else by number.
func (l *slotList) throws(throws []netlist.Value, prefix string) {
	e, _ := l.part.Keys.Get("positions")
	names, _ := e.Value.Data.([]netlist.Value)
	for k := range throws {
		throw := textOf(&throws[k])
		position := fmt.Sprint(k + 1)
		if k < len(names) {
			if name, ok := names[k].Data.(string); ok {
				position = strings.TrimSpace(name)
			}
		} else if prefix == "" && throw != "" {
			position = throw
		}
		if throw != "" {
			l.add(prefix+"throw "+position, &throws[k])
		}
	}
}
