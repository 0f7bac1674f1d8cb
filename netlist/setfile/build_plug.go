package setfile

import (
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
