package propose

import (
	"fmt"
	"slices"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
)

// partRemedies are the remedies about one part.
func (s *search) partRemedies(set *netlist.Set, name string) []*remedy {
	p := set.Part(name)
	if p == nil {
		return nil
	}
	var all []*remedy
	switch d := p.Detail.(type) {
	case *netlist.Capacitor:
		all = s.capacitorRemedies(set, p, d)
	case *netlist.Resistor:
		if bleedsToMetal(set, d) { // else it is at work in the set, which plays no more without it
			all = append(all, partRemedy(name, "out", renewing, 1, func(b *builder, p *netlist.Part) {
				b.remove(fmt.Sprintf("%s is one part that can short between the line and metal that is touched.", p.Name), p.Name)
			}), partRemedy(name, "pair", bridging, 3, pairOfResistors))
		}
	case *netlist.Insulation:
		all = append(all, partRemedy(name, "double", renewing, 1, doubleInsulation))
	}
	if (p.Condition != netlist.Good || leaks(p)) && !onMetal(set, p) {
		all = append(all, partRemedy(name, "renewed", renewing, 1, renew))
	}
	return all
}

// partRemedy is a remedy about one part, which fits a set that has the part.
func partRemedy(name, what string, m measure, effort int, steps func(b *builder, p *netlist.Part)) *remedy {
	return &remedy{key: name + " " + what, measure: m, rank: rankPart, effort: effort, part: name,
		steps: func(set *netlist.Set) []plan.Step {
			p := set.Part(name)
			if p == nil {
				return nil
			}
			b := newBuilder(set)
			steps(b, p)
			return b.steps
		}}
}

// onMetal reports whether a capacitor has an end on metal that a hand can reach: there a new part of
// the same sort will not do, only one with a safety class.
func onMetal(set *netlist.Set, p *netlist.Part) bool {
	d, ok := p.Detail.(*netlist.Capacitor)
	if !ok || d.Class != "" {
		return false
	}
	for _, end := range d.Ends {
		for name := range wired(set, end) {
			if touched(set, name) {
				return true
			}
		}
	}
	return false
}

// bleedsToMetal reports whether a resistor has an end on metal that a hand can reach and that carries no
// working current, being on neither line conductor and on no winding of a line transformer: it then
// keeps a charge or a hum off that metal, and the set plays without it.
func bleedsToMetal(set *netlist.Set, d *netlist.Resistor) bool {
	_, plug := set.Plug()
	hot, neutral := conductorFrom(set, plug.Hot).nodes, conductorFrom(set, plug.Neutral).nodes
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

// leaks reports whether leakage of a capacitor is stated.
func leaks(p *netlist.Part) bool {
	d, ok := p.Detail.(*netlist.Capacitor)
	return ok && d.LeakOhms > 0
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

// doubleInsulation puts two layers in the place of one.
func doubleInsulation(b *builder, p *netlist.Part) {
	d := p.Detail.(*netlist.Insulation)
	b.replace("One layer is one failure. Two layers, each good for the line by itself, or reinforced insulation.", p.Name,
		netlist.Keys("kind", "insulation", "ends", d.Ends[:], "grade", "double"))
}

// renew puts a new part of the same sort in the place of one that is unverified.
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
