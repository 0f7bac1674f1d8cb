package jsonout

import (
	"coldcheck/analysis"
)

// Set says which set was looked at, and on which bench.
type Set struct {
	Name    string   `json:"name"`
	File    string   `json:"file"`
	Volts   float64  `json:"volts"`
	Hertz   float64  `json:"hertz"`
	Supply  string   `json:"supply,omitempty"`
	Earthed []string `json:"earthed,omitempty"`
}

// State is one state of a set.
type State struct {
	Plug      string            `json:"plug"`
	Switches  map[string]string `json:"switches"`
	Rectifier string            `json:"rectifier"`
	Faults    []Fault           `json:"faults"`
	// WithoutFailedShorts tells that the shorts of failed parts, which short the line, were left out.
	WithoutFailedShorts bool `json:"without_failed_shorts,omitempty"`
}

// Fault is one thing gone wrong.
type Fault struct {
	Part    string   `json:"part"`
	Fault   string   `json:"fault"`
	Between []string `json:"between,omitempty"`
}

func setOf(c *analysis.Circuit, supply string) Set {
	return Set{
		Name: c.Set.Name, File: c.Set.File, Volts: round(c.Set.Volts), Hertz: round(c.Set.Hertz),
		Supply: supply, Earthed: c.Bench.Earthed,
	}
}

func stateOf(s analysis.State) *State {
	out := &State{Plug: string(s.Plug), Switches: map[string]string{}, Rectifier: s.Rectifier,
		Faults: faultsOf(s.Faults), WithoutFailedShorts: s.Without}
	for _, x := range s.Settings {
		out.Switches[x.Name] = x.At
	}
	return out
}

func faultsOf(faults []*analysis.Fault) []Fault {
	out := []Fault{}
	for _, f := range faults {
		out = append(out, Fault{f.Part, string(f.Kind), f.Between})
	}
	return out
}
