package setfile

import (
	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

func buildFuse(r *partReader) netlist.Detail {
	return &netlist.Fuse{Ends: r.ends(), Amps: r.value("amps")}
}

func buildWire(r *partReader) netlist.Detail { return &netlist.Wire{Ends: r.ends()} }

func buildResistor(r *partReader) netlist.Detail {
	d := &netlist.Resistor{Ends: r.ends(), Tolerance: netlist.DefaultTolerance, Watts: r.value("watts"), Measured: r.value("measured")}
	r.oneOf("value", "bands")
	d.Ohms = r.value("value")
	if e, ok := r.keys.Get("bands"); ok {
		d.Ohms, d.Tolerance = r.bands(e.Value)
	}
	if e, ok := r.keys.Get("tolerance"); ok {
		d.Tolerance = r.tolerance(e.Value)
	}
	return d
}

func buildPotentiometer(r *partReader) netlist.Detail {
	return &netlist.Potentiometer{Ends: r.ends(), Wiper: r.node("wiper"), Ohms: r.value("value")}
}

func buildCapacitor(r *partReader) netlist.Detail {
	d := &netlist.Capacitor{Ends: r.ends(), Farads: r.value("value"), Class: r.word("class", ""), Type: r.word("type", "")}
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
	return &netlist.Lamp{Ends: r.ends(), Volts: r.value("volts"), Amps: r.value("amps")}
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
