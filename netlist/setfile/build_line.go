package setfile

import (
	"fmt"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

func buildPlug(r *partReader) netlist.Detail {
	d := &netlist.Plug{Style: r.word("style", "plain")}
	e, hasEnds := r.keys.Get("ends")
	switch {
	case hasEnds:
		ends, items := r.b.pair(e.Value, "ends of "+r.quoted)
		d.Hot, d.Neutral = ends[0], ends[1]
		if len(items) == 2 {
			r.terminal("hot", d.Hot, items[0].Pos)
			r.terminal("neutral", d.Neutral, items[1].Pos)
		}
		if r.has("hot") || r.has("neutral") {
			r.addf(e.Pos, "%s has ends beside hot or neutral; keep one way of writing it", r.quoted)
		} else if d.Style != "plain" {
			r.addf(e.Pos, "ends is for a plain plug; of a %s plug write hot = \"…\" and neutral = \"…\"", d.Style)
		}
	case r.lacks("hot") && r.lacks("neutral"):
		r.addf(r.w.Pos, "plug %s has no hot and no neutral; add hot = \"line 1\", neutral = \"line 2\"", r.quoted)
	}
	if !hasEnds {
		d.Hot, d.Neutral = r.node("hot"), r.node("neutral")
		for _, pair := range [][2]string{{"hot", "neutral"}, {"neutral", "hot"}} {
			if r.lacks(pair[0]) && !r.lacks(pair[1]) {
				r.addf(r.w.Pos, "plug %s has no %s; add %s", r.quoted, pair[0], r.info.Key(pair[0]).Example)
			}
		}
		r.different("hot", d.Hot, "neutral", d.Neutral)
	}
	d.Earth = r.node("earth")
	r.plugEarth(d)
	for _, t := range r.part.Terminals {
		if t.Node == netlist.BuildingEarth {
			r.addf(r.places[t.Name], "%s of plug %s is %s; a plug's terminal is a point of the set, so give it a name of its own, like \"line 2\"",
				t.Name, r.quoted, words.Quote(netlist.BuildingEarth))
		}
	}
	return d
}

// plugEarth checks that a grounding plug has an earth and the others none.
func (r *partReader) plugEarth(d *netlist.Plug) {
	earth, has := r.keys.Get("earth")
	switch {
	case has && d.Style != "grounding":
		r.addf(earth.Pos, "a %s plug has no earth; write style = \"grounding\", or take earth out", d.Style)
	case r.lacks("earth") && d.Style == "grounding":
		r.addf(r.w.Pos, "grounding plug %s has no earth; add earth = \"…\", the point on its earth pin", r.quoted)
	case d.Earth != "" && d.Earth == d.Hot || d.Earth != "" && d.Earth == d.Neutral:
		r.addf(earth.Value.Pos, "earth of %s is the same point as a blade; its three pins are three different points", r.quoted)
	}
}

func buildSwitch(r *partReader) netlist.Detail {
	d := &netlist.Switch{}
	r.oneOf("ends", "poles")
	if r.has("ends") {
		d.Poles = append(d.Poles, r.ends())
	}
	e, ok := r.keys.Get("poles")
	if !ok {
		return d
	}
	poles, ok := e.Value.Data.([]netlist.Value)
	switch {
	case !ok || len(poles) == 0:
		r.addf(e.Value.Pos, "poles of %s is %s; write a list of poles, like %s", r.quoted, emptyOr(e.Value), r.info.Key("poles").Example)
		return d
	case len(poles) > netlist.MaxPoles:
		r.addf(e.Value.Pos, "%s has %d poles, more than the %d that a switch may have", r.quoted, len(poles), netlist.MaxPoles)
		return d
	}
	if _, flat := poles[0].Data.(string); flat {
		r.addf(e.Value.Pos, "poles of %s is a list of points; put each pole's two points in brackets of their own, like %s",
			r.quoted, r.info.Key("poles").Example)
		return d
	}
	for i, p := range poles {
		name := fmt.Sprintf("pole %d", i+1)
		d.Poles = append(d.Poles, r.pair(p, name+" of "+r.quoted, name+" end 1", name+" end 2"))
	}
	return d
}

func emptyOr(v netlist.Value) string {
	if items, ok := v.Data.([]netlist.Value); ok && len(items) == 0 {
		return "empty"
	}
	if t, ok := v.Data.(*netlist.Table); ok && len(t.Entries) == 0 {
		return "empty"
	}
	return v.Describe()
}
