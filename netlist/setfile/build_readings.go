package setfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

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
	t = b.checkKeys(t, where, netlist.ReadingKeys())
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
		r.Lifted = b.readingParts(e, where, "part with two leads", (*netlist.Part).HasTwoLeads)
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
	if foldedEarthWords()[words.FoldWord(name)] {
		hint = "write " + words.Quote(netlist.BuildingEarth) + " if a rod or a pipe is meant, else the point of the set"
	}
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
			b.readingValue(e.Value, q, q+" of "+where)
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
		if quantity == "ohms" && netlist.ReadsOpen(data) {
			return limit
		}
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

func isTube(p *netlist.Part) bool { return p.Kind == netlist.KindTube }

func isControl(p *netlist.Part) bool { return p.Kind == netlist.KindPotentiometer }

func isSwitch(p *netlist.Part) bool {
	return p.Kind == netlist.KindSwitch || p.Kind == netlist.KindSelector
}

// readingSwitches reads how the switches stood.
func (b *builder) readingSwitches(v netlist.Value, where string) map[string]string {
	return b.readingStood(v, where, "switches", "switch or selector", isSwitch, func(p *netlist.Part) []string {
		if d, ok := p.Detail.(*netlist.Selector); ok {
			return selectorPositions(d)
		}
		return []string{"on", "off"}
	})
}

// readingControls reads how the controls stood.
func (b *builder) readingControls(v netlist.Value, where string) map[string]string {
	return b.readingStood(v, where, "controls", "control", isControl, func(p *netlist.Part) []string {
		d, _ := p.Detail.(*netlist.Potentiometer)
		switch {
		case d.Ends[0] == "" || d.Ends[1] == "":
			return nil
		case d.Rheostat():
			return []string{"full", "zero"}
		}
		return []string{"middle", d.Ends[0], d.Ends[1]}
	})
}

// readingStood reads a table of parts and the positions in which they stood. A part that could not be read
// has no positions, and is not complained of.
func (b *builder) readingStood(v netlist.Value, where, key, what string, wanted func(*netlist.Part) bool, positionsOf func(*netlist.Part) []string) map[string]string {
	t, ok := v.Data.(*netlist.Table)
	if !ok {
		b.addf(v.Pos, "%s of %s is %s; write %s", key, where, v.Describe(), netlist.FindKey(netlist.ReadingKeys(), key).Example)
		return nil
	}
	stood := map[string]string{}
	for _, e := range t.Entries {
		p := b.set.Part(e.Key)
		if p == nil || !wanted(p) {
			b.notThat(e.Pos, e.Key, where, what, wanted)
			continue
		}
		positions := positionsOf(p)
		position, ok := e.Value.Data.(string)
		position = strings.TrimSpace(position)
		if len(positions) > 0 && (!ok || !slices.Contains(positions, position)) {
			b.addf(e.Value.Pos, "%s stands on one of its positions in %s; write %s", words.Quote(e.Key), where, words.QuoteAll(positions))
			continue
		}
		stood[e.Key] = position
	}
	return stood
}

func selectorPositions(d *netlist.Selector) []string {
	if d.Fixed != "" {
		return []string{d.Fixed}
	}
	return d.Positions
}

// readingParts reads a list of parts of the set, what being what each of them is.
func (b *builder) readingParts(list netlist.Entry, where, what string, wanted func(*netlist.Part) bool) []string {
	key, v := list.Key, list.Value
	items, ok := v.Data.([]netlist.Value)
	if !ok {
		b.addf(v.Pos, "%s of %s is %s; write %s", key, where, v.Describe(), netlist.FindKey(netlist.ReadingKeys(), key).Example)
		return nil
	}
	var named []string
	for _, item := range items {
		name, ok := item.Data.(string)
		name = strings.TrimSpace(name)
		switch p := b.set.Part(name); {
		case !ok:
			b.addf(item.Pos, "%s of %s: one is %s; write the names of %ss in quotes", key, where, item.Describe(), firstWord(what))
		case p != nil && key == "lifted" && isTube(p):
			b.addf(item.Pos, "lifted of %s: %s is a tube, which has no lead to lift; name it in pulled", where, words.Quote(name))
		case p == nil || !wanted(p):
			b.notThat(item.Pos, name, where, what, wanted)
		case slices.Contains(named, name):
			b.addf(item.Pos, "%s of %s names %s twice; write it once", key, where, words.Quote(name))
		default:
			named = append(named, name)
		}
	}
	return named
}

func firstWord(s string) string {
	first, _, _ := strings.Cut(s, " ")
	return first
}

// notThat complains of a name in a reading that is no part of the kinds wanted.
func (b *builder) notThat(pos netlist.Pos, name, where, what string, wanted func(*netlist.Part) bool) {
	if w := b.doc.Part(name); w != nil && netlist.FindKind(netlist.Kind(w.Kind)) == nil || b.unread.hides(name) {
		return // its kind has been complained of, or its line
	}
	if p := b.set.Part(name); p != nil {
		b.addf(pos, "%s: %s is a %s and no %s; name a %s", where, words.Quote(name), p.Kind, what, what)
		return
	}
	var known []string
	for _, p := range b.set.Parts {
		if wanted(p) {
			known = append(known, p.Name)
		}
	}
	hint := "the set has none"
	if near := b.near(name, known); near != "" {
		hint = "did you mean " + words.Quote(near) + "?"
	} else if len(known) > 0 {
		hint = "it has " + words.QuoteAll(known)
	}
	b.addf(pos, "%s: the set has no %s %s; %s", where, what, words.Quote(name), hint)
}
