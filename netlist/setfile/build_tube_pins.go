package setfile

import (
	"strconv"

	"coldcheck/netlist"
)

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
	b.checkKeys(t, where, keys)
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
