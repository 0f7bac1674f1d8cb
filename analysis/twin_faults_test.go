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
	pole    int
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
	loose bool // no one knows where it conducts: a frame, a winding
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
					for _, end := range []string{w.Start, w.End} {
						all = append(all, weakSpot{InsulationOut, [2]string{v.Start, end}, costOfGrade(d.Insulation), true, true})
					}
				}
			}
		}
	case *netlist.Tube:
		all = weakSpotsOfTube(d)
	}
	if p.Frame != "" {
		for _, terminal := range p.Terminals {
			all = append(all, weakSpot{InsulationOut, [2]string{terminal.Node, p.Frame}, costOfGrade(p.FrameInsulation), true, true})
		}
	}
	return slices.DeleteFunc(all, func(x weakSpot) bool { return x.ends[0] == x.ends[1] })
}

func weakSpotsOfTube(d *netlist.Tube) []weakSpot {
	var all []weakSpot
	wired := sectionsOf(d)
	for _, s := range wired {
		all = append(all, weakSpot{Shorted, [2]string{d.Node(s.Anode), d.Node(s.Cathode)}, 1, len(wired) > 1, false})
	}
	var cathodes []string
	for _, pin := range d.Type.Cathodes {
		if n := d.Node(pin); n != "" {
			cathodes = append(cathodes, n)
		}
	}
	if h := d.Type.Heater; h != nil {
		first := d.Node(h.Pins[0])
		if first == "" {
			first = d.Node(h.Pins[1])
		}
		for _, c := range cathodes {
			if first != "" {
				all = append(all, weakSpot{HeaterCathode, [2]string{first, c}, 1, len(cathodes) > 1, false})
			}
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
		case *netlist.Wire:
			if slices.Contains(d.Ends[:], netlist.BuildingEarth) {
				own(EarthLost)
			}
		case *netlist.Resistor, *netlist.Potentiometer, *netlist.Coil, *netlist.Motor, *netlist.Lamp, *netlist.Fuse:
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
	add(twinFault{part: SupplyName, kind: NeutralLost, cost: 1})
	if w.plug.Earth != "" {
		add(twinFault{part: SupplyName, kind: EarthLost, cost: 1})
	}
	return all
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
		}
	}
	return false
}

// TestFaultList: the faults of a random set, their order, costs and nodes, as the twin lists them.
func TestFaultList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := settest.Draw(t, settest.Limits{Parts: [2]int{4, 20}, Controls: 2, Sections: 3, Failed: true}).Text()
		set := settest.Load(t, text)
		type line struct {
			Part    string
			Kind    FaultKind
			Between []string
			Cost    int
			Nodes   [2]string
		}
		var got, want []line
		for _, f := range newCircuit(t, set, Bench{}).Faults {
			got = append(got, line{f.Part, f.Kind, f.Between, f.Cost, f.Nodes})
		}
		for _, f := range newTwin(set, Bench{}).faults() {
			want = append(want, line{f.part, f.kind, f.between, f.cost, f.short})
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("faults (-twin +circuit):\n%s\n%s", diff, text)
		}
	})
}
