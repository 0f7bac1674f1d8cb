package circuit

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

// Control is a switch or a selector, with the positions that are states.
type Control struct {
	Name      string
	Positions []string // "on", "off"; or a selector's positions
	part      int
	throws    []int // of a selector: the throw that each position makes
}

// Setting is where one control stands.
type Setting struct{ Control, At string }

// State is one state of the set.
type State struct {
	Plug      Polarity
	Settings  []Setting // every control, in the order of the file
	Rectifier string    // the one taken as conducting; "" where all block
	Faults    []*Fault
	// Without says that the shorts of failed parts were left out: what a failed part hides by
	// shorting the line.
	Without bool

	Position int // of Settings, in Circuit.Positions
}

// At is where a control stands in the state, "" for a name that is none.
func (s State) At(control string) string {
	for _, x := range s.Settings {
		if x.Control == control {
			return x.At
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

// combinations lists every position of every control, the last control changing fastest.
func combinations(controls []Control) [][]Setting {
	all := [][]Setting{nil}
	for _, c := range controls {
		var next [][]Setting
		for _, head := range all {
			for _, at := range c.Positions {
				next = append(next, append(head[:len(head):len(head)], Setting{c.Name, at}))
			}
		}
		all = next
	}
	return all
}

// StateAt is the state without faults and with all rectifiers blocking, in one plug polarity and
// one of Positions.
func (c *Circuit) StateAt(plug Polarity, position int) State {
	return State{Plug: plug, Settings: c.Positions[position], Position: position}
}

// Normal lists the normal states with all rectifiers blocking: both plug polarities, every switch
// position, no fault.
func (c *Circuit) Normal() []State {
	var states []State
	for _, plug := range Polarities {
		for k := range c.Positions {
			states = append(states, c.StateAt(plug, k))
		}
	}
	return states
}

// StateOf completes a plug polarity and some settings to a state: what is not named stands in its
// first position.
func (c *Circuit) StateOf(plug Polarity, settings map[string]string) State {
	for k, position := range c.Positions {
		fits := true
		for i, x := range position {
			want, named := settings[x.Control]
			if named && want != x.At || !named && x.At != c.Controls[i].Positions[0] {
				fits = false
				break
			}
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
