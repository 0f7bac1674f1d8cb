package lineside

import (
	"slices"

	"coldcheck/analysis"
)

// Side is the two line conductors of a set's cord, and what each of them feeds. It does not change once
// it is made.
type Side struct {
	Hot, Neutral *Conductor

	circuit *analysis.Circuit
	wirings []*analysis.Wiring
	rest    []*analysis.Wiring // of those with every control at rest: no control changes what a conductor feeds
}

// Conductor is one conductor of the cord, as marked, and what it feeds.
type Conductor struct {
	Name  string // "hot" or "neutral"
	Blade string // the node of its blade
	Other *Conductor
	// Full are the switches that by themselves, the others in some position, take everything off the
	// conductor but what hangs ahead of every switch; Partly are those that take something off.
	Full, Partly []string
	// Fuses are the fuses of which something that the conductor feeds hangs behind, and Unfused the
	// parts that it feeds past every fuse.
	Fuses, Unfused []string

	// stops are the switches that in some position leave no path on to the other blade.
	stops []string
	// ahead are the nodes that the blade reaches through wires, fuses and voltage plugs, before any
	// switch.
	ahead map[string]bool
	// feeds are the channels that the blade feeds by conductors, by combination of switch positions;
	// a channel counts if in some combination it leads on to the other blade.
	feeds []map[analysis.Channel]bool
	// leads are those that in that very combination lead on to the other blade.
	leads []map[analysis.Channel]bool
}

// wiringsOf are the wirings of a circuit in every position of its switches and controls, with nothing failed:
// in one plug polarity, for turning the plug changes none of them, and without the shorts of failed parts,
// which hide what the wiring is.
func wiringsOf(c *analysis.Circuit) []*analysis.Wiring {
	var wirings []*analysis.Wiring
	for _, state := range c.Normal() {
		if state.Plug == analysis.AsMarked {
			state.Without = true
			wirings = append(wirings, c.Wiring(state))
		}
	}
	return wirings
}

// Of looks at the two line conductors of a circuit.
func Of(c *analysis.Circuit) *Side {
	_, plug := c.Set.Plug()
	s := &Side{circuit: c, wirings: wiringsOf(c)}
	for _, w := range s.wirings {
		if c.AtRest(w.State) {
			s.rest = append(s.rest, w)
		}
	}
	s.Hot, s.Neutral = &Conductor{Name: "hot", Blade: plug.Hot}, &Conductor{Name: "neutral", Blade: plug.Neutral}
	s.Hot.Other, s.Neutral.Other = s.Neutral, s.Hot
	s.follow(func(ch analysis.Channel) bool { return ch.Sort == analysis.Load || ch.Sort == analysis.Rectifying })
	if !slices.ContainsFunc(s.Hot.feeds, some) && !slices.ContainsFunc(s.Neutral.feeds, some) {
		// Nothing draws a working current: then whatever else lies on the line is what it feeds.
		s.follow(func(ch analysis.Channel) bool { return !ch.Conducts() && ch.Passes() })
	}
	return s
}

// Conductors are both, the hot one first.
func (s *Side) Conductors() []*Conductor { return []*Conductor{s.Hot, s.Neutral} }

// follow finds what either conductor feeds, of the channels that feeding picks.
func (s *Side) follow(feeding func(analysis.Channel) bool) {
	for _, l := range s.Conductors() {
		*l = Conductor{Name: l.Name, Blade: l.Blade, Other: l.Other}
		l.ahead = setOf(s.rest[0].Reached(l.Blade, nil, s.beforeSwitch))
		counts := map[analysis.Channel]bool{}
		for _, w := range s.rest {
			leads := l.fed(w, nothing, feeding, nil)
			l.leads = append(l.leads, leads)
			for ch := range leads {
				counts[ch] = true
			}
		}
		for _, w := range s.rest {
			l.feeds = append(l.feeds, l.fed(w, nothing, feeding, counts))
		}
		s.findSwitches(l)
		s.findFuses(l, feeding, counts)
	}
}

// fed lists the channels that the blade feeds by conductors, those of some parts left out. Where
// counts is nil, only those that lead on to the other blade in this wiring count.
func (l *Conductor) fed(w *analysis.Wiring, without func(part string) bool, feeding func(analysis.Channel) bool, counts map[analysis.Channel]bool) map[analysis.Channel]bool {
	conductors := func(ch analysis.Channel) bool { return ch.Conducts() && !without(ch.Part) }
	names := w.Reached(l.Blade, nil, conductors)
	group := setOf(names)
	fed := map[analysis.Channel]bool{}
	if group[l.Other.Blade] {
		return fed
	}
	var beyond map[string]bool
	if counts == nil {
		beyond = setOf(w.Reached(l.Other.Blade, names, func(ch analysis.Channel) bool { return conductors(ch) || feeding(ch) }))
	}
	for _, ch := range w.Channels {
		if !feeding(ch) || group[ch.A] == group[ch.B] {
			continue
		}
		far := ch.A
		if group[far] {
			far = ch.B
		}
		if counts == nil && beyond[far] || counts[ch] {
			fed[ch] = true
		}
	}
	return fed
}

func nothing(string) bool { return false }

// within reports whether some channels are fewer of the others.
func within(x, y map[analysis.Channel]bool) bool {
	for ch := range x {
		if !y[ch] {
			return false
		}
	}
	return len(x) < len(y)
}

func some(channels map[analysis.Channel]bool) bool { return len(channels) > 0 }

func setOf(names []string) map[string]bool {
	set := map[string]bool{}
	for _, n := range names {
		set[n] = true
	}
	return set
}

// EverJoined reports whether conductors join two nodes in any position of the switches and the controls.
func (s *Side) EverJoined(a, b string) bool {
	return slices.ContainsFunc(s.wirings, func(w *analysis.Wiring) bool { return w.Joined(a, b) })
}

// EverAcross reports whether conductors put two nodes across the line in any switch position.
func (s *Side) EverAcross(a, b string) bool {
	return slices.ContainsFunc(s.rest, func(w *analysis.Wiring) bool { return w.AcrossLine(a, b) })
}

// AlwaysAcross reports whether conductors put two nodes across the line in every switch position.
func (s *Side) AlwaysAcross(a, b string) bool {
	return !slices.ContainsFunc(s.rest, func(w *analysis.Wiring) bool { return !w.AcrossLine(a, b) })
}

// onBlade reports whether conductors join a node to either blade.
func (s *Side) onBlade(w *analysis.Wiring, node string) bool {
	return w.Joined(node, s.Hot.Blade) || w.Joined(node, s.Neutral.Blade)
}

// Feeds reports whether anything draws current from one blade of the plug to the other, in any position of
// the switches.
func (s *Side) Feeds() bool { return slices.ContainsFunc(s.Hot.leads, some) }

// LeadsNowhere reports whether no part at all leads from one blade of the plug to the other.
func (s *Side) LeadsNowhere() bool {
	return !s.Feeds() && !slices.ContainsFunc(s.rest, func(w *analysis.Wiring) bool { return w.Joined(s.Hot.Blade, s.Neutral.Blade) })
}
