package setfile

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// tubeTypes reads [tube_types] and puts its types before those of the catalogue.
func (b *builder) tubeTypes() {
	b.tubes = catalogue()
	if b.doc.TubeTypes == nil {
		return
	}
	known := maps.Clone(b.tubes.byName)
	var own []*netlist.TubeType
	for _, e := range b.doc.TubeTypes.Entries {
		t := b.tubeType(e)
		if t == nil {
			b.doubtful = true
			continue
		}
		t.FromFile = true
		own = append(own, t)
		known[t.Name] = &tubeEntry{name: t.Name, fromFile: true, also: func() []string { return t.Also }, read: func() *netlist.TubeType { return t }}
	}
	// Of two types of a file one name may mean but one.
	for _, t := range own {
		for _, name := range t.Also {
			if other := known[name]; other != nil && other.fromFile && other.name != t.Name {
				e, _ := b.doc.TubeTypes.Get(t.Name)
				b.addf(e.Pos, "tube type %s is also called %s here, and so is %s; a name means one type", words.Quote(t.Name), words.Quote(name), words.Quote(other.name))
				continue
			}
			known[name] = known[t.Name]
		}
	}
	b.tubes = &tubeIndex{byName: known}
}

// tubeType reads one type. It returns nil where the type is unusable.
func (b *builder) tubeType(e netlist.Entry) *netlist.TubeType {
	name := strings.TrimSpace(e.Key)
	where := "tube type " + words.Quote(name)
	before := b.count()
	t, ok := e.Value.Data.(*netlist.Table)
	switch {
	case !ok:
		b.addf(e.Value.Pos, "%s is %s; write [tube_types.%q] on a line of its own and its keys below", where, e.Value.Describe(), name)
		return nil
	case name == "" || words.HasControl(name):
		b.addf(e.Pos, "a tube type has no name; write it in quotes, like [tube_types.\"35W4\"]")
		return nil
	}
	b.checkKeys(t, where, netlist.TubeTypeKeys())
	if !b.complete(t) {
		return nil
	}
	tt := &netlist.TubeType{Name: name, Use: b.text(t, "use", where), Base: b.text(t, "base", where)}
	if h, ok := t.Get("heater"); ok {
		tt.Heater = b.heater(h.Value, where)
	}
	if r, ok := t.Get("rectifiers"); ok {
		tt.Rectifiers = b.pinPairs(r, "rectifier", "anode", "cathode", where)
	}
	b.smallSections(tt, t, where)
	if c, ok := t.Get("cathodes"); ok {
		tt.Cathodes = b.pinList(c.Value, "cathodes of "+where)
	}
	tt.Doubtful = b.text(t, "doubtful", where)
	if names, ok := t.Get("also"); ok {
		tt.Also = b.alsoNames(names.Value, where)
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
func (b *builder) checkTubeType(tt *netlist.TubeType, t *netlist.Table, pos netlist.Pos, where string) {
	if len(tt.PinNumbers()) == 0 {
		b.addf(pos, "%s has no pins; add %s", where, netlist.FindKey(netlist.TubeTypeKeys(), "heater").Example)
		return
	}
	b.checkDrop(tt, t, where)
	if tt.Heater == nil {
		return
	}
	at := func(key string) netlist.Pos { e, _ := t.Get(key); return e.Value.Pos }
	for _, c := range tt.Cathodes {
		if tt.Heater.HasPin(c) {
			b.addf(at("cathodes"), "pin %d of %s is both heater and cathode; cathodes are indirectly heated ones, a filament is none", c, where)
		}
	}
	for _, s := range tt.Rectifiers {
		if !tt.Heater.HasPin(s.Cathode) && !slices.Contains(tt.Cathodes, s.Cathode) {
			b.notice(netlist.Notice{Pos: at("rectifiers"), Text: where + ": pin " + strconv.Itoa(s.Cathode) +
				" is a rectifier's cathode and is neither named in cathodes nor a heater pin; " +
				"if it is indirectly heated, name it in cathodes, or its insulation from the heater is not looked at"})
		}
	}
}

// heater reads the table heater.
func (b *builder) heater(v netlist.Value, where string) *netlist.Heater {
	where = "heater of " + where
	t := b.subTable(v, where, netlist.HeaterKeys())
	if t == nil {
		return nil
	}
	h := &netlist.Heater{}
	if e, ok := t.Get("pins"); ok {
		pins := b.pinList(e.Value, "pins of "+where)
		if len(pins) == 2 {
			h.Pins = [2]int(pins)
		} else if pins != nil {
			b.addf(e.Value.Pos, "pins of %s are %d; write its two ends, like pins = [3, 4]", where, len(pins))
		}
	}
	h.Volts, h.Amps = b.subValue(t, "volts", netlist.Volt, where), b.subValue(t, "amps", netlist.Ampere, where)
	if e, ok := t.Get("tap"); ok {
		h.Tap = b.heaterTap(e.Value, h, where)
	}
	return h
}

func (b *builder) heaterTap(v netlist.Value, h *netlist.Heater, where string) *netlist.Tap {
	where = "tap of " + where
	t := b.subTable(v, where, netlist.TapKeys())
	if t == nil {
		return nil
	}
	tap := &netlist.Tap{Pin: b.subPin(t, "pin", where), Volts: b.subValue(t, "volts", netlist.Volt, where), From: b.subPin(t, "from", where)}
	at := func(key string) netlist.Pos { e, _ := t.Get(key); return e.Value.Pos }
	switch {
	case tap.Pin == 0 || tap.From == 0 || tap.Volts == 0 || h.Pins[0] == 0 || h.Volts == 0:
	case tap.Pin == h.Pins[0] || tap.Pin == h.Pins[1]:
		b.addf(at("pin"), "%s is on pin %d, which is an end of the heater; a tap has a pin of its own", where, tap.Pin)
	case tap.From != h.Pins[0] && tap.From != h.Pins[1]:
		b.addf(at("from"), "%s is counted from pin %d, which is no end of the heater; write %d or %d", where, tap.From, h.Pins[0], h.Pins[1])
	case tap.Volts >= h.Volts:
		b.addf(at("volts"), "%s has %s, and the whole heater %s; a tap has less", where, netlist.FormatValue(tap.Volts, netlist.Volt), netlist.FormatValue(h.Volts, netlist.Volt))
	}
	return tap
}

func (b *builder) elements(v netlist.Value, where string) map[int]string {
	t, ok := v.Data.(*netlist.Table)
	if !ok {
		b.addf(v.Pos, "elements of %s is %s; write %s", where, v.Describe(), netlist.FindKey(netlist.TubeTypeKeys(), "elements").Example)
		return nil
	}
	elements := map[int]string{}
	for _, e := range t.Entries {
		pin, ok := pinNumber(e.Key)
		name, isText := e.Value.Data.(string)
		switch {
		case !ok:
			b.addf(e.Pos, "elements of %s: %s is not a pin; write its number, 1 to %d", where, words.Quote(e.Key), netlist.MaxPin)
		case !isText:
			b.addf(e.Value.Pos, "elements of %s: pin %d is %s; write what it is in quotes, like \"plate\"", where, pin, e.Value.Describe())
		default:
			elements[pin] = strings.TrimSpace(name)
		}
	}
	return elements
}
