package setfile

import (
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

func buildTransformer(r *partReader) netlist.Detail {
	d := &netlist.Transformer{Insulation: netlist.Grade(r.word("insulation", string(netlist.Basic))), Coupled: r.has("volts")}
	e, ok := r.keys.Get("windings")
	if !ok {
		return d
	}
	t, ok := e.Value.Data.(*netlist.Table)
	switch {
	case !ok || len(t.Entries) == 0:
		r.addf(e.Value.Pos, "windings of %s is %s; name each winding and its two ends, like %s", r.quoted, emptyOr(e.Value),
			r.info.Key("windings").Example)
		return d
	case len(t.Entries) > netlist.MaxPoles:
		r.addf(e.Value.Pos, "%s has %d windings, more than the %d that a transformer may have", r.quoted, len(t.Entries), netlist.MaxPoles)
		return d
	}
	for _, w := range t.Entries {
		if r.b.strays(w, "windings of "+r.quoted, t) {
			continue
		}
		name := strings.TrimSpace(w.Key)
		if name == "" || words.HasControl(name) {
			r.addf(w.Pos, "a winding of %s has no name; call it primary, heater, …", r.quoted)
			continue
		}
		ends := r.pair(w.Value, "winding "+words.Quote(name)+" of "+r.quoted, name+" start", name+" end")
		d.Windings = append(d.Windings, netlist.Winding{Name: name, Start: ends[0], End: ends[1]})
	}
	r.windingVolts(d, t)
	return d
}

// windingVolts reads the volts, which name every winding or are left out.
func (r *partReader) windingVolts(d *netlist.Transformer, windings *netlist.Table) {
	e, ok := r.keys.Get("volts")
	if !ok {
		return
	}
	t, ok := e.Value.Data.(*netlist.Table)
	if !ok {
		r.addf(e.Value.Pos, "volts of %s is %s; give the volts of every winding, like %s", r.quoted, e.Value.Describe(), r.info.Key("volts").Example)
		return
	}
	known := make([]string, len(d.Windings))
	for i := range d.Windings {
		w := &d.Windings[i]
		known[i] = w.Name
		if !hasTrimmed(t, w.Name) && r.b.complete(t) {
			r.addf(e.Pos, "volts of %s says nothing of its winding %s; give the volts of every winding, or leave volts out if the windings are for radio or audio",
				r.quoted, words.Quote(w.Name))
		}
	}
	for _, v := range t.Entries {
		if r.b.strays(v, "volts of "+r.quoted, t) {
			continue
		}
		i := slices.Index(known, strings.TrimSpace(v.Key))
		if i < 0 {
			hint := words.Meant(r.b.near(v.Key, known), "it has "+words.QuoteAll(known))
			if len(known) == len(windings.Entries) {
				r.addf(v.Pos, "%s has no winding %s; %s", r.quoted, words.Quote(v.Key), hint)
			}
			continue
		}
		d.Windings[i].Volts = r.b.value(v.Value, netlist.Volt, "volts of winding "+words.Quote(known[i])+" of "+r.quoted, r.w.Name)
	}
}

func hasTrimmed(t *netlist.Table, key string) bool {
	for _, e := range t.Entries {
		if strings.TrimSpace(e.Key) == key {
			return true
		}
	}
	return false
}
