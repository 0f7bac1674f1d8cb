package page

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/survey"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

func (s *sheet) stateWords(p survey.Place, e *survey.Evaluation) string {
	state := s.State(p)
	state.Rectifier, state.Blown = e.State.Rectifier, e.State.Blown
	return s.inWords(phrase.State(state))
}

// controls makes the controls, with nothing wrong, the plug as marked and every switch in its first
// position. told is the state that the verdict tells, which one of the buttons sets.
func (s *sheet) controls(told analysis.State) controlsView {
	at := survey.Place{}
	state := s.States[at.State]
	v := controlsView{Dropped: s.Dropped}
	part, plug := s.k.Set.Plug()
	for i, polarity := range polarities {
		hot, _ := s.Circuit.Blades(polarity)
		o := optionView{Value: i, Label: netlist.Visible(hot) + " is hot", Chosen: polarity == state.Plug}
		if s.Circuit.BothHot() {
			o.Label = phrase.Stands(s.Circuit, polarity)
		}
		switch {
		case s.Circuit.BothHot():
			o.Detail = "neither leg is a neutral: turning the plug exchanges the two"
		case polarity == analysis.AsMarked && plug.Style == "plain":
			o.Detail = part.Name + " one way round"
		case polarity == analysis.AsMarked:
			o.Detail = part.Name + " as marked, in a right outlet"
		default:
			o.Detail = part.Name + " turned round, or an outlet wired backwards: the same thing"
		}
		v.Plug = append(v.Plug, o)
	}
	for i, c := range s.Circuit.Switches {
		control := controlView{Index: i, Name: netlist.Visible(c.Name)}
		for n, p := range c.Positions {
			control.Options = append(control.Options, optionView{Value: n, Label: netlist.Visible(p), Chosen: state.Settings[i].At == p})
		}
		v.Controls = append(v.Controls, control)
	}
	v.addFaults(s, at.Faults)
	v.Jumps = s.jumps(told)
	return v
}

// jumps are the states that have a button of their own: that which the verdict tells among them, so that both are of one
// state.
func (s *sheet) jumps(told analysis.State) []jumpView {
	list := []jumpView{{Label: "Nothing wrong"}}
	add := func(label string, p survey.Place, ok bool) {
		if ok {
			n := s.Positions()
			list = append(list, jumpView{label, p.Faults, p.State / n, p.State % n})
		}
	}
	everyday, ok := s.WorstNormally()
	one, failing := s.WorstByFailure()
	if p, held := s.placeOf(told); held && s.Sound(p.Faults) {
		everyday = p
	} else if held && failing {
		one = p
	}
	add("Worst everyday state", everyday, ok)
	add("Worst with one failure", one, failing)
	return list
}

// placeOf is the place of a state on the page's bench, guards and what conducts aside; false where it is not there.
func (s *sheet) placeOf(state analysis.State) (survey.Place, bool) {
	faults := slices.DeleteFunc(slices.Clone(state.Faults), func(f *analysis.Fault) bool { return f.Kind == analysis.GuardOff })
	for n := range s.FaultSets {
		for i := range s.States {
			p := survey.Place{Faults: n, State: i}
			at := s.State(p)
			if at.Plug == state.Plug && slices.Equal(at.Settings, state.Settings) && slices.Equal(at.Controls, state.Controls) && slices.Equal(at.Faults, faults) {
				return p, true
			}
		}
	}
	return survey.Place{}, false
}

// The groups of faults, in the order of the page.
var faultGroups = []struct {
	label string
	has   func(set *netlist.Set, f survey.Faults) bool
}{
	{"Capacitor or resistor shorts", func(set *netlist.Set, f survey.Faults) bool {
		return single(f, analysis.Shorted) && survey.ClassOfFault(set, f[0].Part, analysis.Shorted) != survey.Rectifies
	}},
	{"Rectifier shorts", func(set *netlist.Set, f survey.Faults) bool {
		return single(f, analysis.Shorted) && survey.ClassOfFault(set, f[0].Part, analysis.Shorted) == survey.Rectifies
	}},
	{"Insulation fails", func(set *netlist.Set, f survey.Faults) bool {
		return single(f, analysis.InsulationOut) || single(f, analysis.HeaterCathode)
	}},
	{"Tube pulled", func(set *netlist.Set, f survey.Faults) bool { return single(f, analysis.Pulled) }},
	{"Part opens", func(set *netlist.Set, f survey.Faults) bool { return single(f, analysis.Open) }},
	{"Switch or earth wire", func(set *netlist.Set, f survey.Faults) bool {
		return single(f, analysis.Stuck) || single(f, analysis.EarthLost) && !f.OfSupply()
	}},
	{"Several at once that make something live", func(set *netlist.Set, f survey.Faults) bool { return len(f) > 1 }},
}

func single(f survey.Faults, kind analysis.FaultKind) bool { return len(f) == 1 && f[0].Kind == kind }

func (v *controlsView) addFaults(s *sheet, chosen int) {
	option := func(i int) optionView {
		return optionView{Value: i, Label: s.wrongWords(i), Chosen: i == chosen}
	}
	v.Supply = append(v.Supply, optionView{Value: 0, Label: "nothing", Chosen: chosen == 0})
	for i, f := range s.FaultSets {
		if f.OfSupply() {
			v.Supply = append(v.Supply, option(i))
		}
	}
	for _, g := range faultGroups {
		group := groupView{Label: g.label}
		for i, f := range s.FaultSets {
			if g.has(s.k.Set, f) {
				group.Options = append(group.Options, option(i))
			}
		}
		if len(group.Options) > 0 {
			v.Single = append(v.Single, group)
		}
	}
	turned := groupView{Label: "Nothing has failed, and a control is turned"}
	for i := s.FirstTurned(); i < len(s.FaultSets); i++ {
		turned.Options = append(turned.Options, option(i))
	}
	if len(turned.Options) > 0 {
		v.Single = append(v.Single, turned)
	}
}

// wrongWords tells a fault set as the page's controls do, or the control that is turned away from rest there.
func (s *sheet) wrongWords(i int) string {
	if i == 0 {
		return "nothing"
	}
	if s.Sound(i) {
		return phrase.List(phrase.TurnedAway(s.State(survey.Place{Faults: i}).Controls))
	}
	return faultsWords(s.k.Set, s.FaultSets[i])
}

// Part reports whether a fault of a part, or several faults, are chosen.
func (v controlsView) Part() bool {
	for _, o := range v.Supply {
		if o.Chosen {
			return false
		}
	}
	return true
}
