package propose

import (
	"fmt"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
)

// builder makes steps, with names that the set does not use yet.
type builder struct {
	set   *netlist.Set
	doc   *netlist.Document
	names map[string]bool
	steps []plan.Step
}

func newBuilder(set *netlist.Set) *builder {
	b := &builder{set: set, doc: set.Document(), names: map[string]bool{}}
	for _, n := range set.Nodes {
		b.names[n.Name] = true
	}
	return b
}

// node is a new point of that name, or the first of NAME 2, NAME 3 … that is free.
func (b *builder) node(name string) string {
	free := name
	for n := 2; b.names[free]; n++ {
		free = fmt.Sprintf("%s %d", name, n)
	}
	b.names[free] = true
	return free
}

// name is a new part name.
func (b *builder) name(prefix string) string {
	name := b.doc.FreeName(prefix)
	b.doc.Fit(netlist.WrittenPart{Name: name, Keys: netlist.Keys()})
	return name
}

func (b *builder) add(why string, s plan.Step) {
	s.Why, s.Number = why, len(b.steps)+1
	b.steps = append(b.steps, s)
}

func (b *builder) fit(why, part string, as *netlist.Table) {
	b.add(why, plan.Step{Do: "fit", Part: part, As: as})
}

func (b *builder) replace(why, part string, as *netlist.Table) {
	b.add(why, plan.Step{Do: "replace", Part: part, As: as})
}

func (b *builder) change(why, part string, as *netlist.Table) {
	b.add(why, plan.Step{Do: "change", Part: part, As: as})
}

func (b *builder) remove(why, part string) {
	b.add(why, plan.Step{Do: "remove", Part: part})
}

// move takes one terminal of a part to another point.
func (b *builder) move(why string, part *netlist.Part, t netlist.Terminal, to string) {
	s := plan.Step{Do: "move", Part: part.Name, From: t.Node, To: to}
	on := 0
	for _, other := range part.Terminals {
		if other.Node == t.Node {
			on++
		}
	}
	if on > 1 {
		s.Terminal = t.Name
	}
	b.add(why, s)
}

// safetyCapacitor are the keys of a class-Y capacitor.
func safetyCapacitor(a, b, value, class string) *netlist.Table {
	return netlist.Keys("kind", "capacitor", "ends", []string{a, b}, "value", value, "rating", "250 V AC", "class", class, "type", "ceramic")
}

func wire(a, b string) *netlist.Table { return netlist.Keys("kind", "wire", "ends", []string{a, b}) }
