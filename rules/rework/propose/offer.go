package propose

import (
	"fmt"
	"slices"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
)

// Offer is one thing that a bench can do to a part or a point, whether it cures anything or not: steps of a plan.
type Offer struct {
	Words string
	Steps []plan.Step
}

// offers gathers them.
type offers struct {
	set   *netlist.Set
	words string // of the next one, "" where its steps tell it
	all   []Offer
}

// add adds what changes the set, and leaves one.
func (o *offers) add(steps []plan.Step) {
	for i := range steps {
		steps[i].Number = i + 1
	}
	words := o.words
	o.words = ""
	after, err := (&plan.Plan{Steps: steps}).ApplyAll(o.set)
	if err != nil || len(steps) == 0 {
		return
	}
	if words == "" {
		words = rules.StepsInWords(after, steps)
	}
	o.all = append(o.all, Offer{words, steps})
}

// build adds what a builder makes.
func (o *offers) build(make func(b *builder)) {
	b := newBuilder(o.set)
	make(b)
	o.add(b.steps)
}

func (o *offers) remedy(r *remedy) {
	if r.words != nil {
		o.words = r.words(o.set)
	}
	o.add(r.steps(o.set))
}

// OffersFor lists what can be done to a part: what trade practice does to one like it, a new one of its own value,
// taken out, put into doubt; and where a point is named, each of its ends moved there.
func OffersFor(set *netlist.Set, part, to string) []Offer {
	p := set.Part(part)
	if p == nil {
		return nil
	}
	o := &offers{set: set}
	if to != "" {
		for _, t := range p.Terminals {
			if t.Node != to {
				o.build(func(b *builder) { b.move("", p, t, to) })
			}
		}
		return o.all
	}
	s := newSearch(set, 1)
	remedies := s.partRemedies(set, part)
	if d, ok := p.Detail.(*netlist.Capacitor); ok && d.Type != "electrolytic" && !tuned(d) && rules.WindingCapacitance(set, p) == "" {
		remedies = append(remedies, partRemedy(part, "Y2", bridging, 2, func(b *builder, p *netlist.Part) { safety(b, p, "Y2") }))
	}
	renewed, out := false, false
	for _, r := range remedies {
		o.remedy(r)
		renewed, out = renewed || r.key == part+" renewed", out || r.key == part+" out"
	}
	if !renewed && p.Kind != netlist.KindPlug {
		o.build(func(b *builder) {
			renew(b, p)
			b.steps[0].Why = fmt.Sprintf("A new %s of the same value.", part)
		})
	}
	if !out {
		o.build(func(b *builder) { b.remove("", part) })
	}
	if p.Condition == netlist.Good {
		o.build(func(b *builder) {
			o.words = fmt.Sprintf("put %s into doubt", part)
			b.change(fmt.Sprintf("No one vouches for %s until it is measured.", part), part, netlist.Keys("condition", string(netlist.Suspect)))
		})
	}
	return o.all
}

// OffersAt lists what can be done at a point: a guard, a coupling, B-minus taken off the metal; and where a second
// point is named, what can be fitted between the two.
func OffersAt(set *netlist.Set, node, to string) []Offer {
	n := set.Node(node)
	if n == nil {
		return nil
	}
	o := &offers{set: set}
	if to == "" {
		for _, r := range metalRemedies(set, []string{node}) {
			if r.rank == rankGuard {
				o.words = "fit a guard on " + netlist.Visible(node)
			}
			o.remedy(r)
		}
		if n.Touch != "" && !netlist.Coupled(n.Touch) {
			o.remedy(liftBMinus(node, false))
			o.remedy(liftBMinus(node, true))
		}
		return o.all
	}
	if to == node || set.Node(to) == nil && to != netlist.BuildingEarth {
		return nil
	}
	o.between(node, to)
	return o.all
}

// between fits parts between two points.
func (o *offers) between(a, z string) {
	_, value := safetyValue(o.set)
	o.build(func(b *builder) { b.fit("", b.name("W"), wire(a, z)) })
	o.build(func(b *builder) {
		b.fit("Class Y1 stands for double insulation; this value keeps the current through it under 0.5 mA.", b.name("C"), safetyCapacitor(a, z, value, "Y1"))
	})
	o.build(func(b *builder) {
		middle := b.node("Y2 middle")
		b.fit("Two of class Y2 in series, alike: if one shorts, the other still stands between.", b.name("C"), safetyCapacitor(a, middle, value, "Y2"))
		b.fit("The second of the two.", b.name("C"), safetyCapacitor(middle, z, value, "Y2"))
	})
	o.build(func(b *builder) {
		b.fit("Across the line belongs a part of class X2, made for it.", b.name("C"),
			netlist.Keys("kind", "capacitor", "ends", []string{a, z}, "value", "0.1 uF", "rating", "275 V AC", "class", "X2", "type", "film"))
	})
	o.build(func(b *builder) {
		middle := b.node("pair middle")
		keys := func(from, to string) *netlist.Table {
			return netlist.Keys("kind", "resistor", "ends", []string{from, to}, "value", bridgeOhmsText, "tolerance", "5 %", "watts", 0.5)
		}
		b.fit("Protective impedance is two parts at least, each of which alone keeps the current down.", b.name("R"), keys(a, middle))
		b.fit("The second of the two.", b.name("R"), keys(middle, z))
	})
	if !slices.ContainsFunc(o.set.TouchPoints(), func(n *netlist.Node) bool { return n.Name == a || n.Name == z }) {
		draws := newSearch(o.set, 1)
		o.build(func(b *builder) {
			b.fit("", b.name("F"), netlist.Keys("kind", "fuse", "ends", []string{a, z}, "amps", draws.amps))
		})
	}
}
