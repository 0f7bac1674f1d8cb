package analysis

import (
	"slices"
	"strconv"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

func itoa(n int) string { return strconv.Itoa(n) }

// twinFault is a fault as the twin lists it from the set as it was read.
type twinFault struct {
	part    string
	kind    FaultKind
	between []string
	cost    int
	short   [2]string // what it joins
	pole    int       // of a stuck pole, or of a stuck deck
	throw   int       // of a stuck deck: the position whose throw it stays on
	deck    bool
}

func sectionsOf(d *netlist.Tube) []netlist.Section {
	var wired []netlist.Section
	for _, s := range d.Type.Rectifiers {
		if d.Node(s.Anode) != "" && d.Node(s.Cathode) != "" {
			wired = append(wired, s)
		}
	}
	return wired
}

// weakSpot is a place of a part where something that should not conduct may.
type weakSpot struct {
	kind  FaultKind
	ends  [2]string
	cost  int
	named bool // it names its nodes: one of several, a frame, a winding
	loose bool // no one knows where it conducts: a frame, a winding, a tube
}

func costOfGrade(g netlist.Grade) int {
	return map[netlist.Grade]int{netlist.Functional: 0, netlist.Basic: 1, netlist.Supplementary: 1, netlist.Double: 2, netlist.Reinforced: 2}[g]
}

// weakSpots lists the insulation of a part, whatever its condition.
func weakSpots(p *netlist.Part) []weakSpot {
	var all []weakSpot
	switch d := p.Detail.(type) {
	case *netlist.Resistor:
		ohms := d.Ohms
		if d.Measured > 0 {
			ohms = d.Measured
		}
		if ohms >= 10000 {
			all = append(all, weakSpot{Shorted, d.Ends, 1, false, false})
		}
	case *netlist.Potentiometer:
		if d.Ohms >= 10000 {
			all = append(all, weakSpot{Shorted, d.Ends, 1, false, false})
		}
	case *netlist.Thermistor:
		if d.Hot >= 10000 {
			all = append(all, weakSpot{Shorted, d.Ends, 1, false, false})
		}
	case *netlist.Capacitor:
		cost := 1
		if slices.Contains([]string{"Y1", "X1/Y1", "X2/Y1"}, d.Class) {
			cost = 2
		}
		all = append(all, weakSpot{Shorted, d.Ends, cost, false, false})
	case *netlist.Rectifier:
		all = append(all, weakSpot{Shorted, [2]string{d.Anode, d.Cathode}, 1, false, false})
	case *netlist.Insulation:
		all = append(all, weakSpot{InsulationOut, d.Ends, costOfGrade(d.Grade), false, false})
	case *netlist.Transformer:
		for i, v := range d.Windings {
			for j, w := range d.Windings[i+1:] {
				if !wound(d.Windings, i, i+1+j) {
					for _, one := range []string{v.Start, v.End} {
						for _, other := range []string{w.Start, w.End} {
							all = append(all, weakSpot{InsulationOut, [2]string{one, other}, costOfGrade(d.Insulation), true, true})
						}
					}
				}
			}
		}
	case *netlist.Tube:
		all = tubeSpots(d)
	}
	if p.Frame != "" {
		for _, terminal := range p.Terminals {
			all = append(all, weakSpot{InsulationOut, [2]string{terminal.Node, p.Frame}, costOfGrade(p.FrameInsulation), true, true})
		}
	}
	return slices.DeleteFunc(all, func(x weakSpot) bool { return x.ends[0] == x.ends[1] })
}

// tubeSpots lists those of a tube.
func tubeSpots(d *netlist.Tube) []weakSpot {
	var all []weakSpot
	wired := sectionsOf(d)
	for _, s := range wired {
		all = append(all, weakSpot{Shorted, [2]string{d.Node(s.Anode), d.Node(s.Cathode)}, 1, len(wired) > 1, true})
	}
	var cathodes []string
	for _, pin := range d.Type.Cathodes {
		if n := d.Node(pin); n != "" {
			cathodes = append(cathodes, n)
		}
	}
	var fed []string
	if h := d.Type.Heater; h != nil {
		for _, pin := range h.Pins {
			if n := d.Node(pin); n != "" {
				fed = append(fed, n)
			}
		}
	}
	for _, c := range cathodes {
		for _, h := range fed {
			all = append(all, weakSpot{HeaterCathode, [2]string{h, c}, 1, len(cathodes)*len(fed) > 1, true})
		}
	}
	return all
}

// wound reports whether two windings are joined by nodes that they name, directly or through others.
func wound(windings []netlist.Winding, i, j int) bool {
	reached := map[string]bool{windings[i].Start: true, windings[i].End: true}
	for range windings {
		for _, w := range windings {
			if reached[w.Start] || reached[w.End] {
				reached[w.Start], reached[w.End] = true, true
			}
		}
	}
	return reached[windings[j].Start]
}

// failedShorts are the shorts that a failed part has in every state.
func failedShorts(p *netlist.Part) [][2]string {
	var shorts [][2]string
	for _, x := range weakSpots(p) {
		if !x.loose {
			shorts = append(shorts, x.ends)
		}
	}
	return shorts
}

// faults lists every fault in the order of the file.
func (w *twin) faults() []twinFault {
	var all []twinFault
	add := func(f twinFault) {
		for i, g := range all {
			same := g.short == f.short || g.short == [2]string{f.short[1], f.short[0]}
			if g.part == f.part && g.kind == f.kind && g.pole == f.pole && same {
				all[i].cost = min(g.cost, f.cost)
				return
			}
		}
		all = append(all, f)
	}
	for _, p := range w.set.Parts {
		faultsOf(p, add)
	}
	if w.bench.Isolated || w.set.Earthed == "neutral" {
		add(twinFault{part: SupplyName, kind: NeutralLost, cost: 1})
	} else { // both legs are hot: each side is open in turn
		for k, blade := range []string{w.plug.Hot, w.plug.Neutral} {
			add(twinFault{part: SupplyName, kind: NeutralLost, cost: 1, between: []string{blade}, pole: k})
		}
	}
	if w.plug.Earth != "" {
		add(twinFault{part: SupplyName, kind: EarthLost, cost: 1})
	}
	return all
}

// faultsOf adds those of a part.
func faultsOf(p *netlist.Part, add func(twinFault)) {
	own := func(kind FaultKind) { add(twinFault{part: p.Name, kind: kind, cost: 1}) }
	breaks := func(kinds ...FaultKind) {
		for _, x := range weakSpots(p) {
			if !slices.Contains(kinds, x.kind) || p.Condition == netlist.Failed && !x.loose {
				continue
			}
			f := twinFault{part: p.Name, kind: x.kind, cost: x.cost, short: x.ends}
			if x.named {
				f.between = x.ends[:]
			}
			if p.Condition != netlist.Good {
				f.cost = 0
			}
			add(f)
		}
	}
	switch d := p.Detail.(type) {
	case *netlist.Switch:
		for k, ends := range d.Poles {
			if len(d.Poles) > 1 {
				add(twinFault{part: p.Name, kind: Stuck, cost: 1, between: ends[:], short: ends, pole: k})
			}
		}
	case *netlist.Selector:
		for k, deck := range d.Decks {
			for throw, n := range deck.Throws {
				if len(d.Decks) > 1 && n != "" && n != deck.Common && d.Positions[throw] != d.Fixed {
					ends := [2]string{deck.Common, n}
					add(twinFault{part: p.Name, kind: Stuck, cost: 1, between: ends[:], short: ends, pole: k, throw: throw, deck: true})
				}
			}
		}
	case *netlist.Wire:
		if slices.Contains(d.Ends[:], netlist.BuildingEarth) {
			own(EarthLost)
		}
	case *netlist.Resistor, *netlist.Potentiometer, *netlist.Thermistor, *netlist.Coil, *netlist.Motor, *netlist.Lamp, *netlist.Fuse:
		own(Open)
	}
	if p.Kind == netlist.KindTube {
		breaks(Shorted, HeaterCathode)
		own(Pulled)
		breaks(InsulationOut)
	} else {
		breaks(Shorted, InsulationOut)
	}
}

// clash reports whether a set of faults contradicts itself.
func clash(faults []twinFault) bool {
	for i, f := range faults {
		for _, g := range faults[i+1:] {
			if f.part != g.part {
				continue
			}
			kinds := []FaultKind{f.kind, g.kind}
			if slices.Contains(kinds, Pulled) || slices.Contains(kinds, Open) && slices.Contains(kinds, Shorted) {
				return true
			}
			if f.deck && g.deck && f.pole == g.pole { // one deck on two throws
				return true
			}
		}
	}
	return false
}

// TestFaultList: the faults of a random set, their order, costs and nodes, as the twin lists them.
func TestFaultList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := settest.Draw(t, settest.Limits{Parts: [2]int{4, 20}, Switches: 2, Controls: 1, Sections: 3, Failed: true}).Text()
		set := settest.Load(t, text)
		type line struct {
			Part    string
			Kind    FaultKind
			Between []string
			Cost    int
			Nodes   [2]string
		}
		var got, want []line
		bench := drawBench(t, set)
		for _, f := range newCircuit(t, set, bench).Faults {
			got = append(got, line{f.Part, f.Kind, f.Between, f.Cost, f.Nodes})
		}
		for _, f := range newTwin(set, bench).faults() {
			want = append(want, line{f.part, f.kind, f.between, f.cost, f.short})
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("faults (-twin +circuit):\n%s\n%s", diff, text)
		}
	})
}
