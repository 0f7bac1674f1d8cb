package main

import (
	"errors"
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/flags"
	"coldcheck/cmd/coldcheck/usage"
	"coldcheck/netlist"
	"coldcheck/netlist/setfile"
	"coldcheck/rules/phrase"
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
		return nil, fmt.Errorf("--earthed: %s has no node %q%s", netlist.Visible(file), netlist.Visible(unknown.Name), usage.Meant(netlist.Nearest(unknown.Name, nodeNames(set))))
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
	return each(set.Nodes, func(n *netlist.Node) string { return n.Name })
}

// noNode is the error of a flag that names no node of the set; the one that was meant is among some.
func noNode(flag, name string, among []string) error {
	return fmt.Errorf("--%s: the set has no node %q%s", flag, netlist.Visible(name), usage.Meant(netlist.Nearest(name, among)))
}

// filter turns --plug and --switch into what they let through.
func (c *call) filter(circuit *analysis.Circuit) (analysis.Filter, error) {
	f := analysis.Filter{Plug: analysis.Polarity(c.options.plug), Settings: map[string]string{}, Controls: c.options.controls}
	for _, s := range c.options.switches {
		if err := fits(circuit, s); err != nil {
			return f, err
		}
		if at, given := f.Settings[s.Control]; given && at != s.At {
			return f, fmt.Errorf("--switch: %s cannot stand at %s and at %s", s.Control, netlist.Visible(at), netlist.Visible(s.At))
		}
		f.Settings[s.Control] = s.At
	}
	return f, nil
}

// fits tells what is wrong with the position of a switch or a control, if it is none of the set's.
func fits(circuit *analysis.Circuit, s flags.Setting) error {
	var names []string
	positions := map[string][]string{}
	add := func(name string, at []string) { names, positions[name] = append(names, name), at }
	for _, x := range circuit.Switches {
		add(x.Name, x.Positions)
	}
	for _, x := range circuit.Controls {
		add(x.Name, x.Positions)
	}
	at, known := positions[s.Control]
	switch {
	case known && slices.Contains(at, s.At):
		return nil
	case known:
		return fmt.Errorf("--switch: %s stands at %s, not at %q", s.Control, phrase.Or(phrase.Visible(at)), netlist.Visible(s.At))
	case len(names) == 0:
		return fmt.Errorf("--switch: the set has no switch and no control")
	}
	return fmt.Errorf("--switch: the set has no switch or control %q; it has %s", netlist.Visible(s.Control), phrase.List(names))
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
			return nil, noNode("point", name, names)
		}
		if circuit.Set.Node(name).Touch == "" {
			return nil, fmt.Errorf("--point: %q is no touch point; those are %s", netlist.Visible(name), phrase.List(phrase.Visible(names)))
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
