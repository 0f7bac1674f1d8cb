package netlist

import "strings"

func buildTransformer(r *partReader) Detail {
	d := &Transformer{Insulation: Grade(r.word("insulation", string(Basic))), Coupled: r.has("volts")}
	e, ok := r.keys.Get("windings")
	if !ok {
		return d
	}
	t, ok := e.Value.Data.(*Table)
	switch {
	case !ok || len(t.Entries) == 0:
		r.addf(e.Value.Pos, "windings of %s is %s; name each winding and its two ends, like %s", r.quoted, emptyOr(e.Value),
			r.info.Key("windings").Example)
		return d
	case len(t.Entries) > MaxPoles:
		r.addf(e.Value.Pos, "%s has %d windings, more than the %d that a transformer may have", r.quoted, len(t.Entries), MaxPoles)
		return d
	}
	for _, w := range t.Entries {
		if r.straysInto(w, "windings of "+r.quoted, t) {
			continue
		}
		name := strings.TrimSpace(w.Key)
		if name == "" || hasControl(name) {
			r.addf(w.Pos, "a winding of %s has no name; call it primary, heater, …", r.quoted)
			continue
		}
		ends := r.pair(w.Value, "winding "+quote(name)+" of "+r.quoted, name+" start", name+" end")
		d.Windings = append(d.Windings, Winding{Name: name, Start: ends[0], End: ends[1]})
	}
	r.windingVolts(d, t)
	return d
}

// windingVolts reads the volts, which name every winding or are left out.
func (r *partReader) windingVolts(d *Transformer, windings *Table) {
	e, ok := r.keys.Get("volts")
	if !ok {
		return
	}
	t, ok := e.Value.Data.(*Table)
	if !ok {
		r.addf(e.Value.Pos, "volts of %s is %s; give the volts of every winding, like %s", r.quoted, e.Value.sort(), r.info.Key("volts").Example)
		return
	}
	known := make([]string, len(d.Windings))
	for i := range d.Windings {
		w := &d.Windings[i]
		known[i] = w.Name
		if !hasTrimmed(t, w.Name) && r.b.complete(t) {
			r.addf(e.Pos, "volts of %s says nothing of its winding %s; give the volts of every winding, or leave volts out if the windings are for radio or audio",
				r.quoted, quote(w.Name))
		}
	}
	for _, v := range t.Entries {
		if r.straysInto(v, "volts of "+r.quoted, t) {
			continue
		}
		i := indexOf(known, strings.TrimSpace(v.Key))
		if i < 0 {
			hint := "it has " + quoteAll(known)
			if near := r.b.near(v.Key, known); near != "" {
				hint = "did you mean " + quote(near) + "?"
			}
			if len(known) == len(windings.Entries) {
				r.addf(v.Pos, "%s has no winding %s; %s", r.quoted, quote(v.Key), hint)
			}
			continue
		}
		d.Windings[i].Volts = r.b.value(v.Value, Volt, "volts of winding "+quote(known[i])+" of "+r.quoted, r.w.Name)
	}
}

func hasTrimmed(t *Table, key string) bool {
	for _, e := range t.Entries {
		if strings.TrimSpace(e.Key) == key {
			return true
		}
	}
	return false
}

func indexOf(words []string, word string) int {
	for i, w := range words {
		if w == word {
			return i
		}
	}
	return -1
}
