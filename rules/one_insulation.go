package rules

import (
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// OneInsulation finds metal that one insulation keeps from being live.
var OneInsulation = &Rule{
	Name:    "one-insulation",
	Signal:  Warning,
	Signals: "WARNING; CAUTION where it is good basic insulation of a winding or a frame",
	Looks:   "a touch point that the breakdown of one insulation makes live: a washer, a sleeve, a part's own frame, a winding",
	Why: "Fibre drinks water, rubber falls off, phenolic tracks. One layer of basic insulation is what every set of its day relied on; " +
		"today two are asked for between the line and metal that a hand can reach.",
	Blind:  "The state of the insulation: only looking at it, and an insulation test that the set stands, tells.",
	Source: "IEC 61140 and IEC 62368-1 clause 5.4 (basic, supplementary, reinforced insulation)",
	Remedy: "renew it, and add a second layer: a sleeve, a shoulder washer, a plastic knob with its screw covered",
	Caution: "Work unplugged with the reservoirs discharged. An insulation test at 500 V can break old capacitors that are still in: take them off first. " +
		"Re-check cold after the change; follow local electrical codes and qualified advice.",
	Subject: OfMetal,
	Failure: InsulationFails,
	Run:     runOneInsulation,
}

func runOneInsulation(k *Facts) []Finding {
	return k.tellSoles(InsulationFails, func(s *sole, f *Finding) {
		if k.goodBasic(s) {
			f.Signal = Caution
		}
		f.Remedy = k.insulationRemedy(s)
	})
}

// goodBasic reports whether what stands is good basic insulation of a winding or a frame, in every
// way in which the part does it.
func (k *Facts) goodBasic(s *sole) bool {
	return !slices.ContainsFunc(s.sets, func(set analysis.FaultSet) bool { return !k.mildInsulation(s.metal, set) })
}

// mildInsulation reports whether good basic insulation of a winding or a frame is what has to fail of a
// fault set, suspect parts aside.
func (k *Facts) mildInsulation(m *Metal, set analysis.FaultSet) bool {
	f := k.namesake(m, unguarded(set))
	return f.Cost > 0 && f.Between != nil && f.Kind == analysis.InsulationOut && k.Set.Part(f.Part).Condition == netlist.Good
}

func (k *Facts) insulationRemedy(s *sole) string {
	part := k.Set.Part(s.part)
	switch {
	case part.Kind == netlist.KindTransformer && !part.Detail.(*netlist.Transformer).Coupled:
		return fmt.Sprintf("take the secondary of %s off the metal that a hand can reach and return it to B-minus, or put a class Y capacitor in the lead", s.part)
	case part.Kind == netlist.KindMotor || part.Kind == netlist.KindCoil:
		return fmt.Sprintf("insulate the frame of %s from the metal it is bolted to by a second layer: sleeves and washers made for it", s.part)
	case part.Kind == netlist.KindTransformer:
		return fmt.Sprintf("have %s tested between windings, or replace it by one with double or reinforced insulation (IEC 61558-2-4)", s.part)
	case part.Frame != "" && s.fault.Between != nil && (part.Kind == netlist.KindSwitch || part.Kind == netlist.KindPotentiometer):
		return fmt.Sprintf("take the line off %s: a switch in the cord or at the back, away from the shaft; or insulate its shaft and cover the knob's screw", s.part)
	case part.Condition != netlist.Good || s.fault.Cost == 0:
		return fmt.Sprintf("renew %s with insulation made to protect, and add a second layer", s.part)
	}
	return fmt.Sprintf("add a second layer to %s, or earth the metal on its far side once it is off the line", s.part)
}
