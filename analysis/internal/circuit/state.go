package circuit

import (
	"fmt"
	"slices"
)

// Polarity is how the plug stands in the outlet.
type Polarity string

// The two polarities. Both are normal, for every style of plug: IEC 60990 measures in both.
const (
	AsMarked Polarity = "as-marked"
	Reversed Polarity = "reversed"
)

// Polarities are both, in the order in which states are listed.
var Polarities = [2]Polarity{AsMarked, Reversed}

// Other is the plug turned round.
func (p Polarity) Other() Polarity {
	if p == AsMarked {
		return Reversed
	}
	return AsMarked
}

// HotBlade is the blade on the hot side of the supply: 0 the one marked hot, 1 the other.
func (p Polarity) HotBlade() int {
	if p == Reversed {
		return 1
	}
	return 0
}

// Switch is a switch or a selector, with the positions that are states.
type Switch struct {
	Name      string
	Positions []string // "on", "off"; or a selector's positions
	part      int
	throws    []int // of a selector: the throw that each position makes
}

// The positions of a control that are not an end's node.
const (
	Middle = "middle"
	Full   = "full" // of a rheostat: its whole value
	Zero   = "zero"
)

// Control is a potentiometer with its positions, the one at rest first: in the middle, or at the end
// that each is named after; a rheostat at full or at zero.
type Control struct {
	Name      string
	Positions []string
	part      int
}

// Setting is where one switch or control stands.
type Setting struct{ Name, At string }

// Position is where every switch and every control stands.
type Position struct {
	Settings []Setting // every switch, in the order of the file
	Controls []Setting // every control, likewise
	Away     int       // how many controls are not at rest
	places   []int     // by control: its place among the control's positions
}

// SmallDiodes stands where a rectifier's name would, for the state in which all small diodes conduct.
const SmallDiodes = "small diodes"

// State is one state of the set.
type State struct {
	Plug      Polarity
	Settings  []Setting // every switch, in the order of the file
	Controls  []Setting // every control, likewise
	Rectifier string    // the one taken as conducting, or SmallDiodes; "" where all block
	Faults    []*Fault
	// Blown are the fuses that a short of the line has opened, in the order of the file.
	Blown []string
	// Without says that the shorts of failed parts were left out: what a failed part hides by
	// shorting the line.
	Without bool

	Position int // of Settings and Controls, in Circuit.Positions
}

// At is where a switch or a control stands in the state, "" for a name that is none.
func (s State) At(name string) string {
	for _, settings := range [][]Setting{s.Settings, s.Controls} {
		for _, x := range settings {
			if x.Name == name {
				return x.At
			}
		}
	}
	return ""
}

// Cost is the sum of the costs of the state's faults.
func (s State) Cost() int { return CostOf(s.Faults) }

// Has reports whether a fault of that kind is among the state's.
func (s State) Has(kind FaultKind) bool { return HasKind(s.Faults, kind) }

// WithFaults is the same state with these faults instead of its own.
func (s State) WithFaults(faults ...*Fault) State {
	s.Faults = faults
	return s
}

// combinations lists every position of every switch, the last switch changing fastest.
func combinations(switches []Switch) [][]Setting {
	all := [][]Setting{nil}
	for _, s := range switches {
		var next [][]Setting
		for _, head := range all {
			for _, at := range s.Positions {
				next = append(next, append(head[:len(head):len(head)], Setting{s.Name, at}))
			}
		}
		all = next
	}
	return all
}

// mostAway is how many controls stand elsewhere than at rest at once: fine tuning of a set is no
// state.
const mostAway = 2

// turns lists the positions of all controls, by their places: all at rest, then with one elsewhere,
// then with two.
func turns(controls []Control) [][]int {
	var all [][]int
	var turn func(places []int, from, left int)
	turn = func(places []int, from, left int) {
		if left == 0 {
			all = append(all, slices.Clone(places))
			return
		}
		for k := from; k < len(controls); k++ {
			for place := 1; place < len(controls[k].Positions); place++ {
				places[k] = place
				turn(places, k+1, left-1)
				places[k] = 0
			}
		}
	}
	for away := 0; away <= min(mostAway, len(controls)); away++ {
		turn(make([]int, len(controls)), 0, away)
	}
	return all
}

// positions lists every position of switches and controls: controls change fastest, from rest on.
func positions(switches []Switch, controls []Control) []Position {
	var all []Position
	turned := turns(controls)
	for _, settings := range combinations(switches) {
		for _, places := range turned {
			p := Position{Settings: settings, places: places}
			for k, c := range controls {
				p.Controls = append(p.Controls, Setting{c.Name, c.Positions[places[k]]})
				if places[k] != 0 {
					p.Away++
				}
			}
			all = append(all, p)
		}
	}
	return all
}

// AtRest reports whether the state's controls are all in the middle or at full.
func (c *Circuit) AtRest(s State) bool { return c.Positions[s.Position].Away == 0 }

// StateAt is the state without faults and with all rectifiers blocking, in one plug polarity and
// one of Positions.
func (c *Circuit) StateAt(plug Polarity, position int) State {
	p := c.Positions[position]
	return State{Plug: plug, Settings: p.Settings, Controls: p.Controls, Position: position}
}

// Normal lists the normal states with all rectifiers blocking: both plug polarities, every position
// of the switches and the controls, no fault.
func (c *Circuit) Normal() []State {
	var states []State
	for _, plug := range Polarities {
		for k := range c.Positions {
			states = append(states, c.StateAt(plug, k))
		}
	}
	return states
}

// NormalAtRest lists those of Normal with every control at rest.
func (c *Circuit) NormalAtRest() []State {
	var states []State
	for _, plug := range Polarities {
		for _, k := range c.Rest() {
			states = append(states, c.StateAt(plug, k))
		}
	}
	return states
}

// StateOf completes a plug polarity and some settings to a state: what is not named stands in its
// first position.
func (c *Circuit) StateOf(plug Polarity, settings map[string]string) State {
	stands := func(x Setting, first string) bool {
		want, named := settings[x.Name]
		return named && want == x.At || !named && x.At == first
	}
	for k, p := range c.Positions {
		fits := true
		for i, x := range p.Settings {
			fits = fits && stands(x, c.Switches[i].Positions[0])
		}
		for i, x := range p.Controls {
			fits = fits && stands(x, c.Controls[i].Positions[0])
		}
		if fits {
			return c.StateAt(plug, k)
		}
	}
	return c.StateAt(plug, 0)
}

// CountStates counts the states with no fault, each rectifier conducting in one of them.
func (c *Circuit) CountStates() float64 {
	return float64(len(Polarities) * len(c.Positions) * (1 + len(c.Rectifiers)))
}

// Rest are the places in Positions of those with every control at rest.
func (c *Circuit) Rest() []int {
	var rest []int
	for k := range c.Positions {
		if c.Positions[k].Away == 0 {
			rest = append(rest, k)
		}
	}
	return rest
}

// Turned lists the positions in which one control alone does not stand at rest: by control and where it stands
// then, those of all combinations of the switches, in the order of Rest.
func (c *Circuit) Turned() [][]int {
	var all [][]int
	known := map[string]int{} // by where the controls stand
	for k, p := range c.Positions {
		if p.Away != 1 {
			continue
		}
		id := fmt.Sprint(p.places)
		i, ok := known[id]
		if !ok {
			i = len(all)
			known[id] = i
			all = append(all, nil)
		}
		all[i] = append(all[i], k)
	}
	return all
}

// AllSettings are the combinations of the switches' positions.
func (c *Circuit) AllSettings() [][]Setting {
	var all [][]Setting
	for _, k := range c.Rest() {
		all = append(all, c.Positions[k].Settings)
	}
	return all
}

// Away is how many controls are not at rest.
func (s State) Away() int {
	away := 0
	for _, x := range s.Controls {
		if x.At != Middle && x.At != Full {
			away++
		}
	}
	return away
}
