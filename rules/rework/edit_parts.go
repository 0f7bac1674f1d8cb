package rework

import (
	"fmt"
	"math"
	"slices"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
)

// The values that a bridge is given, chosen so that a touch current stays clear of the 0.5 mA of
// IEC 62368-1 table 4 (ES1) with its tolerances.
const (
	bridgeAmps     = 0.4e-3 // A, that one bridge may pass at the mains as stated
	bridgeOhms     = 1e6    // Ω, each of two resistors in series; IEC 60335-1 22.42
	bridgeOhmsText = "1 meg"
	gangFarads     = 1e-9 // F, up to which an unmarked capacitor is taken for one that is tuned
)

// safetyValues are the usual sizes of class-Y capacitors, the largest first.
var safetyValues = []struct {
	farads float64
	text   string
}{{4.7e-9, "4.7 nF"}, {3.3e-9, "3.3 nF"}, {2.2e-9, "2.2 nF"}, {1e-9, "1 nF"}, {470e-12, "470 pF"}, {100e-12, "100 pF"}}

// safetyValue is the largest usual size that keeps the current of one bridge down.
func safetyValue(set *netlist.Set) (farads float64, text string) {
	for _, v := range safetyValues {
		if 2*math.Pi*set.Hertz*v.farads*set.Volts <= bridgeAmps {
			return v.farads, v.text
		}
	}
	last := safetyValues[len(safetyValues)-1]
	return last.farads, last.text
}

// bridgeValue is the value of a safety capacitor in the place of another: the same where it is
// small enough.
func bridgeValue(set *netlist.Set, c *netlist.Capacitor) string {
	if most, text := safetyValue(set); c.Farads > most {
		return text
	}
	return netlist.FormatValue(c.Farads, netlist.Farad)
}

// tuned tells whether a capacitor is most likely one that is turned or trimmed: small, and nothing
// marked on it. No other part can stand in its place.
func tuned(c *netlist.Capacitor) bool {
	return c.Farads <= gangFarads && c.Type == "" && c.Rating == 0 && c.Class == ""
}

// partEdits are the edits about one part.
func (s *search) partEdits(set *netlist.Set, name string) []*Edit {
	p := set.Part(name)
	if p == nil {
		return nil
	}
	var edits []*Edit
	add := func(what string, m measure, effort int, steps func(b *builder, p *netlist.Part)) {
		edits = append(edits, &Edit{key: name + " " + what, measure: m, rank: rankPart, effort: effort, part: name,
			steps: func(set *netlist.Set) []plan.Step {
				p := set.Part(name)
				if p == nil {
					return nil
				}
				b := newBuilder(set)
				steps(b, p)
				return b.steps
			}})
	}
	switch d := p.Detail.(type) {
	case *netlist.Capacitor:
		s.capacitorEdits(set, p, d, add)
	case *netlist.Resistor:
		if !s.bleedsToMetal(set, d) {
			break // it is at work in the set, which plays no more without it
		}
		add("out", renewing, 1, func(b *builder, p *netlist.Part) {
			b.remove(fmt.Sprintf("%s is one part that can short between the line and metal that is touched.", p.Name), p.Name)
		})
		add("pair", bridging, 3, pairOfResistors)
	case *netlist.Insulation:
		add("double", renewing, 1, func(b *builder, p *netlist.Part) {
			d := p.Detail.(*netlist.Insulation)
			b.replace("One layer is one failure. Two layers, each good for the line by itself, or reinforced insulation.", p.Name,
				netlist.Keys("kind", "insulation", "ends", d.Ends[:], "grade", "double"))
		})
	}
	if (p.Condition != netlist.Good || leaks(p)) && !s.onMetal(set, p) {
		add("renewed", renewing, 1, renew)
	}
	return edits
}

// onMetal tells whether a capacitor has an end on metal that a hand can reach: there a new part of
// the same sort will not do, only one with a safety class.
func (s *search) onMetal(set *netlist.Set, p *netlist.Part) bool {
	d, ok := p.Detail.(*netlist.Capacitor)
	if !ok || d.Class != "" {
		return false
	}
	for _, end := range d.Ends {
		for name := range wired(set, end) {
			if n := set.Node(name); n != nil && n.Touch != "" {
				return true
			}
		}
	}
	return false
}

// bleedsToMetal tells whether a resistor has an end on metal that a hand can reach and that carries no
// working current, being on neither leg of the cord and on no winding of a line transformer: it then
// keeps a charge or a hum off that metal, and the set plays without it.
func (s *search) bleedsToMetal(set *netlist.Set, d *netlist.Resistor) bool {
	_, plug := set.Plug()
	hot, neutral := lineLeg(set, plug.Hot).nodes, lineLeg(set, plug.Neutral).nodes
	works := func(node string) bool {
		group := wired(set, node)
		if hot[node] || neutral[node] {
			return true
		}
		return slices.ContainsFunc(set.Parts, func(p *netlist.Part) bool {
			t, ok := p.Detail.(*netlist.Transformer)
			return ok && t.Coupled && slices.ContainsFunc(t.Windings, func(w netlist.Winding) bool { return group[w.Start] || group[w.End] })
		})
	}
	return slices.ContainsFunc(d.Ends[:], func(end string) bool {
		group := wired(set, end)
		return !works(end) && slices.ContainsFunc(set.TouchPoints(), func(n *netlist.Node) bool { return group[n.Name] })
	})
}

// leaks tells whether leakage of a capacitor is stated.
func leaks(p *netlist.Part) bool {
	d, ok := p.Detail.(*netlist.Capacitor)
	return ok && d.LeakOhms > 0
}

func (s *search) capacitorEdits(set *netlist.Set, p *netlist.Part, d *netlist.Capacitor, add func(string, measure, int, func(*builder, *netlist.Part))) {
	if d.Type == "electrolytic" || rules.WindingCapacitance(set, p) != "" {
		return // the capacitance of a transformer's own windings cannot be cut into
	}
	if tuned(d) {
		add("series", bridging, 3, inSeries)
		return
	}
	add("Y1", bridging, 2, func(b *builder, p *netlist.Part) { safety(b, p, "Y1") })
	add("two Y2", bridging, 3, pairOfCapacitors)
	if s.acrossOrBypass(d) {
		add("out", renewing, 1, func(b *builder, p *netlist.Part) {
			b.remove(fmt.Sprintf("%s only keeps noise off the line; the set plays without it.", p.Name), p.Name)
		})
		add("X2", renewing, 1, func(b *builder, p *netlist.Part) {
			d := p.Detail.(*netlist.Capacitor)
			b.replace("Across the line belongs a part of class X2, made for it.", p.Name,
				netlist.Keys("kind", "capacitor", "ends", d.Ends[:], "value", netlist.FormatValue(d.Farads, netlist.Farad), "rating", "275 V AC", "class", "X2", "type", "film"))
		})
	}
}

// acrossOrBypass tells whether a capacitor has an end on a conductor of the cord and only keeps
// noise off: a line filter or a line bypass, not the joint of B-minus and the metal.
func (s *search) acrossOrBypass(d *netlist.Capacitor) bool {
	_, plug := s.set.Plug()
	bus := wired(s.set, busiest(s.set))
	for i, end := range d.Ends {
		other := s.set.Node(d.Ends[1-i])
		if end != plug.Hot && end != plug.Neutral || other == nil {
			continue
		}
		if bus[end] && other.Touch != "" {
			return false
		}
		return true
	}
	return false
}

// safety puts a class-Y capacitor in the place of another.
func safety(b *builder, p *netlist.Part, class string) {
	d := p.Detail.(*netlist.Capacitor)
	why := "Class Y1 stands for double insulation: it is made and tested so that a short is very unlikely."
	if class == "Y2" {
		why = "Class Y2 stands for one layer of basic insulation; another safeguard stands beside it here."
	}
	if d.Farads > 0 && bridgeValue(b.set, d) != netlist.FormatValue(d.Farads, netlist.Farad) {
		why += " This value keeps the current through it under 0.5 mA."
	}
	b.replace(why, p.Name, safetyCapacitor(d.Ends[0], d.Ends[1], bridgeValue(b.set, d), class))
}

// pairOfCapacitors puts two class-Y2 capacitors in series in the place of one.
func pairOfCapacitors(b *builder, p *netlist.Part) {
	d := p.Detail.(*netlist.Capacitor)
	middle, second, value := b.node(p.Name+" middle"), b.name("C"), bridgeValue(b.set, d)
	b.replace("Two of class Y2 in series, alike: if one shorts, the other still stands between, and keeps the current under 0.5 mA.",
		p.Name, safetyCapacitor(d.Ends[0], middle, value, "Y2"))
	b.fit("The second of the two.", second, safetyCapacitor(middle, d.Ends[1], value, "Y2"))
}

// inSeries keeps a capacitor that cannot be replaced and puts a class-Y1 capacitor in series.
func inSeries(b *builder, p *netlist.Part) {
	_, value := safetyValue(b.set)
	d := p.Detail.(*netlist.Capacitor)
	end := 0
	for i, node := range d.Ends {
		if n := b.set.Node(node); n != nil && n.Touch != "" {
			end = i
		}
	}
	middle, second := b.node(p.Name+" inner"), b.name("C")
	b.move(fmt.Sprintf("%s carries no rating (a tuning gang, a trimmer): it stays, and a class Y1 capacitor goes in series with it.", p.Name),
		p, netlist.Terminal{Name: fmt.Sprintf("end %d", end+1), Node: d.Ends[end]}, middle)
	b.fit("It is large beside the one that it guards, and hardly detunes it.", second, safetyCapacitor(middle, d.Ends[end], value, "Y1"))
}

// pairOfResistors puts two resistors in series in the place of one.
func pairOfResistors(b *builder, p *netlist.Part) {
	d := p.Detail.(*netlist.Resistor)
	value := bridgeOhmsText
	if d.InUse() > bridgeOhms {
		value = netlist.FormatValue(d.InUse(), netlist.Ohm)
	}
	middle, second := b.node(p.Name+" middle"), b.name("R")
	keys := func(from, to string) *netlist.Table {
		return netlist.Keys("kind", "resistor", "ends", []string{from, to}, "value", value, "tolerance", "5 %", "watts", 0.5, "note", "metal film, of a voltage grade for the line")
	}
	b.replace("Protective impedance is two parts at least, each of which alone keeps the current down.", p.Name, keys(d.Ends[0], middle))
	b.fit("The second of the two.", second, keys(middle, d.Ends[1]))
}

// renew puts a new part of the same sort in the place of one that nobody vouches for.
func renew(b *builder, p *netlist.Part) {
	w := b.doc.Part(p.Name)
	keys := netlist.Keys("kind", string(p.Kind))
	for _, e := range w.Keys.Entries {
		switch {
		case e.Key == "condition" || e.Key == "note" || e.Key == "leakage" || e.Key == "measured":
		case e.Key == "type" && e.Value.Data == "paper":
			keys.Set(netlist.Keys("type", "film").Entries[0])
		case e.Key == "grade" && e.Value.Data == "functional":
			keys.Set(netlist.Keys("grade", "basic").Entries[0])
		default:
			keys.Set(e)
		}
	}
	b.replace(fmt.Sprintf("No one vouches for the insulation of %s; a new part of the same value.", p.Name), p.Name, keys)
}
