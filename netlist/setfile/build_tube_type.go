package setfile

import (
	"fmt"
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
	t = b.checkKeys(t, where, netlist.TubeTypeKeys())
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

// pinNumber reads the number of a pin as a key writes it.
func pinNumber(key string) (int, bool) {
	n, err := strconv.Atoi(key)
	return n, err == nil && n >= 1 && n <= netlist.MaxPin && strconv.Itoa(n) == key
}

// pinValue reads the number of a pin as a value; 0 where it is none, which has been told then.
func (b *builder) pinValue(v netlist.Value, where string) int {
	n, ok := v.Data.(int64)
	switch {
	case !ok:
		b.addf(v.Pos, "%s is %s; write the number of a pin, without quotes", where, v.Describe())
	case n < 1 || n > netlist.MaxPin:
		b.addf(v.Pos, "%s is %d; pins are numbered 1 to %d", where, n, netlist.MaxPin)
	default:
		return int(n)
	}
	return 0
}

// pinList reads a list of different pins; nil where it is none.
func (b *builder) pinList(v netlist.Value, where string) []int {
	items, ok := v.Data.([]netlist.Value)
	if !ok {
		b.addf(v.Pos, "%s is %s; write pin numbers in brackets, like [3, 4]", where, v.Describe())
		return nil
	}
	pins := make([]int, 0, len(items))
	seen := map[int]bool{}
	for _, item := range items {
		pin := b.pinValue(item, "a pin of "+where)
		if pin == 0 {
			return nil
		}
		if seen[pin] {
			b.addf(item.Pos, "%s: pin %d stands twice; write each once", where, pin)
			return nil
		}
		seen[pin] = true
		pins = append(pins, pin)
	}
	return pins
}

// subTable reads a table inside a type, with its keys checked; nil where it is none.
func (b *builder) subTable(v netlist.Value, where string, keys []netlist.KeyInfo) *netlist.Table {
	t, ok := v.Data.(*netlist.Table)
	if !ok {
		b.addf(v.Pos, "%s is %s; write its keys between braces, like { %s, %s }", where, v.Describe(), keys[0].Example, keys[1].Example)
		return nil
	}
	t = b.checkKeys(t, where, keys)
	for _, k := range keys {
		if k.Required && !t.Has(k.Name) {
			b.addf(v.Pos, "%s has no %s; add %s", where, k.Name, k.Example)
		}
	}
	return t
}

func (b *builder) subValue(t *netlist.Table, key string, unit netlist.Unit, where string) float64 {
	e, ok := t.Get(key)
	if !ok {
		return 0
	}
	return b.value(e.Value, unit, key+" of "+where, "")
}

func (b *builder) subPin(t *netlist.Table, key, where string) int {
	e, ok := t.Get(key)
	if !ok {
		return 0
	}
	return b.pinValue(e.Value, key+" of "+where)
}

// smallSections reads what of a type conducts beside its power rectifiers, and how much.
func (b *builder) smallSections(tt *netlist.TubeType, t *netlist.Table, where string) {
	if d, ok := t.Get("diodes"); ok {
		tt.Diodes = b.pinPairs(d, "diode", "anode", "cathode", where)
	}
	if g, ok := t.Get("grids"); ok {
		tt.Grids = b.pinPairs(g, "grid", "grid", "cathode", where)
	}
	if w, ok := t.Get("working"); ok {
		tt.Working = b.workingPoints(w, where)
	}
	tt.Drop = netlist.Drop{Volts: b.subValue(t, "drop_volts", netlist.Volt, where), Amps: b.milliamps(t, "drop_milliamps", where)}
}

// checkDrop complains of one half of a drop without the other, and of one of no rectifier.
func (b *builder) checkDrop(tt *netlist.TubeType, t *netlist.Table, where string) {
	keys := []string{"drop_volts", "drop_milliamps"}
	for i, key := range keys {
		e, ok := t.Get(key)
		switch other := keys[1-i]; {
		case !ok:
		case !t.Has(other):
			b.addf(e.Pos, "%s has %s and no %s; a drop is so many volts at so many milliamperes: add %s", where, key, other, netlist.FindKey(netlist.TubeTypeKeys(), other).Example)
		case len(tt.Rectifiers) == 0:
			b.addf(e.Pos, "%s has %s and no rectifiers, of which it is; take it out, or add %s", where, key, netlist.FindKey(netlist.TubeTypeKeys(), "rectifiers").Example)
		}
	}
}

// listedTables are the tables in a list of a type, each with how a message names it.
func (b *builder) listedTables(list netlist.Entry, where string, keys []netlist.KeyInfo, one string, each func(t *netlist.Table, pos netlist.Pos, inside string)) {
	items, ok := list.Value.Data.([]netlist.Value)
	if !ok {
		b.addf(list.Value.Pos, "%s of %s is %s; write a list, like %s", list.Key, where, list.Value.Describe(), netlist.FindKey(netlist.TubeTypeKeys(), list.Key).Example)
		return
	}
	for _, item := range items {
		inside := "a " + one + " of " + where
		if t := b.subTable(item, inside, keys); t != nil {
			each(t, item.Pos, inside)
		}
	}
}

// pinPairs reads a list of sections of two pins each: rectifiers, diodes, grids.
func (b *builder) pinPairs(list netlist.Entry, one, first, second, where string) []netlist.Section {
	keys := netlist.SectionKeys()
	if first == "grid" {
		keys = netlist.GridKeys()
	}
	var sections []netlist.Section
	b.listedTables(list, where, keys, one, func(t *netlist.Table, pos netlist.Pos, inside string) {
		s := netlist.Section{Anode: b.subPin(t, first, inside), Cathode: b.subPin(t, second, inside)}
		if s.Anode != 0 && s.Anode == s.Cathode {
			b.addf(pos, "%s has %s and %s on pin %d; they are two pins", inside, first, second, s.Anode)
		}
		sections = append(sections, s)
	})
	return sections
}

// workingPoints reads the usual working point of each amplifying section.
func (b *builder) workingPoints(list netlist.Entry, where string) []netlist.Working {
	var points []netlist.Working
	b.listedTables(list, where, netlist.WorkingKeys(), "working point", func(t *netlist.Table, pos netlist.Pos, inside string) {
		w := netlist.Working{
			Plate: b.subPin(t, "plate", inside), Screen: b.subPin(t, "screen", inside), Cathode: b.subPin(t, "cathode", inside),
			PlateVolts: b.subValue(t, "plate_volts", netlist.Volt, inside), PlateAmps: b.milliamps(t, "plate_milliamps", inside),
			ScreenVolts: b.subValue(t, "screen_volts", netlist.Volt, inside), ScreenAmps: b.milliamps(t, "screen_milliamps", inside),
		}
		screen := []string{"screen", "screen_volts", "screen_milliamps"}
		if given := slices.DeleteFunc(slices.Clone(screen), func(key string) bool { return !t.Has(key) }); len(given) == 1 || len(given) == 2 {
			b.addf(pos, "%s has %s alone; of a screen give %s, or none of them", inside, words.And(given), words.And(screen))
		}
		pins := []int{w.Plate, w.Screen, w.Cathode}
		for i, pin := range pins {
			if k := slices.Index(pins, pin); k < i && pin != 0 {
				b.addf(pos, "%s has two of plate, screen and cathode on pin %d; they are different pins", inside, pin)
				break
			}
		}
		points = append(points, w)
	})
	return points
}

// milliamps reads a current in amperes that is written in milliamperes, unless its unit is written too.
func (b *builder) milliamps(t *netlist.Table, key, where string) float64 {
	e, ok := t.Get(key)
	if !ok {
		return 0
	}
	var x float64
	switch data := e.Value.Data.(type) {
	case int64:
		x = float64(data)
	case float64:
		x = data
	default:
		if text, ok := data.(string); ok {
			if q, err := netlist.ParseQuantity(text, netlist.Ampere); err == nil && q.Bare {
				x = q.Value
				break
			}
		}
		return b.value(e.Value, netlist.Ampere, key+" of "+where, "")
	}
	if err := netlist.CheckRange(x/1e3, netlist.Ampere, fmt.Sprint(x)); err != nil {
		b.addf(e.Value.Pos, "%s of %s: %v", key, where, err)
		return 0
	}
	return x / 1e3
}

// alsoNames reads the other names of a type.
func (b *builder) alsoNames(v netlist.Value, where string) []string {
	items, ok := v.Data.([]netlist.Value)
	if !ok {
		b.addf(v.Pos, "also of %s is %s; write a list of names, like %s", where, v.Describe(), netlist.FindKey(netlist.TubeTypeKeys(), "also").Example)
		return nil
	}
	var names []string
	for _, item := range items {
		name, ok := item.Data.(string)
		name = strings.TrimSpace(name)
		switch {
		case !ok:
			b.addf(item.Pos, "also of %s: one is %s; write names in quotes", where, item.Describe())
		case name == "" || words.HasControl(name):
			b.addf(item.Pos, "also of %s: a name is empty or has a control character in it; write letters and digits", where)
		case slices.Contains(names, name):
			b.addf(item.Pos, "also of %s: %s stands twice; write it once", where, words.Quote(name))
		default:
			names = append(names, name)
		}
	}
	return names
}
