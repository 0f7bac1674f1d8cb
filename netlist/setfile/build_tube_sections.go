package setfile

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

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
