package rules

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// lineSide is how the two conductors of the cord reach what draws current: through which switches,
// through which fuses.
type lineSide struct {
	k       *Case
	plain   bool
	hot     *leg // as marked
	neutral *leg
}

// leg is one conductor of the cord and what it feeds.
type leg struct {
	blade, other string
	// ahead are the nodes that the blade reaches through wires, fuses and voltage plugs, before any
	// switch.
	ahead map[string]bool
	// feeds are the channels that the blade feeds by conductors, by combination of switch positions;
	// a channel counts if in some combination it leads on to the other blade.
	feeds []map[analysis.Channel]bool
	// leads are those that in that very combination lead on to the other blade.
	leads []map[analysis.Channel]bool
	// full are the switches that by themselves take everything off the leg but what hangs ahead of
	// every switch; partly are those that take something off.
	full, partly []string
	// stops are the switches that, wherever they stand, leave no way on to the other blade.
	stops []string
	// fuses are the fuses of which something that the leg feeds hangs behind, and unfused the parts
	// that it feeds past every fuse.
	fuses, unfused []string
}

// oneWay are the wirings of one plug way, for turning the plug changes no wiring: with the shorts of
// failed parts left out, which hide what the wiring is.
func (k *Case) oneWay() []*analysis.Wiring {
	if k.sound == nil {
		for _, w := range k.wirings[:len(k.wirings)/2] {
			state := w.State
			state.Without = true
			k.sound = append(k.sound, k.Circuit.Wiring(state))
		}
	}
	return k.sound
}

// Fed tells whether anything of the set draws current from one blade of the plug to the other, in any
// position of the switches. A set of which nothing does is off the line, and little is found in it.
func (r *Report) Fed() bool {
	draws := func(leads map[analysis.Channel]bool) bool { return len(leads) > 0 }
	return slices.ContainsFunc(r.Case.lineSide().hot.leads, draws)
}

// leadsNowhere tells whether no part at all leads from one blade of the plug to the other.
func (s *lineSide) leadsNowhere() bool {
	leads := func(m map[analysis.Channel]bool) bool { return len(m) > 0 }
	return !slices.ContainsFunc(s.hot.leads, leads) && !slices.ContainsFunc(s.k.oneWay(), func(w *analysis.Wiring) bool {
		return w.Joined(s.hot.blade, s.neutral.blade)
	})
}

// findLineSide looks at the two legs.
func (k *Case) findLineSide() *lineSide {
	_, plug := k.Set.Plug()
	s := &lineSide{k: k, plain: plug.Style == "plain"}
	feeding := func(ch analysis.Channel) bool { return ch.Sort == analysis.Load || ch.Sort == analysis.Rectifying }
	s.hot, s.neutral = s.leg(plug.Hot, plug.Neutral, feeding), s.leg(plug.Neutral, plug.Hot, feeding)
	if s.hot.feedsNothing() && s.neutral.feedsNothing() {
		// Nothing draws a working current: then whatever else lies on the line is what it feeds.
		anything := func(ch analysis.Channel) bool {
			return ch.Sort != analysis.Conductor && ch.Sort != analysis.Insulating
		}
		s.hot, s.neutral = s.leg(plug.Hot, plug.Neutral, anything), s.leg(plug.Neutral, plug.Hot, anything)
	}
	return s
}

func (l *leg) feedsNothing() bool {
	return !slices.ContainsFunc(l.feeds, func(m map[analysis.Channel]bool) bool { return len(m) > 0 })
}

func (s *lineSide) leg(blade, other string, feeding func(analysis.Channel) bool) *leg {
	wirings := s.k.oneWay()
	l := &leg{blade: blade, other: other, ahead: setOf(wirings[0].Reached(blade, nil, s.k.beforeSwitch))}
	counts := map[analysis.Channel]bool{}
	for _, w := range wirings {
		leads := feedsOf(w, l, nothing, feeding, nil)
		l.leads = append(l.leads, leads)
		for ch := range leads {
			counts[ch] = true
		}
	}
	for _, w := range wirings {
		l.feeds = append(l.feeds, feedsOf(w, l, nothing, feeding, counts))
	}
	l.findSwitches(s.k)
	for _, p := range s.k.Set.Parts {
		if p.Kind == netlist.KindFuse && l.behindFuse(p.Name, wirings, feeding, counts) {
			l.fuses = append(l.fuses, p.Name)
		}
	}
	unfused := map[string]bool{}
	for _, w := range wirings {
		for ch := range feedsOf(w, l, s.k.isFuse, feeding, counts) {
			unfused[ch.Part] = true
		}
	}
	l.unfused = s.k.inOrder(unfused)
	return l
}

func nothing(string) bool { return false }

func (k *Case) isFuse(part string) bool { return k.Set.Part(part).Kind == netlist.KindFuse }

// inOrder gives names of parts in the order of the file.
func (k *Case) inOrder(names map[string]bool) []string {
	var parts []string
	for _, p := range k.Set.Parts {
		if names[p.Name] {
			parts = append(parts, p.Name)
		}
	}
	return parts
}

// feedsOf lists the channels that a blade feeds by conductors, those of some parts left out. Where
// counts is nil, only those that lead on to the other blade in this wiring count.
func feedsOf(w *analysis.Wiring, l *leg, without func(part string) bool, feeding func(analysis.Channel) bool, counts map[analysis.Channel]bool) map[analysis.Channel]bool {
	conductors := func(ch analysis.Channel) bool { return ch.Sort == analysis.Conductor && !without(ch.Part) }
	names := w.Reached(l.blade, nil, conductors)
	group := setOf(names)
	fed := map[analysis.Channel]bool{}
	if group[l.other] {
		return fed
	}
	var beyond map[string]bool
	if counts == nil {
		beyond = setOf(w.Reached(l.other, names, func(ch analysis.Channel) bool { return conductors(ch) || feeding(ch) }))
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

// findSwitches compares the combinations that differ in one control alone.
func (l *leg) findSwitches(k *Case) {
	for _, control := range k.Circuit.Switches {
		full, partly, stops := false, false, false
		k.eachTurn(control.Name, func(on, off int) {
			stops = stops || len(l.leads[off]) == 0 && len(l.leads[on]) > 0
			if lessThan(l.feeds[off], l.feeds[on]) {
				partly = true
				full = full || l.onlyAhead(l.feeds[off]) && !l.onlyAhead(l.feeds[on])
			}
		})
		if partly {
			l.partly = append(l.partly, control.Name)
		}
		if full {
			l.full = append(l.full, control.Name)
		}
		if stops {
			l.stops = append(l.stops, control.Name)
		}
	}
}

// eachTurn visits every two combinations, in either order, that differ in one control alone.
func (k *Case) eachTurn(control string, visit func(on, off int)) {
	states := k.Circuit.Normal()
	alike := map[string][]int{}
	var order []string
	for i, s := range states[:len(states)/2] {
		key := settingsBut(s, control)
		if alike[key] == nil {
			order = append(order, key)
		}
		alike[key] = append(alike[key], i)
	}
	for _, key := range order {
		for _, on := range alike[key] {
			for _, off := range alike[key] {
				if on != off {
					visit(on, off)
				}
			}
		}
	}
}

func settingsBut(s analysis.State, control string) string {
	key := ""
	for _, x := range s.Settings {
		if x.Name != control {
			key += x.At + "\x00"
		}
	}
	return key
}

func lessThan(x, y map[analysis.Channel]bool) bool {
	for ch := range x {
		if !y[ch] {
			return false
		}
	}
	return len(x) < len(y)
}

// onlyAhead tells whether all of these hang ahead of every switch.
func (l *leg) onlyAhead(fed map[analysis.Channel]bool) bool {
	for ch := range fed {
		if l.ahead[ch.A] == l.ahead[ch.B] {
			return false
		}
	}
	return true
}

func (l *leg) behindFuse(fuse string, wirings []*analysis.Wiring, feeding func(analysis.Channel) bool, counts map[analysis.Channel]bool) bool {
	one := func(part string) bool { return part == fuse }
	for i, w := range wirings {
		if lessThan(feedsOf(w, l, one, feeding, counts), l.feeds[i]) {
			return true
		}
	}
	return false
}

// beforeSwitch tells whether a channel is a conductor that no one switches in use: a wire, a fuse,
// the throw of a voltage plug, anything shorted.
func (k *Case) beforeSwitch(ch analysis.Channel) bool {
	if ch.Sort != analysis.Conductor {
		return false
	}
	switch d := k.Set.Part(ch.Part).Detail.(type) {
	case *netlist.Switch:
		return false
	case *netlist.Selector:
		return d.Fixed != "" || len(d.Positions) == 1
	}
	return true
}

// hanging lists the parts that draw current from some nodes joined to a blade: loads, rectifiers,
// capacitors, by which current can go on to the other blade, to an earth or to a hand.
func (k *Case) hanging(nodes map[string]bool, other string) []string {
	if nodes[other] {
		return nil
	}
	avoid := listOf(k.Set, nodes)
	passes := func(ch analysis.Channel) bool { return ch.Sort != analysis.Insulating }
	found := map[string]bool{}
	for _, w := range k.oneWay() {
		goal := setOf(w.ReachedFrom(k.ends(other), avoid, passes))
		for _, ch := range w.Channels {
			if ch.Sort != analysis.Load && ch.Sort != analysis.Rectifying && ch.Sort != analysis.Capacitive {
				continue
			}
			if nodes[ch.A] != nodes[ch.B] && (goal[ch.A] || goal[ch.B]) {
				found[ch.Part] = true
			}
		}
	}
	return k.inOrder(found)
}

// ends are the nodes where current from one blade may go: the other blade, every earth, every hand.
func (k *Case) ends(other string) []string {
	_, plug := k.Set.Plug()
	ends := []string{other}
	if plug.Earth != "" {
		ends = append(ends, plug.Earth)
	}
	if k.Set.Node(netlist.BuildingEarth) != nil {
		ends = append(ends, netlist.BuildingEarth)
	}
	for _, n := range k.Set.TouchPoints() {
		ends = append(ends, n.Name)
	}
	return ends
}

// switches are all controls that take something off either leg or stop all that goes from one to
// the other, in the order of the file.
func (s *lineSide) switches() []string {
	var names []string
	for _, control := range s.k.Circuit.Switches {
		for _, list := range [][]string{s.hot.partly, s.neutral.partly, s.hot.stops, s.neutral.stops} {
			if slices.Contains(list, control.Name) {
				names = append(names, control.Name)
				break
			}
		}
	}
	return names
}

// onlyIn are the switches that open this leg whole and do not open the other. Left out are those
// that a switch of the other leg governs, unless the set is dead with them off: a motor's own switch
// behind the line switch leaves the rest playing, but of two line switches, one in each leg, either
// makes the set look off and leaves it on the leg of the other.
func (s *lineSide) onlyIn(l, other *leg) []string {
	rivals := alone(other, l)
	return slices.DeleteFunc(alone(l, other), func(name string) bool {
		return !s.deadens(name, l) && slices.ContainsFunc(rivals, func(rival string) bool { return s.governs(rival, name, l) })
	})
}

// governors are the switches of the other leg alone that govern any of these.
func (s *lineSide) governors(names []string, l, other *leg) []string {
	return slices.DeleteFunc(alone(other, l), func(rival string) bool {
		return !slices.ContainsFunc(names, func(name string) bool { return s.governs(rival, name, l) })
	})
}

// alone are the switches that open one leg whole and not the other.
func alone(l, other *leg) []string {
	return slices.DeleteFunc(slices.Clone(l.full), func(name string) bool { return slices.Contains(other.full, name) })
}

// deadens tells whether a switch, wherever it takes off something that works, takes off all: what is
// on the line whatever the switches do, and lamps, aside.
func (s *lineSide) deadens(name string, l *leg) bool {
	works := func(leads map[analysis.Channel]bool) bool {
		for ch := range leads {
			always := s.hot.ahead[ch.A] && s.neutral.ahead[ch.B] || s.hot.ahead[ch.B] && s.neutral.ahead[ch.A]
			if !always && s.k.Set.Part(ch.Part).Kind != netlist.KindLamp {
				return true
			}
		}
		return false
	}
	takes, leaves := false, false
	s.k.eachTurn(name, func(on, off int) {
		if lessThan(l.leads[off], l.leads[on]) && works(l.leads[on]) {
			takes, leaves = true, leaves || works(l.leads[off])
		}
	})
	return takes && !leaves
}

// governs tells whether one switch stops all that another takes off a leg.
func (s *lineSide) governs(rival, name string, l *leg) bool {
	taken := map[analysis.Channel]bool{}
	s.k.eachTurn(name, func(on, off int) {
		for ch := range l.feeds[on] {
			if lessThan(l.feeds[off], l.feeds[on]) && !l.feeds[off][ch] {
				taken[ch] = true
			}
		}
	})
	s.k.eachTurn(rival, func(on, off int) {
		for ch := range l.leads[on] {
			if !l.leads[off][ch] {
				delete(taken, ch)
			}
		}
	})
	return len(taken) == 0
}

func setOf(names []string) map[string]bool {
	set := map[string]bool{}
	for _, n := range names {
		set[n] = true
	}
	return set
}

// listOf gives the nodes of a set of nodes in the order of the file.
func listOf(s *netlist.Set, nodes map[string]bool) []string {
	var names []string
	for _, n := range s.Nodes {
		if nodes[n.Name] {
			names = append(names, n.Name)
		}
	}
	return names
}
