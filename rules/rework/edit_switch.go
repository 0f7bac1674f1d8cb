package rework

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// polarizedVolts is the mains up to which polarized plugs are made (NEMA 1-15).
const polarizedVolts = 150

// fuseAmps are usual fuse ratings, A; the first that is fuseMargin times the current of the heaters is
// taken, for the tubes draw theirs besides.
var fuseAmps = []float64{0.25, 0.5, 0.75, 1, 1.5, 2, 3, 5, 10, 15}

const fuseMargin = 3

// hotLegEdit puts a fuse and then the switch into the hot leg ahead of everything, on a plug whose
// blades are told apart, with the neutral straight to B-minus.
func hotLegEdit(amps float64) *Edit {
	return &Edit{key: "switch in the hot leg", measure: switching, rank: rankSwitch, effort: 4, whole: true, steps: func(set *netlist.Set) []netlist.Step {
		plugPart, plug := set.Plug()
		if plug.Style == "plain" && set.Volts > polarizedVolts {
			return nil
		}
		hot, neutral := orient(set)
		b := newBuilder(set)
		old, ok := b.clearLegs(hot, neutral)
		if !ok {
			return nil
		}
		line, fused := b.node("line hot"), b.node("line fused")
		keys := netlist.Keys("hot", line, "neutral", neutral)
		why := "The narrow blade is hot. Its lead goes to the fuse and nowhere else; the wide blade's goes straight on."
		if plug.Style == "plain" {
			keys = netlist.Keys("style", "polarized", "hot", line, "neutral", neutral)
			why = "A polarized plug says which blade is hot. Its lead goes to the fuse and nowhere else; the wide blade's goes straight on."
		}
		b.change(why, plugPart.Name, keys)
		b.fitFuse(line, fused, amps)
		b.fitSwitch(old, netlist.Keys("kind", "switch", "ends", []string{fused, hot}),
			"The switch next, ahead of every load: off, all that follows is dead. A new one of plastic, so that no line comes to a shaft that is touched.")
		return b.steps
	}}
}

// bothLegsEdit puts a fuse into the hot leg and a switch of two poles into both.
func bothLegsEdit(amps float64) *Edit {
	return &Edit{key: "switch with two poles", measure: switching, rank: rankSwitch, effort: 5, whole: true, steps: func(set *netlist.Set) []netlist.Step {
		plugPart, _ := set.Plug()
		hot, neutral := orient(set)
		b := newBuilder(set)
		old, ok := b.clearLegs(hot, neutral)
		if !ok {
			return nil
		}
		line, fused, other := b.node("line hot"), b.node("line fused"), b.node("line neutral")
		b.change("Both leads of the cord go to the fuse and the switch and nowhere else.", plugPart.Name, netlist.Keys("hot", line, "neutral", other))
		b.fitFuse(line, fused, amps)
		b.fitSwitch(old, netlist.Keys("kind", "switch", "poles", [][]string{{fused, hot}, {other, neutral}}),
			"Two poles open both legs: off, the set is off the line either way of the plug. A new one of plastic, so that no line comes to a shaft that is touched.")
		return b.steps
	}}
}

// clearLegs takes the old fuses and switches out of both legs and joins what they parted. It gives
// the name that the new switch takes over, "" where none is free, and false where the legs are not
// of a sort that it knows: a switch with both legs on one pole.
func (b *builder) clearLegs(hot, neutral string) (old string, ok bool) {
	var done []string
	for _, blade := range []string{hot, neutral} {
		l := lineLeg(b.set, blade)
		other := neutral
		if blade == neutral {
			other = hot
		}
		if l.nodes[other] {
			return "", false
		}
		for _, name := range l.fuses {
			d := b.set.Part(name).Detail.(*netlist.Fuse)
			b.remove("The fuse belongs ahead of the switch, in the hot leg.", name)
			b.fit("In its place a wire.", b.name("W"), wire(d.Ends[0], d.Ends[1]))
		}
		fused := wiredOrFused(b.set, blade)
		for _, name := range l.switches {
			if slices.Contains(done, name) {
				continue
			}
			done = append(done, name)
			d := b.set.Part(name).Detail.(*netlist.Switch)
			var kept [][]string
			both := lineLegs(b.set, hot, neutral)
			for _, pole := range d.Poles {
				if mainPole(b.set, pole, fused) < 0 && mainPole(b.set, pole, both) < 0 {
					kept = append(kept, pole[:])
					continue
				}
				b.fit("Where the old switch was, the lead goes straight through.", b.name("W"), wire(pole[0], pole[1]))
			}
			switch {
			case len(kept) > 0:
				b.change("Its other poles stay as they are.", name, netlist.Keys("poles", kept))
			case old == "":
				old = name
			default:
				b.remove("One switch for the line is enough.", name)
			}
		}
	}
	return old, true
}

// lineLegs are the points that wires and fuses join to either blade.
func lineLegs(set *netlist.Set, hot, neutral string) map[string]bool {
	group := wiredOrFused(set, hot)
	for n := range wiredOrFused(set, neutral) {
		group[n] = true
	}
	return group
}

func (b *builder) fitFuse(from, to string, amps float64) {
	b.fit("The fuse first, so that a short in the switch's leads is covered.", b.name("F"),
		netlist.Keys("kind", "fuse", "ends", []string{from, to}, "amps", amps))
}

// fitSwitch puts the new switch in, under the name of the old one where that is free.
func (b *builder) fitSwitch(old string, keys *netlist.Table, why string) {
	if old == "" {
		b.fit(why, b.name("S"), keys)
		return
	}
	b.replace(why, old, keys)
}

// fuseFor is the fuse rating that suits the set's current as it plays, A.
func fuseFor(c *analysis.Circuit) float64 {
	most := 0.0
	for _, state := range c.Normal() {
		if s := c.Solve(state); !s.Cleared {
			most = max(most, s.SupplyAmps())
		}
	}
	for _, a := range fuseAmps {
		if a >= fuseMargin*most {
			return a
		}
	}
	return fuseAmps[len(fuseAmps)-1]
}
