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

func buildFuse(r *partReader) netlist.Detail {
	return &netlist.Fuse{Ends: r.ends(), Amps: r.value("amps")}
}

func buildWire(r *partReader) netlist.Detail { return &netlist.Wire{Ends: r.ends()} }

func buildResistor(r *partReader) netlist.Detail {
	d := &netlist.Resistor{Ends: r.ends(), Tolerance: netlist.DefaultTolerance, Watts: r.value("watts") + r.value("rating"), Measured: r.value("measured")}
	r.oneOf("value", "bands", "body_end_dot")
	d.Ohms = r.ohms("value")
	if e, ok := r.keys.Get("bands"); ok {
		d.Ohms, d.Tolerance = r.bands(e.Value)
	}
	if e, ok := r.keys.Get("body_end_dot"); ok {
		d.Ohms = r.bodyEndDot(e.Value)
	}
	if e, ok := r.keys.Get("tolerance"); ok {
		d.Tolerance = r.tolerance(e.Value)
	}
	return d
}

func buildPotentiometer(r *partReader) netlist.Detail {
	d := &netlist.Potentiometer{Ends: r.ends(), Wiper: r.node("wiper"), Ohms: r.ohms("value")}
	for i, end := range d.Ends {
		if end == "middle" && !d.Rheostat() {
			r.addf(r.places[fmt.Sprintf("end %d", i+1)], "an end of %s is on a point called middle, which is where its wiper rests; call the point otherwise", r.quoted)
		}
	}
	return d
}

func buildThermistor(r *partReader) netlist.Detail {
	d := &netlist.Thermistor{Ends: r.ends(), Hot: r.ohms("hot"), Cold: r.ohms("cold")}
	if e, ok := r.keys.Get("hot"); ok && d.Cold > 0 && d.Hot > d.Cold {
		r.addf(e.Value.Pos, "hot of %s is %s and cold %s; its ohms fall as it warms, so hot has the less",
			r.quoted, netlist.FormatValue(d.Hot, netlist.Ohm), netlist.FormatValue(d.Cold, netlist.Ohm))
	}
	return d
}

func buildCapacitor(r *partReader) netlist.Detail {
	d := &netlist.Capacitor{Ends: r.ends(), Class: r.word("class", ""), Type: r.word("type", "")}
	if !r.sectionsMeant() {
		d.Farads = r.value("value")
	}
	if e, ok := r.keys.Get("rating"); ok {
		d.Rating, d.RatingAC = r.rating(e.Value)
	}
	if e, ok := r.keys.Get("leakage"); ok {
		d.LeakOhms = r.leakage(e.Value)
	}
	if e, ok := r.keys.Get("positive"); ok {
		d.Positive = r.b.nodeName(e.Value, "positive of "+r.quoted)
		known := d.Ends[0] != "" && d.Ends[1] != ""
		if d.Positive != "" && known && d.Positive != d.Ends[0] && d.Positive != d.Ends[1] {
			r.addf(e.Value.Pos, "positive of %s is %s, which is not one of its ends; write %s or %s",
				r.quoted, words.Quote(d.Positive), words.Quote(d.Ends[0]), words.Quote(d.Ends[1]))
		}
	}
	return d
}

func buildCoil(r *partReader) netlist.Detail {
	return &netlist.Coil{Ends: r.ends(), Ohms: r.value("ohms"), Henrys: r.value("henries")}
}

func buildMotor(r *partReader) netlist.Detail {
	d := &netlist.Motor{Ends: r.ends(), Volts: r.value("volts"), Amps: r.value("amps")}
	r.oneOf("amps", "watts")
	if watts := r.value("watts"); watts > 0 && d.Volts > 0 {
		d.Amps = watts / d.Volts
	}
	return d
}

func buildLamp(r *partReader) netlist.Detail {
	d := &netlist.Lamp{Ends: r.ends(), Volts: r.value("volts"), Amps: r.value("amps")}
	e, typed := r.keys.Get("type")
	for _, key := range []string{"volts", "amps"} {
		switch {
		case typed && r.has(key):
			r.addf(e.Pos, "%s has both %s and type; keep volts and amps, or the type alone", r.quoted, key)
			return d
		case !typed && r.lacks(key) && !r.misnamed["type"]:
			r.addf(r.w.Pos, "lamp %s has no %s; add %s, or for a dial lamp its number alone, like %s", r.quoted, key, r.info.Key(key).Example, r.info.Key("type").Example)
		}
	}
	if lamp, ok := dialLamps()[r.word("type", "")]; ok {
		d.Volts, d.Amps = lamp.volts, lamp.amps
	}
	return d
}

func buildRectifier(r *partReader) netlist.Detail {
	d := &netlist.Rectifier{Anode: r.node("anode"), Cathode: r.node("cathode"), Type: r.word("type", "selenium")}
	r.different("anode", d.Anode, "cathode", d.Cathode)
	return d
}

func buildBattery(r *partReader) netlist.Detail {
	d := &netlist.Battery{Positive: r.node("positive"), Negative: r.node("negative"), Volts: r.value("volts")}
	r.different("positive", d.Positive, "negative", d.Negative)
	return d
}

func buildInsulation(r *partReader) netlist.Detail {
	return &netlist.Insulation{Ends: r.ends(), Grade: netlist.Grade(r.word("grade", string(netlist.Basic)))}
}
