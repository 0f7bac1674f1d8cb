package analysis

// Way is how the plug stands in the outlet.
type Way string

// The two ways. Both are normal, for every style of plug.
const (
	AsMarked Way = "as-marked"
	Reversed Way = "reversed"
)

var ways = [2]Way{AsMarked, Reversed}

// Other is the plug turned round.
func (w Way) Other() Way {
	if w == AsMarked {
		return Reversed
	}
	return AsMarked
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
	Plug      Way
	Settings  []Setting // every control, in the order of the file
	Rectifier string    // the one taken as conducting; "" where all block
	Faults    []*Fault
	// Without tells that the shorts of failed parts were left out: what a failed part hides by
	// shorting the line.
	Without bool

	combo int
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
func (s State) Cost() int { return costOf(s.Faults) }

// Has tells whether a fault of that kind is among the state's.
func (s State) Has(kind FaultKind) bool {
	for _, f := range s.Faults {
		if f.Kind == kind {
			return true
		}
	}
	return false
}

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

// Normal lists the normal states with all rectifiers blocking: both plug ways, every switch
// position, no fault.
func (c *Circuit) Normal() []State {
	var states []State
	for _, way := range ways {
		for k, settings := range c.combos {
			states = append(states, State{Plug: way, Settings: settings, combo: k})
		}
	}
	return states
}

// StateOf completes a plug way and some settings to a state: what is not named stands in its
// first position.
func (c *Circuit) StateOf(way Way, settings map[string]string) State {
	for k, combo := range c.combos {
		fits := true
		for i, x := range combo {
			want, named := settings[x.Control]
			if named && want != x.At || !named && x.At != c.Controls[i].Positions[0] {
				fits = false
				break
			}
		}
		if fits {
			return State{Plug: way, Settings: combo, combo: k}
		}
	}
	return State{Plug: way, Settings: c.combos[0]}
}
