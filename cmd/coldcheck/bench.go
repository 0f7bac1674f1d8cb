package main

import (
	"errors"
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/netlist/setfile"
)

// sayProblem tells what is wrong with a file: a place in it as FILE:LINE:COL, which an editor can
// follow, anything else as the program's own words.
func (c *call) sayProblem(err error) {
	var problems netlist.Problems
	if !errors.As(err, &problems) {
		c.say(err)
		return
	}
	for _, p := range problems {
		if p.Pos.Line == 0 {
			c.sayLine(p.String())
		} else {
			fmt.Fprintln(c.stderr, p)
		}
	}
}

// circuit reads a set file and makes it ready on the bench that the flags describe.
func (c *call) circuit(file string) (*analysis.Circuit, error) {
	set, err := setfile.LoadFile(file, c.stdin)
	if err != nil {
		return nil, err
	}
	circuit, err := analysis.New(set, analysis.Bench{Isolated: c.options.supply == supplyIsolated, Earthed: c.options.earthed})
	var unknown *analysis.UnknownNode
	if errors.As(err, &unknown) {
		return nil, fmt.Errorf("--earthed: %s has no node %q%s", netlist.Visible(file), netlist.Visible(unknown.Name), meant(nearest(unknown.Name, nodeNames(set))))
	}
	if err != nil {
		return nil, err
	}
	return circuit, checkSize(file, circuit)
}

// checkSize refuses a set that is too large to look through.
func checkSize(file string, circuit *analysis.Circuit) error {
	if err := circuit.Fits(); err != nil {
		return fmt.Errorf("%s: %w", netlist.Visible(file), err)
	}
	return nil
}

func nodeNames(set *netlist.Set) []string {
	var names []string
	for _, n := range set.Nodes {
		names = append(names, n.Name)
	}
	return names
}

// oneFile gives the only argument, and tells what is wrong where it is not one.
func (c *call) oneFile() (string, bool) {
	switch len(c.args) {
	case 0:
		c.usage("%s needs a set file behind it, or - for standard input", c.command.name)
		return "", false
	case 1:
		return c.args[0], true
	}
	c.usage("%s takes one set file, and here are %d: %s", c.command.name, len(c.args), netlist.Visible(strings.Join(c.args, ", ")))
	return "", false
}

// filter turns --plug and --switch into what they let through.
func (c *call) filter(circuit *analysis.Circuit) (analysis.Filter, error) {
	f := analysis.Filter{Plug: analysis.Way(c.options.plug), Settings: map[string]string{}}
	for _, s := range c.options.switches {
		if err := fits(circuit, s); err != nil {
			return f, err
		}
		if at, given := f.Settings[s.control]; given && at != s.at {
			return f, fmt.Errorf("--switch: %s cannot stand at %s and at %s", s.control, netlist.Visible(at), netlist.Visible(s.at))
		}
		f.Settings[s.control] = s.at
	}
	return f, nil
}

// fits tells what is wrong with a switch position, if it is none of the set's.
func fits(circuit *analysis.Circuit, s setting) error {
	var names []string
	for _, control := range circuit.Controls {
		if control.Name == s.control {
			for _, at := range control.Positions {
				if at == s.at {
					return nil
				}
			}
			return fmt.Errorf("--switch: %s stands at %s, not at %q", s.control, text.Or(text.VisibleAll(control.Positions)), netlist.Visible(s.at))
		}
		names = append(names, control.Name)
	}
	if len(names) == 0 {
		return fmt.Errorf("--switch: the set has no switch")
	}
	return fmt.Errorf("--switch: the set has no switch %q; it has %s", netlist.Visible(s.control), text.List(names))
}

// pointIndexes finds the touch points of --point, all where none is given.
func (c *call) pointIndexes(circuit *analysis.Circuit) ([]int, error) {
	var names []string
	for _, p := range circuit.Points {
		names = append(names, p.Name)
	}
	if len(c.options.points) == 0 {
		all := make([]int, len(names))
		for i := range all {
			all[i] = i
		}
		return all, nil
	}
	asked := map[string]bool{}
	for _, name := range c.options.points {
		if circuit.Set.Node(name) == nil {
			return nil, fmt.Errorf("--point: the set has no node %q%s", netlist.Visible(name), meant(nearest(name, names)))
		}
		if circuit.Set.Node(name).Touch == "" {
			return nil, fmt.Errorf("--point: %q is no touch point; those are %s", netlist.Visible(name), text.List(text.VisibleAll(names)))
		}
		asked[name] = true
	}
	var indexes []int
	for i, name := range names {
		if asked[name] {
			indexes = append(indexes, i)
		}
	}
	return indexes, nil
}
