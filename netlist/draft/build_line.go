package draft

import (
	"fmt"

	"coldcheck/netlist"
)

// leg is one side of the cord: its nodes from the plug inward.
type leg struct {
	chain
	nodes []string
}

// legOf names the nodes of a leg. The last is the end of it where that has a name of its own.
func legOf(number int, c chain, end string) leg {
	l := leg{chain: c, nodes: []string{fmt.Sprintf("line %d", number)}}
	for _, what := range c.through {
		word := "switched"
		if what == fuse {
			word = "fused"
		}
		l.nodes = append(l.nodes, fmt.Sprintf("line %d %s", number, word))
	}
	if end != "" {
		l.nodes[len(l.nodes)-1] = end
	}
	return l
}

func (l leg) first() string { return l.nodes[0] }
func (l leg) last() string  { return l.nodes[len(l.nodes)-1] }

// legs are the two sides of the cord, with switch and fuse where they were said or are assumed.
func (s answers) legs() [2]leg {
	finish := s.ends()
	var legs [2]leg
	for i, key := range []string{"blade-1", "blade-2"} {
		c := s.chainOf(key)
		if !s.chainHas(fuse) && s.is("fuse", key) {
			c.through = append([]string{fuse}, c.through...)
		}
		if !s.chainHas(switchW) && s.switchLeg() == key {
			c.through = append(c.through, switchW)
		}
		end := ""
		if finish[i] == bMinus || finish[i] == chassis {
			end = finish[i]
		}
		legs[i] = legOf(i+1, c, end)
		if legs[i].first() == chassis && s.earthPin() { // the earth pin and a blade on one point: a wire is between
			legs[i].nodes = []string{fmt.Sprintf("line %d", i+1), chassis}
		}
	}
	return legs
}

// earthPin reports whether the plug has an earth pin that is joined to the chassis.
func (s answers) earthPin() bool { return s.is("plug", grounding) && s.is("plug-earth", chassis) }

// switchLeg is the leg of a switch that no chain names, "" where there is none. Where it is not known it is the
// leg of B-minus: then the metal hangs on the line in most states.
func (s answers) switchLeg() string {
	if where, ok := s.known("switch"); ok {
		if where == none {
			return ""
		}
		return where
	}
	if finish := s.ends(); finish[0] == bMinus || finish[0] == chassis {
		return "blade-1"
	}
	return "blade-2"
}

// cord is the plug and what stands in its two legs.
func (b *builder) cord() {
	legs := b.s.legs()
	b.line, b.back, b.top = legs[0].first(), legs[1].first(), legs[0].last()
	if finish := b.s.ends(); finish[0] == bMinus || finish[0] == chassis {
		b.top = legs[1].last()
	}
	b.far = legs[1].last()
	b.group("The line side, in the order of the cord.")
	b.note("name")
	b.note("mains")
	b.note("earthed")
	b.plug()
	for _, l := range legs {
		if len(l.through) == 0 && l.first() != l.last() {
			b.between(netlist.KindWire, nil, l.first(), l.last())
		}
	}
	b.fuses(legs)
	b.theSwitch(legs)
	if !b.s.is("across-line", none) {
		b.assume("across-line")
		b.between(netlist.KindCapacitor, b.keysOr("across-line", netlist.KindCapacitor, netlist.Keys("value", "0.05 uF", "type", "paper")), b.line, b.back, "note", "across the cord")
	}
}

func (b *builder) plug() {
	style := b.s.or("plug", plain)
	keys := netlist.Keys("style", style, "hot", b.line, "neutral", b.back)
	b.assume("plug", "plug-earth", "blade-1", "blade-2", "entry")
	b.doubtful = false // it has no insulation to doubt
	if style == grounding {
		if b.s.earthPin() {
			keys.Entries = append(keys.Entries, netlist.Keys("earth", chassis).Entries...)
		} else {
			keys = netlist.Keys("style", polarized, "hot", b.line, "neutral", b.back, "note", "has an earth pin, which is joined to nothing")
		}
	}
	b.doc.Parts = append(b.doc.Parts, b.written("PL1", netlist.KindPlug, keys))
}

func (b *builder) fuses(legs [2]leg) {
	b.note("fuse")
	for _, l := range legs {
		for i, what := range l.through {
			if what == fuse {
				b.assume("fuse-amps")
				b.between(netlist.KindFuse, b.keysOr("fuse-amps", netlist.KindFuse, nil), l.nodes[i], l.nodes[i+1])
			}
		}
	}
}

func (b *builder) theSwitch(legs [2]leg) {
	var poles [][]string
	for _, l := range legs {
		for i, what := range l.through {
			if what == switchW {
				poles = append(poles, ends(l.nodes[i], l.nodes[i+1]))
			}
		}
	}
	if len(poles) == 0 {
		return
	}
	keys := netlist.Keys("ends", poles[0])
	if len(poles) > 1 {
		keys = netlist.Keys("poles", poles)
	}
	b.assume("switch", "switch-on")
	frame := b.s.shaftNode()
	if frame == "" && !b.s.is("switch-on", "plastic") {
		frame = chassis
	}
	if frame != "" && frame != poles[0][0] && frame != poles[0][1] && frame != poles[len(poles)-1][0] && frame != poles[len(poles)-1][1] {
		keys.Entries = append(keys.Entries, netlist.Keys("frame", frame).Entries...)
	}
	b.part("S", netlist.KindSwitch, keys)
}
