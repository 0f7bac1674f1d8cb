package propose

import (
	"fmt"
	"math"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
)

// closer are the remedies of the rule that made a finding, with values worked out for this set: what the
// list for whole plans does not have, since it needs the finding's figures.
func closer(set *netlist.Set, report *rules.Report, f *rules.Finding) []*remedy {
	switch f.Rule {
	case rules.TouchCurrent, rules.LiveBetween:
		return lessCoupling(set, f)
	case rules.StoredCharge:
		return bleeders(set, f)
	case rules.OverRating:
		return higherRating(set, report, f)
	case rules.ReversedElectrolytic:
		return turned(set, f)
	}
	return nil
}

// lessCoupling puts class-Y capacitors of one smaller size in the place of all that carry the current
// together: what parallel parts leave of the limit. The largest size is tried first.
func lessCoupling(set *netlist.Set, f *rules.Finding) []*remedy {
	var parts []*netlist.Part
	for _, name := range f.Parts {
		if p := set.Part(name); p != nil {
			if d, ok := p.Detail.(*netlist.Capacitor); ok && d.Type != "electrolytic" && !tuned(d) && rules.WindingCapacitance(set, p) == "" {
				parts = append(parts, p)
			}
		}
	}
	if len(parts) == 0 {
		return nil
	}
	beside := bleedersBeside(set, parts)
	var all []*remedy
	most, _ := safetyValue(set)
	for _, v := range safetyValues {
		if v.farads*float64(len(parts)) > most*1.01 {
			continue
		}
		one := partRemedy(parts[0].Name, "all Y1 "+v.text, bridging, 2, func(b *builder, _ *netlist.Part) {
			for _, name := range beside {
				b.remove(fmt.Sprintf("%s lies beside, passes a current of its own, and is one part that can short.", name), name)
			}
			for _, p := range parts {
				d := b.set.Part(p.Name).Detail.(*netlist.Capacitor)
				value := v.text
				if d.Farads > 0 && d.Farads < v.farads {
					value = netlist.FormatValue(d.Farads, netlist.Farad)
				}
				b.replace(fmt.Sprintf("Class Y1, of a size that keeps what a hand takes well under 0.5 mA; %d of them share the limit.", len(parts)),
					p.Name, safetyCapacitor(d.Ends[0], d.Ends[1], value, "Y1"))
			}
		})
		if all = append(all, one); len(all) == 3 {
			break
		}
	}
	return all
}

// bleedersBeside are the resistors that lie beside some capacitors, end to end, and only keep a charge or a
// hum off the metal.
func bleedersBeside(set *netlist.Set, capacitors []*netlist.Part) []string {
	var names []string
	for _, p := range set.Parts {
		r, ok := p.Detail.(*netlist.Resistor)
		if !ok || !bleedsToMetal(set, r) {
			continue
		}
		one, other := wired(set, r.Ends[0]), wired(set, r.Ends[1])
		for _, c := range capacitors {
			d := c.Detail.(*netlist.Capacitor)
			if (one[d.Ends[0]] && other[d.Ends[1]] || one[d.Ends[1]] && other[d.Ends[0]]) && !slices.Contains(names, p.Name) {
				names = append(names, p.Name)
			}
		}
	}
	return names
}

// wattsMargin is how many times what it burns a bleeder stands.
const wattsMargin = 2.0

// resistorValues are usual values of bleeders, Ω, the largest first, and resistorWatts usual ratings, W.
var (
	resistorValues = []float64{1e6, 680e3, 470e3, 330e3, 220e3, 150e3, 100e3}
	resistorWatts  = []float64{0.25, 0.5, 1, 2, 5}
)

// bleeders drain a capacitor that holds its charge at the plug, within BladeSecondsLimit.
func bleeders(set *netlist.Set, f *rules.Finding) []*remedy {
	if len(f.Parts) == 0 {
		return nil
	}
	p := set.Part(f.Parts[0])
	if p == nil {
		return nil
	}
	d, ok := p.Detail.(*netlist.Capacitor)
	if !ok || d.Farads <= 0 {
		return nil
	}
	perOhm := d.Farads * math.Log(math.Sqrt2*set.Volts/analysis.StoredVolts) // s, until it is drained
	most := analysis.BladeSecondsLimit / perOhm
	for _, ohms := range resistorValues {
		if ohms > most {
			continue
		}
		burns := set.Volts * set.Volts / ohms
		k := slices.IndexFunc(resistorWatts, func(w float64) bool { return w >= wattsMargin*burns })
		if k < 0 {
			return nil
		}
		return []*remedy{partRemedy(p.Name, "drained", renewing, 0, func(b *builder, p *netlist.Part) {
			d := p.Detail.(*netlist.Capacitor)
			b.fit(fmt.Sprintf("It drains %s to under 60 V in %.1f s once the plug is out, and burns %.2g W while it is in: of a voltage grade for the line.",
				p.Name, ohms*perOhm, burns), b.name("R"),
				netlist.Keys("kind", "resistor", "ends", d.Ends[:], "value", netlist.FormatValue(ohms, netlist.Ohm), "watts", resistorWatts[k]))
		})}
	}
	return nil
}

// capacitorVolts are usual ratings, V DC; one with ratingMargin above the stress is taken.
var capacitorVolts = []float64{16, 25, 35, 50, 63, 100, 160, 200, 250, 350, 400, 450, 500, 630, 1000, 1600}

const ratingMargin = 1.1

// higherRating puts a capacitor of the same value in that stands the volts.
func higherRating(set *netlist.Set, report *rules.Report, f *rules.Finding) []*remedy {
	var all []*remedy
	stresses := report.Case.Circuit.Stresses(nil)
	for _, name := range f.Parts {
		p := set.Part(name)
		k := slices.IndexFunc(stresses, func(x analysis.Stress) bool { return x.Part == name })
		if p == nil || k < 0 {
			continue
		}
		d, ok := p.Detail.(*netlist.Capacitor)
		if !ok || d.Class != "" {
			continue
		}
		for _, volts := range capacitorVolts {
			if volts < ratingMargin*stresses[k].Volts {
				continue
			}
			all = append(all, partRemedy(name, "rated", renewing, 0, func(b *builder, p *netlist.Part) {
				b.change(fmt.Sprintf("A part of the same value, rated for the %.0f V that stand across it with no load, and a margin.", stresses[k].Volts), p.Name,
					netlist.Keys("rating", netlist.FormatValue(volts, netlist.Volt)))
			}))
			break
		}
	}
	return all
}

// turned turns a capacitor round that is in the wrong way.
func turned(set *netlist.Set, f *rules.Finding) []*remedy {
	if len(f.Parts) == 0 || set.Part(f.Parts[0]) == nil {
		return nil
	}
	return []*remedy{partRemedy(f.Parts[0], "turned", renewing, 0, func(b *builder, p *netlist.Part) {
		d, ok := p.Detail.(*netlist.Capacitor)
		if !ok {
			return
		}
		positive := d.Ends[0]
		if positive == d.Positive {
			positive = d.Ends[1]
		}
		b.change("A new one, its plus where the set has it: one that has been run the wrong way round is spent.", p.Name, netlist.Keys("positive", positive))
	})}
}
