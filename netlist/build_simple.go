package netlist

func buildFuse(r *partReader) Detail { return &Fuse{Ends: r.ends(), Amps: r.value("amps")} }

func buildWire(r *partReader) Detail { return &Wire{Ends: r.ends()} }

func buildResistor(r *partReader) Detail {
	d := &Resistor{Ends: r.ends(), Tolerance: defaultTolerance, Watts: r.value("watts"), Measured: r.value("measured")}
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

func buildPotentiometer(r *partReader) Detail {
	return &Potentiometer{Ends: r.ends(), Wiper: r.node("wiper"), Ohms: r.value("value")}
}

func buildCapacitor(r *partReader) Detail {
	d := &Capacitor{Ends: r.ends(), Farads: r.value("value"), Class: r.word("class", ""), Type: r.word("type", "")}
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
				r.quoted, quote(d.Positive), quote(d.Ends[0]), quote(d.Ends[1]))
		}
	}
	return d
}

func buildCoil(r *partReader) Detail {
	return &Coil{Ends: r.ends(), Ohms: r.value("ohms"), Henrys: r.value("henries")}
}

func buildMotor(r *partReader) Detail {
	d := &Motor{Ends: r.ends(), Volts: r.value("volts"), Amps: r.value("amps")}
	r.oneOf("amps", "watts")
	if watts := r.value("watts"); watts > 0 && d.Volts > 0 {
		d.Amps = watts / d.Volts
	}
	return d
}

func buildLamp(r *partReader) Detail {
	return &Lamp{Ends: r.ends(), Volts: r.value("volts"), Amps: r.value("amps")}
}

func buildRectifier(r *partReader) Detail {
	d := &Rectifier{Anode: r.node("anode"), Cathode: r.node("cathode"), Type: r.word("type", "selenium")}
	r.different("anode", d.Anode, "cathode", d.Cathode)
	return d
}

func buildBattery(r *partReader) Detail {
	d := &Battery{Positive: r.node("positive"), Negative: r.node("negative"), Volts: r.value("volts")}
	r.different("positive", d.Positive, "negative", d.Negative)
	return d
}

func buildInsulation(r *partReader) Detail {
	return &Insulation{Ends: r.ends(), Grade: Grade(r.word("grade", string(Basic)))}
}

// different complains where two terminals that must differ are one node. It speaks of the second.
func (r *partReader) different(first, a, second, b string) {
	if a == "" || a != b {
		return
	}
	e, ok := r.keys.Get(second)
	if !ok {
		return
	}
	r.addf(e.Value.Pos, "%s and %s of %s are both %s; they must be two different points", first, second, r.quoted, quote(a))
}
