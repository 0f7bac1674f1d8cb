package analysis

import (
	"slices"
	"strings"
)

// offPosition is what a switch, and many a selector, calls the position in which it is off.
const offPosition = "off"

// CanBeOff reports whether the set has a switch, or a selector with such a position, that turns off.
func (c *Circuit) CanBeOff() bool { return slices.ContainsFunc(c.Switches, canBeOff) }

// TurnsOff reports whether a switch or a selector turns off.
func (c *Circuit) TurnsOff(name string) bool {
	return slices.ContainsFunc(c.Switches, func(s Switch) bool { return s.Name == name && canBeOff(s) })
}

func canBeOff(s Switch) bool { return slices.ContainsFunc(s.Positions, namedOff) }

func namedOff(position string) bool { return strings.EqualFold(position, offPosition) }

// AllOff reports whether everything that turns off is off in a state. A selector without such a position
// may stand anywhere.
func (c *Circuit) AllOff(state State) bool {
	for _, s := range c.Switches {
		if canBeOff(s) && !namedOff(state.At(s.Name)) {
			return false
		}
	}
	return true
}

// WorstOff is the worst at each touch point, by its place in Points, over the normal states in which every
// switch is off: what a person trusts who has switched a set off. It is nil where no switch turns off, and
// so is the worst of a point where every such state is cleared.
func (c *Circuit) WorstOff() []*Worst {
	if !c.CanBeOff() {
		return nil
	}
	var positions []int
	for k, p := range c.Positions {
		if c.AllOff(State{Settings: p.Settings}) {
			positions = append(positions, k)
		}
	}
	rows := c.judge.JudgedAt(positions)
	worst := make([]*Worst, len(c.Points))
	for k := range worst {
		worst[k] = WorstOf(rows, k, nil)
	}
	return worst
}
