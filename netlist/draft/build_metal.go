package draft

import (
	"slices"

	"coldcheck/netlist"
)

// barrier is what joins B-minus and the chassis.
func (b *builder) barrier() {
	if !b.s.hasBarrier() {
		return
	}
	b.group("What stands between B-minus and the chassis.")
	b.assume("b-minus")
	switch b.s.or("b-minus", byWire) {
	case nothing:
		b.between(netlist.KindInsulation, nil, bMinus, chassis, "grade", string(netlist.Basic), "note", "whatever keeps the two apart")
	case byWire:
		b.between(netlist.KindWire, nil, bMinus, chassis)
	case byCapacitr:
		b.barrierCapacitor()
	case byResistor:
		b.barrierResistor()
	case byBoth:
		b.barrierCapacitor()
		b.barrierResistor()
	}
}

func (b *builder) barrierCapacitor() {
	b.assume("b-minus-capacitor")
	b.between(netlist.KindCapacitor, b.keysOr("b-minus-capacitor", netlist.KindCapacitor, netlist.Keys("value", "0.25 uF", "type", "paper")), bMinus, chassis)
}

func (b *builder) barrierResistor() {
	b.assume("b-minus-resistor")
	b.between(netlist.KindResistor, b.keysOr("b-minus-resistor", netlist.KindResistor, netlist.Keys("value", "100k")), bMinus, chassis)
}

// touch declares a point that a hand can reach.
func (b *builder) touch(name string, pairs ...any) {
	b.nodes.Entries = append(b.nodes.Entries, netlist.Keys(name, netlist.Keys(pairs...)).Entries...)
}

// metal is what can be touched, and what joins it to the chassis.
func (b *builder) metal() {
	loose := items(b.s.or("loose", none))
	b.note("metal")
	b.note("loose")
	b.group("Metal on the chassis.")
	for _, p := range b.s.pieces() {
		pairs := []any{"touch", p.touch}
		if p.guard != "" {
			pairs = append(pairs, "guard", p.guard, "guard_condition", string(guardIs(p)))
		}
		if p.unsaid {
			pairs = append(pairs, "note", "not among the metal that was said")
		}
		b.touch(p.name, pairs...)
		switch {
		case p.name == chassis:
		case slices.Contains(loose, p.name):
			b.between(netlist.KindInsulation, nil, chassis, p.name, "grade", string(netlist.Basic))
		default:
			b.between(netlist.KindWire, nil, chassis, p.name)
		}
	}
	b.heading = ""
}

// guardIs is what to believe of a guard: one that was said was looked at.
func guardIs(p piece) netlist.Condition {
	if p.unsaid {
		return netlist.Suspect
	}
	return netlist.Good
}

// outside is a terminal for a wire from outside: an antenna, an earth.
func (b *builder) outside(key, node string) {
	text, ok := b.s.known(key)
	if ok && text == none {
		return
	}
	b.group("Behind the " + node + ".")
	to := b.s.minus()
	if !b.s.hasBarrier() {
		to = chassis
	}
	if b.s.is(key+"-to", chassis) {
		to = chassis
	}
	b.touch(node, "touch", key)
	b.assume(key)
	kind, rest := kindFirst(text)
	switch {
	case !ok:
		b.between(netlist.KindWire, nil, node, to) // any part less would hide what a wire shows
		return
	case kind == netlist.KindWire:
		b.assume(key + "-to")
		b.between(kind, nil, node, to)
		return
	case kind == netlist.KindCoil && rest == "":
		b.assume(key + "-to")
		b.between(kind, nil, node, to, "ohms", number(1), "note", "its ohms are a guess")
		return
	}
	keys, _ := fields(kind, rest)
	b.assume(key + "-to")
	b.between(kind, keys, node, to)
}

// others are the parts that were said beside all that was asked after.
func (b *builder) others() {
	text, ok := b.s.known("else")
	if ok && text == none {
		return
	}
	b.group("What else was found.")
	if !ok {
		b.assume("else")
		b.between(netlist.KindInsulation, nil, b.top, chassis, "grade", string(netlist.Basic))
		return
	}
	list, err := othersOf(text, b.s.points())
	if err != nil {
		return
	}
	for _, o := range list {
		b.between(o.kind, o.keys, o.ends[0], o.ends[1])
	}
	b.heading = ""
}
