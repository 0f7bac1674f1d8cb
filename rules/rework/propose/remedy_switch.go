package propose

import (
	"fmt"
	"slices"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
)

// polarizedVolts is the mains up to which polarized plugs are made (NEMA 1-15).
const polarizedVolts = 150

// switchInHot puts a fuse and then the switch into the hot line conductor ahead of everything, on a plug whose
// blades are told apart, with the neutral straight to B-minus.
func switchInHot(amps float64) *remedy {
	return &remedy{key: "switch in the hot leg", measure: switching, rank: rankSwitch, effort: 4, whole: true, words: func(*netlist.Set) string {
		return "put fuse, then switch, into the hot leg ahead of every load, on a plug whose blades are told apart"
	}, steps: func(set *netlist.Set) []plan.Step {
		plugPart, plug := set.Plug()
		if plug.Style == "plain" && set.Volts > polarizedVolts {
			return nil
		}
		hot, neutral := orient(set)
		b := newBuilder(set)
		old, ok := b.clearConductors(hot, neutral)
		if !ok {
			return nil
		}
		line, keys := hot, netlist.Keys()
		if old.kept[0] == "" {
			line = b.node("line hot")
		}
		why := "The narrow blade is hot. Its lead goes to the fuse and nowhere else; the wide blade's goes straight on."
		if plug.Style == "plain" {
			keys = netlist.Keys("style", "polarized")
			why = "A polarized plug says which blade is hot. Its lead goes to the fuse and nowhere else; the wide blade's goes straight on."
		}
		if plug.Style == "plain" || line != plug.Hot || neutral != plug.Neutral {
			keys.Entries = append(keys.Entries, netlist.Keys("hot", line, "neutral", neutral).Entries...)
			b.change(why, plugPart.Name, keys)
		}
		fused, on := b.fuseFirst(&old, 0, line, hot, amps)
		b.fitSwitch(old.switched, netlist.Keys("kind", "switch", "ends", []string{fused, on}),
			"The switch next, ahead of every load: off, all that follows is dead. A new one of plastic, so that no line comes to a shaft that is touched.")
		return b.steps
	}}
}

// switchInBoth puts a switch of two poles into both line conductors, and a fuse ahead of it into the hot
// one, or into both where both are hot.
func switchInBoth(amps float64) *remedy {
	return &remedy{key: "switch with two poles", measure: switching, rank: rankSwitch, effort: 5, whole: true, words: func(set *netlist.Set) string {
		if set.BothHot() {
			return "put a fuse into each leg and a two-pole switch behind them, ahead of every load"
		}
		return "put the fuse into the hot leg and a two-pole switch into both, ahead of every load"
	}, steps: func(set *netlist.Set) []plan.Step {
		plugPart, plug := set.Plug()
		hot, neutral := orient(set)
		b := newBuilder(set)
		old, ok := b.clearConductors(hot, neutral)
		if !ok {
			return nil
		}
		line, other := b.legs()
		if old.kept[0] != "" {
			line = hot
		}
		if old.kept[1] != "" {
			other = neutral
		}
		if line != plug.Hot || other != plug.Neutral {
			b.change("Both leads of the cord go to the fuse and the switch and nowhere else.", plugPart.Name, netlist.Keys("hot", line, "neutral", other))
		}
		fused, on := b.fuseFirst(&old, 0, line, hot, amps)
		ahead, back := other, neutral
		if set.BothHot() {
			ahead, back = b.fuseFirst(&old, 1, other, neutral, amps)
		}
		b.fitSwitch(old.switched, netlist.Keys("kind", "switch", "poles", [][]string{{fused, on}, {ahead, back}}),
			"Two poles open both legs: off, the set is off the line either way of the plug. A new one of plastic, so that no line comes to a shaft that is touched.")
		return b.steps
	}}
}

// legs are two new points for the leads of the cord.
func (b *builder) legs() (line, other string) {
	if b.set.BothHot() {
		return b.node("leg 1"), b.node("leg 2")
	}
	return b.node("line hot"), b.node("line neutral")
}

// oldLine is what is there already of fuse and switch.
type oldLine struct {
	switched string   // the switch of which the name is free for the new one, "" where none is
	fuses    []string // likewise the fuses
	// kept is the fuse that stands first in the hot conductor, where it belongs, "" where none does; and
	// that of the other, where both are hot.
	kept [2]string
}

// firstFuse is the fuse that hangs on a blade with nothing beside it, "" where none does.
func firstFuse(set *netlist.Set, blade string) string {
	plugPart, _ := set.Plug()
	fuse := ""
	for _, p := range set.Parts {
		for _, t := range p.Terminals {
			switch {
			case t.Node != blade || p == plugPart:
			case p.Kind != netlist.KindFuse || fuse != "":
				return ""
			default:
				fuse = p.Name
			}
		}
	}
	return fuse
}

// clearConductors takes the old fuses and switches out of both line conductors and joins what they
// parted, but for a fuse that stands first in the hot one. It gives what is there to be used again, and
// false where the conductors are not of a sort that it knows: a switch with both on one pole.
func (b *builder) clearConductors(hot, neutral string) (old oldLine, ok bool) {
	old.kept[0] = firstFuse(b.set, hot)
	if b.set.BothHot() {
		old.kept[1] = firstFuse(b.set, neutral)
	}
	either := onEitherBlade(b.set, hot, neutral)
	cleared := map[string]bool{}
	for _, blade := range [2][2]string{{hot, neutral}, {neutral, hot}} {
		from, other := blade[0], blade[1]
		conductor := conductorFrom(b.set, from)
		if conductor.nodes[other] {
			return oldLine{}, false
		}
		for _, name := range conductor.fuses {
			if !slices.Contains(old.kept[:], name) {
				b.bypassFuse(&old, name)
			}
		}
		for _, name := range conductor.switches {
			if !cleared[name] {
				cleared[name] = true
				b.bypassSwitch(&old, name, wiredOrFused(b.set, from), either)
			}
		}
	}
	return old, true
}

// bypassFuse joins what a fuse parts and keeps as many such fuses as are wanted for use again.
func (b *builder) bypassFuse(old *oldLine, name string) {
	where, enough, wanted := "in the hot leg", "One fuse, ahead of everything, is enough.", 1
	if b.set.BothHot() {
		where, enough, wanted = "in each leg", "One fuse in each leg, ahead of everything, is enough.", 2
	}
	for _, kept := range old.kept {
		if kept != "" {
			wanted--
		}
	}
	d := b.set.Part(name).Detail.(*netlist.Fuse)
	b.fit(fmt.Sprintf("The lead goes straight through beside %s: a fuse belongs ahead of the switch, %s.", name, where), b.name("W"), wire(d.Ends[0], d.Ends[1]))
	if len(old.fuses) < wanted {
		old.fuses = append(old.fuses, name)
	} else {
		b.remove(enough, name)
	}
}

// bypassSwitch joins what those poles of a switch part that are on a line conductor, and keeps the first
// such switch for use again, unless other poles of it stay at work.
func (b *builder) bypassSwitch(old *oldLine, name string, conductor, either map[string]bool) {
	var kept [][]string
	for _, pole := range b.set.Part(name).Detail.(*netlist.Switch).Poles {
		if linePole(b.set, pole, conductor) < 0 && linePole(b.set, pole, either) < 0 {
			kept = append(kept, pole[:])
			continue
		}
		b.fit("Where the old switch was, the lead goes straight through.", b.name("W"), wire(pole[0], pole[1]))
	}
	switch {
	case len(kept) > 0:
		b.change("Its other poles stay as they are.", name, netlist.Keys("poles", kept))
	case old.switched == "":
		old.switched = name
	default:
		b.remove("One switch for the line is enough.", name)
	}
}

// fuseFirst puts a fuse ahead of everything in a conductor, the hot one being the first, and gives the points
// between which the switch is to go: the fuse's far end, and what the conductor feeds. A fuse that stands
// there stays.
func (b *builder) fuseFirst(old *oldLine, conductor int, line, blade string, amps float64) (fused, on string) {
	kept := old.kept[conductor]
	if kept == "" {
		again := ""
		if len(old.fuses) > 0 {
			again, old.fuses = old.fuses[0], old.fuses[1:]
		}
		return b.fitFuse(again, line, amps), blade
	}
	p := b.set.Part(kept)
	far := p.Terminals[0]
	if far.Node == blade {
		far = p.Terminals[1]
	}
	where := "the hot leg"
	if b.set.BothHot() {
		where = "its leg"
	}
	fused = b.node("line fused")
	b.move(fmt.Sprintf("%s stays first in %s; its far end goes to the switch.", kept, where), p, far, fused)
	return fused, far.Node
}

// fitFuse puts a fuse in, in the place of an old one where there is one, and gives its far end.
func (b *builder) fitFuse(old, from string, amps float64) (fused string) {
	fused = b.node("line fused")
	keys := netlist.Keys("kind", "fuse", "ends", []string{from, fused}, "amps", amps)
	if old == "" {
		b.fit("The fuse first, so that a short in the switch's leads is covered.", b.name("F"), keys)
	} else {
		b.replace("The fuse comes first now, so that a short in the switch's leads is covered.", old, keys)
	}
	return fused
}

// fitSwitch puts the new switch in, under the name of the old one where that is free.
func (b *builder) fitSwitch(old string, keys *netlist.Table, why string) {
	if old == "" {
		b.fit(why, b.name("S"), keys)
		return
	}
	b.replace(why, old, keys)
}
