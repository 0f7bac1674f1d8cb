package netlist

import (
	"maps"
	"slices"
	"strconv"
	"strings"
)

// maxPin is the highest pin number that a tube may have.
const maxPin = 99

// tubeTypes reads [tube_types] and puts its types before those of the catalogue.
func (b *builder) tubeTypes() {
	b.tubes = catalogue()
	if b.doc.TubeTypes == nil {
		return
	}
	own := maps.Clone(b.tubes.byName)
	for _, e := range b.doc.TubeTypes.Entries {
		if t := b.tubeType(e); t != nil {
			t.FromFile = true
			own[t.Name] = &tubeEntry{name: t.Name, fromFile: true, read: func() *TubeType { return t }}
		} else {
			b.doubtful = true
		}
	}
	b.tubes = &tubeIndex{byName: own}
}

// tubeType reads one type. It returns nil where the type is unusable.
func (b *builder) tubeType(e Entry) *TubeType {
	name := strings.TrimSpace(e.Key)
	where := "tube type " + quote(name)
	before := b.count()
	t, ok := e.Value.Data.(*Table)
	switch {
	case !ok:
		b.addf(e.Value.Pos, "%s is %s; write [tube_types.%q] on a line of its own and its keys below", where, e.Value.sort(), name)
		return nil
	case name == "" || hasControl(name):
		b.addf(e.Pos, "a tube type has no name; write it in quotes, like [tube_types.\"35W4\"]")
		return nil
	}
	b.checkKeys(t, where, tubeTypeKeys)
	if !b.complete(t) {
		return nil
	}
	tt := &TubeType{Name: name, Use: b.text(t, "use", where), Base: b.text(t, "base", where)}
	if h, ok := t.Get("heater"); ok {
		tt.Heater = b.heater(h.Value, where)
	}
	if r, ok := t.Get("rectifiers"); ok {
		tt.Rectifiers = b.rectifyingSections(r.Value, where)
	}
	if c, ok := t.Get("cathodes"); ok {
		tt.Cathodes = b.pinList(c.Value, "cathodes of "+where)
	}
	if el, ok := t.Get("elements"); ok {
		tt.Elements = b.elements(el.Value, where)
	}
	if b.count() == before {
		b.checkTubeType(tt, t, e.Pos, where)
	}
	if b.count() > before {
		return nil
	}
	return tt
}

// checkTubeType looks for what cannot be, once each key is well formed.
func (b *builder) checkTubeType(tt *TubeType, t *Table, pos Pos, where string) {
	if len(tt.pins()) == 0 {
		b.addf(pos, "%s has no pins; add %s", where, findKey(tubeTypeKeys, "heater").Example)
		return
	}
	if tt.Heater == nil {
		return
	}
	at := func(key string) Pos { e, _ := t.Get(key); return e.Value.Pos }
	for _, c := range tt.Cathodes {
		if tt.Heater.has(c) {
			b.addf(at("cathodes"), "pin %d of %s is both heater and cathode; cathodes are indirectly heated ones, a filament is none", c, where)
		}
	}
	for _, s := range tt.Rectifiers {
		if !tt.Heater.has(s.Cathode) && !slices.Contains(tt.Cathodes, s.Cathode) {
			b.notice(Notice{Pos: at("rectifiers"), Text: where + ": pin " + strconv.Itoa(s.Cathode) +
				" is a rectifier's cathode and is neither named in cathodes nor a heater pin; " +
				"if it is indirectly heated, name it in cathodes, or its insulation from the heater is not looked at"})
		}
	}
}

// has reports whether a pin is one of the heater's.
func (h *Heater) has(pin int) bool {
	return pin == h.Pins[0] || pin == h.Pins[1] || h.Tap != nil && pin == h.Tap.Pin
}

// pins returns the pins that the type names, by number.
func (t *TubeType) pins() []int {
	pins := slices.Collect(maps.Keys(t.Elements))
	pins = append(pins, t.Cathodes...)
	for _, s := range t.Rectifiers {
		pins = append(pins, s.Anode, s.Cathode)
	}
	if t.Heater != nil {
		pins = append(pins, t.Heater.Pins[:]...)
		if t.Heater.Tap != nil {
			pins = append(pins, t.Heater.Tap.Pin)
		}
	}
	slices.Sort(pins)
	return slices.Compact(pins)
}

// PinNames returns the pins that the type names, by number, each with what it is.
func (t *TubeType) PinNames() []PinName {
	var names []PinName
	for _, pin := range t.pins() {
		names = append(names, PinName{pin, t.pinName(pin)})
	}
	return names
}

// PinName is a pin and what it is.
type PinName struct {
	Number int
	Name   string
}

func (t *TubeType) pinName(pin int) string {
	switch h := t.Heater; {
	case t.Elements[pin] != "":
		return t.Elements[pin]
	case h != nil && h.Tap != nil && h.Tap.Pin == pin:
		return "heater tap"
	case h != nil && h.has(pin):
		return "heater"
	case slices.Contains(t.Cathodes, pin):
		return "cathode"
	}
	for _, s := range t.Rectifiers {
		switch pin {
		case s.Anode:
			return "plate"
		case s.Cathode:
			return "cathode"
		}
	}
	return "unnamed"
}

// heater reads the table heater.
func (b *builder) heater(v Value, where string) *Heater {
	where = "heater of " + where
	t := b.subTable(v, where, heaterKeys)
	if t == nil {
		return nil
	}
	h := &Heater{}
	if e, ok := t.Get("pins"); ok {
		pins := b.pinList(e.Value, "pins of "+where)
		if len(pins) == 2 {
			h.Pins = [2]int(pins)
		} else if pins != nil {
			b.addf(e.Value.Pos, "pins of %s are %d; write its two ends, like pins = [3, 4]", where, len(pins))
		}
	}
	h.Volts, h.Amps = b.subValue(t, "volts", Volt, where), b.subValue(t, "amps", Ampere, where)
	if e, ok := t.Get("tap"); ok {
		h.Tap = b.heaterTap(e.Value, h, where)
	}
	return h
}

func (b *builder) heaterTap(v Value, h *Heater, where string) *Tap {
	where = "tap of " + where
	t := b.subTable(v, where, tapKeys)
	if t == nil {
		return nil
	}
	tap := &Tap{Pin: b.subPin(t, "pin", where), Volts: b.subValue(t, "volts", Volt, where), From: b.subPin(t, "from", where)}
	at := func(key string) Pos { e, _ := t.Get(key); return e.Value.Pos }
	switch {
	case tap.Pin == 0 || tap.From == 0 || tap.Volts == 0 || h.Pins[0] == 0 || h.Volts == 0:
	case tap.Pin == h.Pins[0] || tap.Pin == h.Pins[1]:
		b.addf(at("pin"), "%s is on pin %d, which is an end of the heater; a tap has a pin of its own", where, tap.Pin)
	case tap.From != h.Pins[0] && tap.From != h.Pins[1]:
		b.addf(at("from"), "%s is counted from pin %d, which is no end of the heater; write %d or %d", where, tap.From, h.Pins[0], h.Pins[1])
	case tap.Volts >= h.Volts:
		b.addf(at("volts"), "%s has %s, and the whole heater %s; a tap has less", where, FormatValue(tap.Volts, Volt), FormatValue(h.Volts, Volt))
	}
	return tap
}

func (b *builder) rectifyingSections(v Value, where string) []Section {
	items, ok := v.Data.([]Value)
	if !ok {
		b.addf(v.Pos, "rectifiers of %s is %s; write a list, like %s", where, v.sort(), findKey(tubeTypeKeys, "rectifiers").Example)
		return nil
	}
	var sections []Section
	for _, item := range items {
		inside := "a rectifier of " + where
		t := b.subTable(item, inside, sectionKeys)
		if t == nil {
			continue
		}
		s := Section{b.subPin(t, "anode", inside), b.subPin(t, "cathode", inside)}
		if s.Anode != 0 && s.Anode == s.Cathode {
			b.addf(item.Pos, "%s has anode and cathode on pin %d; they are two pins", inside, s.Anode)
		}
		sections = append(sections, s)
	}
	return sections
}

func (b *builder) elements(v Value, where string) map[int]string {
	t, ok := v.Data.(*Table)
	if !ok {
		b.addf(v.Pos, "elements of %s is %s; write %s", where, v.sort(), findKey(tubeTypeKeys, "elements").Example)
		return nil
	}
	elements := map[int]string{}
	for _, e := range t.Entries {
		pin, ok := pinNumber(e.Key)
		name, isText := e.Value.Data.(string)
		switch {
		case !ok:
			b.addf(e.Pos, "elements of %s: %s is not a pin; write its number, 1 to %d", where, quote(e.Key), maxPin)
		case !isText:
			b.addf(e.Value.Pos, "elements of %s: pin %d is %s; write what it is in quotes, like \"plate\"", where, pin, e.Value.sort())
		default:
			elements[pin] = strings.TrimSpace(name)
		}
	}
	return elements
}
