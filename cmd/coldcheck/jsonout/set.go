package jsonout

import (
	"coldcheck/analysis"
	"coldcheck/netlist"
)

// Set says which set was looked at, and on which bench.
type Set struct {
	Name  string  `json:"name" jsonschema_description:"what the set is called"`
	File  string  `json:"file" jsonschema_description:"the file that was read, - for standard input"`
	Volts float64 `json:"volts" jsonschema_description:"the mains, V"`
	Hertz float64 `json:"hertz" jsonschema_description:"Hz"`
	// MainsEarthed is apart from Earthed, which is the bench's.
	MainsEarthed string   `json:"mains_earthed,omitempty" jsonschema_description:"what of the mains is earthed: midpoint, star or nowhere; without it, the neutral"`
	Supply       string   `json:"supply,omitempty" jsonschema_description:"the supply asked for; without it, the mains"`
	Earthed      []string `json:"earthed,omitempty" jsonschema_description:"nodes that instruments tie to earth"`
}

// State is one state of a set.
type State struct {
	Plug      plugPolarity      `json:"plug" jsonschema_description:"how the plug stands in the outlet"`
	Switches  map[string]string `json:"switches" jsonschema_description:"each switch and selector, and how it stands"`
	Rectifier string            `json:"rectifier" jsonschema_description:"the rectifier taken as conducting, empty where all block"`
	Faults    []Fault           `json:"faults" jsonschema_description:"what had gone wrong"`
	Controls  map[string]string `json:"controls,omitempty" jsonschema_description:"each potentiometer, and where it is turned to"`
	Blown     []string          `json:"blown,omitempty" jsonschema_description:"fuses that a short of the line has opened"`
	// WithoutFailed says that the shorts of failed parts, which short the line, were left out.
	WithoutFailed bool `json:"without_failed,omitempty" jsonschema_description:"the shorts of failed parts, which short the line, were left out"`
}

// Fault is one thing gone wrong.
type Fault struct {
	Part    string    `json:"part" jsonschema_description:"the part's name, supply, or of a guard the node's"`
	Fault   faultKind `json:"fault" jsonschema_description:"what is wrong with it"`
	Between []string  `json:"between,omitempty" jsonschema_description:"the two nodes between which it is"`
}

func setOf(c *analysis.Circuit, supply string) Set {
	earthed := c.Set.Earthed
	if earthed == netlist.EarthedNeutral {
		earthed = ""
	}
	return Set{
		Name: c.Set.Name, File: c.Set.File, Volts: round(c.Set.Volts), Hertz: round(c.Set.Hertz), MainsEarthed: earthed,
		Supply: supply, Earthed: c.Bench.Earthed,
	}
}

func stateOf(s analysis.State) *State {
	out := &State{Plug: plugPolarity(s.Plug), Switches: map[string]string{}, Rectifier: s.Rectifier,
		Faults: faultsOf(s.Faults), Blown: s.Blown, WithoutFailed: s.Without}
	for _, x := range s.Settings {
		out.Switches[x.Name] = x.At
	}
	if len(s.Controls) > 0 {
		out.Controls = map[string]string{}
	}
	for _, x := range s.Controls {
		out.Controls[x.Name] = x.At
	}
	return out
}

func faultsOf(faults []*analysis.Fault) []Fault {
	out := []Fault{}
	for _, f := range faults {
		out = append(out, Fault{f.Part, faultKind(f.Kind), f.Between})
	}
	return out
}
