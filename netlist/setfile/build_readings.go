package setfile

import (
	"fmt"
	"math"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// defaultMeterOhms is a common electronic voltmeter's own resistance.
const defaultMeterOhms = 10e6

// quantities are the things that a meter shows, of which a reading has one.
var quantities = []string{"volts", "dc_volts", "ohms", "milliamps"}

// readings reads every [[readings]].
func (b *builder) readings() {
	for i, t := range b.doc.Readings {
		b.reading(t, fmt.Sprintf("reading %d", i+1))
	}
}

func (b *builder) reading(t *netlist.Table, where string) {
	b.checkKeys(t, where, netlist.ReadingKeys())
	r := netlist.Reading{Pos: t.Pos, Meter: defaultMeterOhms}
	if e, ok := t.Get("at"); ok {
		ends, items := b.pair(e.Value, "at of "+where)
		r.At = ends
		for i, item := range items {
			b.readingNode(ends[i], item.Pos)
		}
	} else if b.complete(t) {
		b.addf(t.Pos, "%s does not say where; add %s", where, netlist.FindKey(netlist.ReadingKeys(), "at").Example)
	}
	b.readingQuantity(&r, t, where)
	b.readingPlug(&r, t, where)
	if e, ok := t.Get("switches"); ok {
		r.Switches = b.readingSwitches(e.Value, where)
	}
	if e, ok := t.Get("controls"); ok {
		r.Controls = b.readingControls(e.Value, where)
	}
	if e, ok := t.Get("pulled"); ok {
		r.Pulled = b.readingParts(e, where, "tube", isTube)
	}
	if e, ok := t.Get("lifted"); ok {
		r.Lifted = b.readingParts(e, where, "part with two leads", hasTwoLeads)
	}
	if e, ok := t.Get("meter"); ok {
		r.Meter = b.value(e.Value, netlist.Ohm, "meter of "+where, "")
	}
	b.set.Readings = append(b.set.Readings, r)
}

func (b *builder) readingNode(name string, pos netlist.Pos) {
	if name == "" || name == netlist.BuildingEarth || b.uses[name] != nil || b.doubtful && b.mentioned(name) {
		return
	}
	known := []string{netlist.BuildingEarth}
	for _, n := range b.set.Nodes {
		known = append(known, n.Name)
	}
	hint := words.Meant(b.near(name, known), "name a point that a part is on, or "+words.Quote(netlist.BuildingEarth))
	b.addf(pos, "no part is on the point %s; %s", words.Quote(name), hint)
}

// readingQuantity reads the one figure of a reading.
func (b *builder) readingQuantity(r *netlist.Reading, t *netlist.Table, where string) {
	for _, q := range quantities {
		e, ok := t.Get(q)
		switch {
		case !ok:
		case r.Quantity != "":
			b.addf(e.Pos, "%s has both %s and %s; write each figure as a reading of its own", where, r.Quantity, q)
		default:
			r.Quantity = q
			r.Value = b.readingValue(e.Value, q, q+" of "+where)
		}
	}
	if r.Quantity == "" && b.complete(t) {
		b.addf(t.Pos, "%s has no figure; add one of %s, like volts = 118", where, words.Choices(quantities))
	}
}

// readingValue reads what a meter showed. Unlike the value of a part it may be zero, and of DC
// volts negative.
func (b *builder) readingValue(v netlist.Value, quantity, where string) float64 {
	unit := netlist.FindKey(netlist.ReadingKeys(), quantity).Unit
	_, limit := unit.Range()
	scale := 1.0
	if quantity == "milliamps" {
		scale = 1e3
	}
	var x float64
	switch data := v.Data.(type) {
	case int64:
		x = float64(data) / scale
	case float64:
		x = data / scale
	case string:
		q, err := netlist.ParseQuantity(data, unit)
		if err != nil {
			b.addf(v.Pos, "%s: %v", where, err)
			return 0
		}
		if x = q.Value; q.Bare {
			x /= scale
		}
	default:
		b.addf(v.Pos, "%s is %s; write what the meter showed, like %s", where, v.Describe(), netlist.FindKey(netlist.ReadingKeys(), quantity).Example)
		return 0
	}
	switch {
	case math.IsNaN(x) || math.Abs(x) > limit:
		b.addf(v.Pos, "%s is beyond belief; write what the meter showed, like %s", where, netlist.FindKey(netlist.ReadingKeys(), quantity).Example)
	case x < 0 && quantity != "dc_volts":
		b.addf(v.Pos, "%s is negative; only dc_volts may be", where)
	default:
		return x * scale
	}
	return 0
}

// readingPlug reads how the plug stood: out exactly with ohms.
func (b *builder) readingPlug(r *netlist.Reading, t *netlist.Table, where string) {
	before := b.count()
	def := "as-marked"
	if r.Quantity == "ohms" {
		def = "out"
	}
	r.Plug = b.word(t, netlist.FindKey(netlist.ReadingKeys(), "plug"), where, def)
	e, ok := t.Get("plug")
	if !ok || b.count() > before || r.Quantity == "" {
		return
	}
	switch out := r.Plug == "out"; {
	case out && r.Quantity != "ohms":
		b.addf(e.Value.Pos, "%s has %s with the plug out; with the plug out only ohms are read: write \"as-marked\" or \"reversed\"", where, r.Quantity)
	case !out && r.Quantity == "ohms":
		b.addf(e.Value.Pos, "%s has ohms with the plug in; ohms are read with the plug out: write plug = \"out\"", where)
	}
}
