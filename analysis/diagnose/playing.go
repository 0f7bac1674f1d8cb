package diagnose

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// How far a reading of the set while it plays may be off: tubes differ, and a constant resistance is a
// rough tube.
const (
	tubeBand  = 0.30 // of what depends on what the tubes draw
	plainBand = 0.12 // of what does not
	// dependsShare: a figure that changes by more with the tubes drawing nothing depends on them.
	dependsShare = 0.10
)

// Playing is what to measure of the set while it plays, in one position of its switches.
type Playing struct {
	*analysis.WorkingSet
	Settings  []analysis.Setting
	Reference string
	// Lines are DC volts against the reference: B-plus at each filter capacitor, plates, screens, cathodes;
	// then the AC on the reservoirs.
	Lines []WorkingLine

	undrawn *analysis.WorkingSet // the same with the tubes drawing nothing
}

// WorkingLine is a reading while the set plays, with the point's name at the bench: "C2 +", "V4 plate".
type WorkingLine struct {
	Check
	Point string
}

// playing lays out what to measure while the set plays.
func (l *Checklist) playing() {
	c := l.Circuit
	for _, w := range c.Playing().OnLine {
		o := w.Options
		o.Undrawn = true
		undrawn, err := c.WorkingSet(o)
		if err != nil {
			undrawn = w
		}
		if i, ok := c.Node(l.reference); ok {
			w, undrawn = w.Against(i), undrawn.Against(i)
		}
		p := &Playing{WorkingSet: w, Settings: c.Positions[o.Position].Settings, Reference: c.NodeName(w.Reference), undrawn: undrawn}
		lines := &lineList{c: c, p: p, seen: map[string]int{}}
		lines.reservoirs(VoltsDCRead, "+")
		lines.pins()
		lines.reservoirs(VoltsRead, "ripple")
		l.Playing = append(l.Playing, p)
	}
	l.Unsolved = c.Playing().Unsolved
}

// Mainly is the position of which most is told: switches on and selectors in their first position, or else the
// first in which the set draws from the line; nil where it does in none.
func (l *Checklist) Mainly() *Playing {
	if p := l.playsAt(l.Circuit.StateOf(analysis.AsMarked, nil).Position); p != nil || len(l.Playing) == 0 {
		return p
	}
	return l.Playing[0]
}

// lineList gathers the lines of a position.
type lineList struct {
	c    *analysis.Circuit
	p    *Playing
	seen map[string]int // by node and quantity: its line
}

// reservoirs lists each filter capacitor's positive end.
func (x *lineList) reservoirs(q Quantity, what string) {
	for _, p := range x.c.Set.Parts {
		if d, ok := p.Detail.(*netlist.Capacitor); ok && d.Positive != "" && analysis.Reservoir(d.Farads) {
			x.line(d.Positive, p.Name+" "+what, q)
		}
	}
}

// pins lists the plates, screens and cathodes of the tubes.
func (x *lineList) pins() {
	for _, p := range x.c.Set.Parts {
		t, ok := p.Detail.(*netlist.Tube)
		if !ok {
			continue
		}
		for _, w := range t.Type.Working {
			for _, pin := range []struct {
				number int
				name   string
			}{{w.Plate, "plate"}, {w.Screen, "screen"}, {w.Cathode, "cathode"}} {
				if node := t.Node(pin.number); pin.number != 0 && node != "" {
					x.line(node, fmt.Sprintf("%s %s", p.Name, pin.name), VoltsDCRead)
				}
			}
		}
	}
}

// line adds a reading, or the point's name to the line of the same node.
func (x *lineList) line(node, point string, q Quantity) {
	key := node + " " + string(q)
	if k, ok := x.seen[key]; ok {
		if at := &x.p.Lines[k]; !slices.Contains(strings.Split(at.Point, ", "), point) {
			at.Point += ", " + point
		}
		return
	}
	i, _ := x.c.Node(node)
	if i == x.p.WorkingSet.Reference {
		return
	}
	v, idle := x.p.Nodes[i], x.p.undrawn.Nodes[i]
	volts, without, told := v.DC, idle.DC, v.HasDC
	if q == VoltsRead {
		volts, without, told = v.AC, idle.AC, v.HasAC
	}
	if !told {
		return
	}
	x.seen[key] = len(x.p.Lines)
	m := atPosition(x.c, Measurement{A: node, B: x.p.Reference, Quantity: q, Plug: analysis.AsMarked, MeterOhms: analysis.MeterOhms}, x.p.Options.Position)
	x.p.Lines = append(x.p.Lines, WorkingLine{workingCheck(m, volts, without), point})
}

// workingCheck is a reading with its band; without is what it would be if no tube drew.
func workingCheck(m Measurement, volts, without float64) Check {
	share := plainBand
	if math.Abs(volts-without) > dependsShare*math.Abs(volts)+voltsFloor/10 {
		share = tubeBand
	}
	off := share*math.Abs(volts) + voltsFloor
	return Check{Measurement: m, When: [][]analysis.Setting{m.Settings}, Expect: volts, Low: volts - off, High: volts + off}
}

// playsAt is what the set does in a position of its switches while it plays, nil where it does not.
func (l *Checklist) playsAt(position int) *Playing {
	for _, p := range l.Playing {
		if p.Options.Position == position {
			return p
		}
	}
	return nil
}

// across is a reading across two nodes while the set plays.
func (p *Playing) across(c *analysis.Circuit, m Measurement) Check {
	a, _ := c.Node(m.A)
	b, _ := c.Node(m.B)
	volts, without := p.Across(a, b), p.undrawn.Across(a, b)
	if m.Quantity == VoltsDCRead {
		return workingCheck(m, volts.DC, without.DC)
	}
	return workingCheck(m, volts.AC, without.AC)
}
