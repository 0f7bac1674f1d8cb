package rework

import (
	"fmt"
	"slices"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
)

// measure is what an edit rests on. Plans that rest on different measures differ in kind.
type measure int

// The measures, the one that stands for a plan first.
const (
	isolating measure = iota // an isolating transformer
	earthing                 // the chassis on the earth contact of a grounding cord
	guarding                 // guards
	bridging                 // class-Y capacitors, and B-minus off the chassis
	renewing                 // parts renewed or taken out
	switching                // fuse and switch
)

// measureWords tell a plan's kind.
var measureWords = map[measure]string{
	isolating: "an isolating transformer", earthing: "a grounding cord, the chassis earthed", guarding: "guards",
	bridging: "class Y capacitors", renewing: "parts renewed or taken out", switching: "fuse and switch",
}

// Edit is one thing that trade practice does to a set: a few steps that belong together. It is the
// unit in which plans are counted.
type Edit struct {
	key     string
	measure measure
	// rank is the order in which the edits of a plan are carried out: from the set's inside to the
	// outlet.
	rank int
	// effort compares plans of as many edits.
	effort int
	// part is the part that the edit is about, nodes are the points; whole edits bear on all metal.
	part  string
	nodes []string
	whole bool
	// steps gives the steps on the set as it stands then, nil where the edit does not fit it.
	steps func(set *netlist.Set) []plan.Step
}

// The ranks.
const (
	rankTransformer = iota
	rankLift
	rankCouple
	rankPart
	rankSwitch
	rankEarth
	rankGuard
)

// byRank orders edits as a plan carries them out.
func byRank(a, b *Edit) int {
	switch {
	case a.rank != b.rank:
		return a.rank - b.rank
	case a.key < b.key:
		return -1
	case a.key > b.key:
		return 1
	}
	return 0
}

// clash tells whether two edits cannot stand in one plan: both are about one part, or both put a
// switch in.
func clash(a, b *Edit) bool {
	if a.key == b.key || a.part != "" && a.part == b.part {
		return true
	}
	one := []int{rankTransformer, rankSwitch, rankEarth}
	return a.rank == b.rank && (slices.Contains(one, a.rank) || a.rank == rankLift || a.rank == rankCouple && a.nodes[0] == b.nodes[0])
}

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
