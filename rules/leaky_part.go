package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

const (
	leakLimit = 0.1 // mA, of the stated leakage
	gridLimit = 1.0 // V, by which a grid may be lifted: of the order of a tube's bias
)

// LeakyPart finds capacitors whose stated leakage matters.
var LeakyPart = &Rule{
	Name:    "leaky-part",
	Signal:  Warning,
	Signals: "WARNING",
	Looks:   "a capacitor whose stated leakage carries over 0.1 mA, or lifts a tube's grid by over 1 V",
	Why: "Leakage grows with heat and damp and ends as a short. Before a grid it makes the tube draw too much, which burns out the output " +
		"transformer and the rectifier; before metal that a hand can reach it is the line on its way out.",
	Blind:  "Leakage that the file does not state; what a meter of a few volts cannot show, often ten times more at working volts.",
	Source: "trade practice: a coupling or an isolating capacitor that leaks at all is replaced",
	Remedy: "Replace it: a film capacitor before a grid, class Y where it stands between line and metal, class X across the line.",
	Caution: "Measure leakage at working volts with a lead off, from a supply that limits its current. Discharge reservoirs before " +
		"soldering, and check again cold and hot.",
	Subject: OfPart,
	Stress:  true,
	Run: func(k *Facts) []Finding {
		var findings []Finding
		for p, c := range details[*netlist.Capacitor](k.Set) {
			if c.LeakOhms == 0 {
				continue
			}
			f := Finding{Signal: Warning, Parts: []string{p.Name}}
			var says []string
			if ma, at := k.mostLeak(c); ma > leakLimit {
				says = append(says, fmt.Sprintf("lets through %s", phrase.Milliamps(ma)))
				f.Worst = inState(at)
			}
			if tube, lift, at := k.mostLift(p, c); lift > gridLimit {
				says = append(says, fmt.Sprintf("lifts a grid of %s by %s", tube, phrase.Volts(lift)))
				if f.Worst == nil {
					f.Worst = inState(at)
				}
			}
			if len(says) > 0 {
				f.Message = fmt.Sprintf("%s, %s, leaks through %s: it %s", phrase.Capacitor(p.Name, c), phrase.Ends(c.Ends[0], c.Ends[1]),
					phrase.Value(c.LeakOhms, netlist.Ohm), phrase.List(says))
				findings = append(findings, f)
			}
		}
		return findings
	},
}

// mostLeak is the most that the leakage carries, AC and DC as one rms, in mA.
func (k *Facts) mostLeak(c *netlist.Capacitor) (float64, analysis.State) {
	return mostOf(k.judged, barely, func(s *analysis.Solution) float64 {
		ac, dc := s.Across(c.Ends[0], c.Ends[1])
		return 1e3 * math.Hypot(ac, dc) / c.LeakOhms
	})
}

// mostLift is the most by which the leakage lifts a grid against its tube's cathode: the DC with
// the leakage less the DC of the same set without it.
func (k *Facts) mostLift(p *netlist.Part, c *netlist.Capacitor) (tube string, most float64, at analysis.State) {
	grids := k.gridsAt(c)
	if len(grids) == 0 {
		return "", 0, at
	}
	sound, err := analysis.New(withoutLeakage(k.Set, p), k.Circuit.Bench)
	if err != nil {
		return "", 0, at
	}
	for _, s := range k.judged {
		clean := sound.Solve(s.State)
		for _, g := range grids {
			_, with := s.Across(g.node, g.cathode)
			_, without := clean.Across(g.node, g.cathode)
			if lift := with - without; lift > most*clearly {
				tube, most, at = g.tube, lift, s.State
			}
		}
	}
	return tube, most, at
}

type grid struct{ tube, node, cathode string }

// gridsAt lists the control grids that conductors join to an end of the capacitor.
func (k *Facts) gridsAt(c *netlist.Capacitor) []grid {
	var grids []grid
	for p, t := range details[*netlist.Tube](k.Set) {
		cathode := ""
		for _, pin := range t.Pins {
			text := t.Type.Elements[pin.Number]
			if slices.Contains(t.Type.Cathodes, pin.Number) || strings.Contains(text, "cathode") || strings.Contains(text, "filament minus") {
				cathode = pin.Node
				break
			}
		}
		if cathode == "" && t.Type.Heater != nil {
			cathode = t.Node(t.Type.Heater.Pins[0])
		}
		if cathode == "" {
			continue
		}
		for _, pin := range t.Pins {
			if isControlGrid(t.Type.Elements[pin.Number]) && (k.line.EverJoined(pin.Node, c.Ends[0]) || k.line.EverJoined(pin.Node, c.Ends[1])) {
				grids = append(grids, grid{p.Name, pin.Node, cathode})
			}
		}
	}
	return grids
}

func isControlGrid(element string) bool {
	for _, other := range []string{"screen", "suppressor", "anode", "cathode", "shield"} {
		if strings.Contains(element, other) {
			return false
		}
	}
	return strings.Contains(element, "grid")
}

// withoutLeakage is the same set with one capacitor sound.
func withoutLeakage(s *netlist.Set, p *netlist.Part) *netlist.Set {
	set, part, c := *s, *p, *p.Detail.(*netlist.Capacitor)
	c.LeakOhms = 0
	part.Detail = &c
	set.Parts = slices.Clone(s.Parts)
	for i := range set.Parts {
		if set.Parts[i] == p {
			set.Parts[i] = &part
		}
	}
	return &set
}
