package analysis

import (
	"math"
)

// OpenOhms: above this a cold path counts as none.
const OpenOhms = 1e9

// Stored is a capacitor that stays over StoredVolts after the plug is pulled.
type Stored struct {
	Part    string
	Volts   float64 // DC, the worst over the normal states; mains peak where it lies across the line
	Joules  float64
	Seconds float64 // until StoredVolts; +Inf where nothing drains it
	// BladeSeconds is the same where it lies across the plug's blades in some switch position, and 0
	// where it never does.
	BladeSeconds float64
	Drain        float64 // Ω, +Inf where nothing drains it
}

// StoredVolts is where a charge counts as gone (IEC 62368-1, ES1 for DC).
const StoredVolts = 60.0

// BladeSecondsLimit is how soon a plug's own blades must be below StoredVolts (IEC 62368-1,
// 5.5.2.2).
const BladeSecondsLimit = 2.0

// stored finds the charges that stay. A charge is the worst DC volts over the normal states; it
// drains through the resistance between the ends with every capacitor open but for leakage,
// rectifiers blocking, heaters cold, switches in the position that drains least: τ = R·C, time to
// 60 V is τ·ln(V/60), energy C·V²/2.
func (c *Circuit) stored() []Stored {
	charge := make([]float64, len(c.elements))
	for _, state := range c.Normal() {
		s := c.Solve(state)
		if s.Cleared {
			continue
		}
		for i, e := range c.elements {
			if e.sort == capacitor {
				_, volts := s.Across(c.Set.Nodes[e.a].Name, c.Set.Nodes[e.b].Name)
				charge[i] = max(charge[i], math.Abs(volts))
			}
		}
	}
	combos := make([]*coldSet, len(c.combos))
	for combo := range combos {
		combos[combo] = c.cold(combo, false)
	}
	joined := make([][]int, len(c.combos))
	for combo := range joined {
		joined[combo] = c.joinedNodes(combo)
	}
	peak := math.Sqrt2 * c.Set.Volts
	var all []Stored
	for i := range c.elements {
		e := &c.elements[i]
		if e.sort != capacitor {
			continue
		}
		volts := charge[i]
		line := false
		for combo := range combos {
			line = line || c.acrossLine(joined[combo], e)
		}
		if line {
			volts = max(volts, peak)
		}
		if volts <= StoredVolts {
			continue
		}
		drain, bladeDrain := 0.0, 0.0
		for combo, cold := range combos {
			ohms := cold.between(e.a, e.b)
			drain = max(drain, ohms)
			if c.acrossLine(joined[combo], e) {
				bladeDrain = max(bladeDrain, ohms)
			}
		}
		seconds := func(ohms float64) float64 {
			if ohms >= OpenOhms {
				return math.Inf(1)
			}
			return ohms * e.farads * math.Log(volts/StoredVolts)
		}
		s := Stored{Part: c.Set.Parts[e.part].Name, Volts: volts, Joules: e.farads * volts * volts / 2, Seconds: seconds(drain), Drain: drain}
		if drain >= OpenOhms {
			s.Drain = math.Inf(1)
		}
		if line {
			s.BladeSeconds = seconds(bladeDrain)
		}
		all = append(all, s)
	}
	return all
}

// acrossLine tells whether conductors join the ends of an element to the two blades, one each.
func (c *Circuit) acrossLine(joined []int, e *element) bool {
	hot, neutral := joined[c.index[c.plug.Hot]], joined[c.index[c.plug.Neutral]]
	x, y := joined[e.a], joined[e.b]
	return hot != neutral && (x == hot && y == neutral || x == neutral && y == hot)
}

// joinedNodes numbers the nodes so that those that conductors join, fuses among them, have one
// number.
func (c *Circuit) joinedNodes(combo int) []int {
	root := append([]int(nil), c.roots(combo)...)
	for changed := true; changed; {
		changed = false
		for _, e := range c.elements {
			if e.sort == link && root[e.a] != root[e.b] {
				from, to := root[e.a], root[e.b]
				for i := range root {
					if root[i] == from {
						root[i] = to
					}
				}
				changed = true
			}
		}
	}
	return root
}

// ColdOhms is what an ohmmeter shows between two nodes of the unplugged set, +Inf above OpenOhms:
// capacitors by their leakage alone, rectifiers open, heaters at ColdHeater of their hot ohms. With
// tied the blades are joined. settings are as for StateOf.
func (c *Circuit) ColdOhms(settings map[string]string, a, b string, tied bool) float64 {
	ohms := c.coldOhms(c.StateOf(AsMarked, settings).combo, a, b, tied)
	if ohms >= OpenOhms {
		return math.Inf(1)
	}
	return ohms
}

func (c *Circuit) coldOhms(combo int, a, b string, tied bool) float64 {
	return c.cold(combo, tied).between(c.index[a], c.index[b])
}

// coldSet is the unplugged set in one switch combination, factored.
type coldSet struct {
	lu  *lu
	row []int
}

// between is the resistance between two nodes, by index.
func (s *coldSet) between(a, b int) float64 {
	if s.row[a] == s.row[b] {
		return 0
	}
	var t portTerminals
	t.add(s.row[a], 1)
	t.add(s.row[b], -1)
	return real(s.lu.inner(t, t))
}

func (c *Circuit) cold(combo int, tied bool) *coldSet {
	row := c.roots(combo)
	s := newSparse(len(row))
	for i := range row {
		s.add(i, i, coldLeak)
	}
	stamp := func(x, y int, ohms float64) {
		if x != y {
			s.stamp(x, y, complex(1/ohms, 0))
		}
	}
	if tied {
		stamp(row[c.index[c.plug.Hot]], row[c.index[c.plug.Neutral]], joinOhms*1e3)
	}
	for _, e := range c.elements {
		x, y := row[e.a], row[e.b]
		switch e.sort {
		case link:
			stamp(x, y, joinOhms*1e3)
		case load:
			ohms := e.ohms
			if e.heater {
				ohms *= ColdHeater
			}
			stamp(x, y, ohms)
		case capacitor:
			if e.leak > 0 {
				stamp(x, y, e.leak)
			}
		case battery, shorted:
			stamp(x, y, e.ohms)
		}
	}
	for _, t := range c.coupled {
		for _, w := range t.windings {
			stamp(row[w.a], row[w.b], w.ohms)
		}
	}
	return &coldSet{s.factor(), row}
}

// coldLeak keeps every node's equation solvable: far above OpenOhms, and no leakage of a set.
const coldLeak = 1e-12 // S
