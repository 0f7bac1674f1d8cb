package survey

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
)

// Survey is what is read at each accessible part, and which paths bring it, in every state that is
// looked at.
type Survey struct {
	Circuit   *analysis.Circuit
	Result    *analysis.Result
	Targets   []*Target
	FaultSets []Faults         // none, each failure alone, sets of several that make a point live; then none again, for each of Turned
	Turned    [][]int          // of the last of FaultSets: the positions in which a control is turned away from rest, in the order of States
	States    []analysis.State // the normal ones with the controls at rest: both plug polarities, every position of the switches
	Dropped   int              // fault sets that did not fit

	sound       map[branchKey]analysis.Channel // the channels with nothing wrong
	evaluations [][][]Evaluation               // by fault set, then state, then target
	states      [][]*solved                    // by fault set, then state: as the worst target draws it
}

// Place is a state of a survey: a fault set and a normal state, by number.
type Place struct{ Faults, State int }

// Faults is a set of failures that a survey looks at.
type Faults []*analysis.Fault

// Has reports whether a failure of that kind is among them.
func (f Faults) Has(kind analysis.FaultKind) bool {
	return slices.ContainsFunc(f, func(x *analysis.Fault) bool { return x.Kind == kind })
}

// OfSupply reports whether it is one failure, of the supply.
func (f Faults) OfSupply() bool { return len(f) == 1 && f[0].Part == analysis.SupplyName }

// cost is what the faults cost together, -1 where nothing is wrong.
func (f Faults) cost() int {
	if len(f) == 0 {
		return -1
	}
	sum := 0
	for _, x := range f {
		sum += x.Cost
	}
	return sum
}

// New makes the survey of a set. nodes are its accessible parts, each by its foremost node.
func New(c *analysis.Circuit, result *analysis.Result, nodes []string) *Survey {
	s := &Survey{Circuit: c, Result: result, States: c.NormalAtRest(), Targets: make([]*Target, len(nodes)), sound: soundChannels(c)}
	most := positionsSearched(c, len(nodes))
	analysis.SideBySide(len(nodes), func(i int) { s.Targets[i] = newTarget(c, nodes[i], s.States, most, s.sound) })
	s.FaultSets = append(s.FaultSets, nil)
	for _, f := range c.Faults {
		s.FaultSets = append(s.FaultSets, Faults{f})
	}
	s.addFaultSets()
	s.fit()
	s.FaultSets = append(s.FaultSets, make([]Faults, len(s.Turned))...)
	s.evaluate()
	for i, t := range s.Targets {
		t.choose()
		s.keep(i)
	}
	return s
}

// Of is the survey of one state, whatever its controls and its faults. nodes are as for New.
func Of(c *analysis.Circuit, nodes []string, state analysis.State) *Survey {
	s := &Survey{Circuit: c, Targets: make([]*Target, len(nodes)), FaultSets: []Faults{bare(state.Faults)}}
	var rows []analysis.Row
	for _, row := range c.JudgedAt([]int{state.Position}, s.FaultSets[0]...) {
		if row.State.Plug == state.Plug {
			rows = append(rows, row)
		}
	}
	sound := state
	sound.Faults, sound.Rectifier, sound.Blown = nil, "", nil
	s.States = []analysis.State{sound}
	s.sound = soundChannels(c)
	for _, ch := range c.Wiring(sound).Channels { // the tracks of controls as they are here
		s.sound[keyOf(c.Set, ch)] = ch
	}
	analysis.SideBySide(len(nodes), func(i int) { s.Targets[i] = newTarget(c, nodes[i], s.States, 1, s.sound) })
	s.evaluateRows(rows)
	for i, t := range s.Targets {
		t.choose()
		s.keep(i)
	}
	return s
}

// addFaultSets adds the fault sets of more than one fault that make a point live, guards aside.
func (s *Survey) addFaultSets() {
	known := map[string]bool{}
	for _, p := range s.Result.Points {
		for _, set := range p.FaultSets {
			faults := bare(set.Faults)
			if id := faults.key(); len(faults) > 1 && !known[id] {
				known[id] = true
				s.FaultSets = append(s.FaultSets, faults)
			}
		}
	}
}

// bare is a fault set without guards: what is read is that of the bare metal.
func bare(faults []*analysis.Fault) Faults {
	return slices.DeleteFunc(slices.Clone(faults), func(f *analysis.Fault) bool { return f.Kind == analysis.GuardOff })
}

func (f Faults) key() string {
	var b strings.Builder
	for _, x := range f {
		fmt.Fprintf(&b, "%q %q %q;", x.Part, x.Kind, x.Between)
	}
	return b.String()
}

// Positions is how many positions of the switches there are, together. The states are those of the
// first plug polarity, then as many of the other.
func (s *Survey) Positions() int { return len(s.States) / 2 }

// Sound reports whether nothing has failed in a fault set.
func (s *Survey) Sound(faults int) bool { return len(s.FaultSets[faults]) == 0 }

// FirstTurned is the first of the fault sets in which nothing has failed and a control is turned: their number where
// there is none.
func (s *Survey) FirstTurned() int { return len(s.FaultSets) - len(s.Turned) }

// turned are the positions of a fault set in which a control is turned away from rest, nil where none is.
func (s *Survey) turned(faults int) []int {
	if n := faults - s.FirstTurned(); n >= 0 {
		return s.Turned[n]
	}
	return nil
}

// State is the state of a place, with all rectifiers blocking.
func (s *Survey) State(p Place) analysis.State {
	state := s.States[p.State]
	if positions := s.turned(p.Faults); positions != nil {
		state = s.Circuit.StateAt(state.Plug, positions[p.State%s.Positions()])
	}
	return state.WithFaults(s.FaultSets[p.Faults]...)
}

// At is what is found at a target in a state.
func (s *Survey) At(p Place, target int) *Evaluation {
	return &s.evaluations[p.Faults][p.State][target]
}
