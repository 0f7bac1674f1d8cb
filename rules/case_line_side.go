package rules

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// lineSide is what is known of the two line conductors of the cord: how each reaches what draws
// current, through which switches, through which fuses. To a person they are the legs.
type lineSide struct {
	circuit *analysis.Circuit
	sound   []*analysis.Wiring
	plain   bool   // the plug's blades are alike: nothing tells which is hot
	earthed string // what of the mains is earthed
	hot     *lineConductor
	neutral *lineConductor
}

// lineConductor is one conductor of the cord, as marked, and what it feeds.
type lineConductor struct {
	name  string // "hot" or "neutral"
	blade string // the node of its blade
	other *lineConductor
	// ahead are the nodes that the blade reaches through wires, fuses and voltage plugs, before any
	// switch.
	ahead map[string]bool
	// feeds are the channels that the blade feeds by conductors, by combination of switch positions;
	// a channel counts if in some combination it leads on to the other blade.
	feeds []map[analysis.Channel]bool
	// leads are those that in that very combination lead on to the other blade.
	leads []map[analysis.Channel]bool
	// full are the switches that by themselves take everything off the conductor but what hangs ahead
	// of every switch; partly are those that take something off.
	full, partly []string
	// stops are the switches that, wherever they stand, leave no path on to the other blade.
	stops []string
	// fuses are the fuses of which something that the conductor feeds hangs behind, and unfused the
	// parts that it feeds past every fuse.
	fuses, unfused []string
}

// at is the node of its blade, fit for a terminal.
func (l *lineConductor) at() string { return netlist.Visible(l.blade) }

// everAcross reports whether conductors put two nodes across the line in any switch position.
func (s *lineSide) everAcross(a, b string) bool {
	return slices.ContainsFunc(s.sound, func(w *analysis.Wiring) bool { return w.AcrossLine(a, b) })
}

// onBlade reports whether conductors join a node to either blade.
func (s *lineSide) onBlade(w *analysis.Wiring, node string) bool {
	return w.Joined(node, s.hot.blade) || w.Joined(node, s.neutral.blade)
}

// Fed reports whether anything of the set draws current from one blade of the plug to the other, in any
// position of the switches. A set of which nothing does is off the line, and little is found in it.
func (r *Report) Fed() bool { return r.Case.fed }

func (s *lineSide) feeds() bool { return slices.ContainsFunc(s.hot.leads, some) }

func some(channels map[analysis.Channel]bool) bool { return len(channels) > 0 }

// leadsNowhere reports whether no part at all leads from one blade of the plug to the other.
func (s *lineSide) leadsNowhere() bool {
	return !s.feeds() && !slices.ContainsFunc(s.sound, func(w *analysis.Wiring) bool { return w.Joined(s.hot.blade, s.neutral.blade) })
}

// findLineSide looks at the two line conductors.
func (k *Facts) findLineSide() *lineSide {
	_, plug := k.Set.Plug()
	s := &lineSide{circuit: k.Circuit, plain: plug.Style == "plain", earthed: k.Set.Earthed}
	for _, w := range k.sound {
		if k.Circuit.AtRest(w.State) {
			s.sound = append(s.sound, w) // what no control changes
		}
	}
	s.hot, s.neutral = &lineConductor{name: "hot", blade: plug.Hot}, &lineConductor{name: "neutral", blade: plug.Neutral}
	s.hot.other, s.neutral.other = s.neutral, s.hot
	feeding := func(ch analysis.Channel) bool { return ch.Sort == analysis.Load || ch.Sort == analysis.Rectifying }
	s.follow(feeding)
	if !slices.ContainsFunc(s.hot.feeds, some) && !slices.ContainsFunc(s.neutral.feeds, some) {
		// Nothing draws a working current: then whatever else lies on the line is what it feeds.
		s.follow(func(ch analysis.Channel) bool { return !conducts(ch) && notInsulating(ch) })
	}
	return s
}

// follow finds what either conductor feeds, of the channels that feeding picks.
func (s *lineSide) follow(feeding func(analysis.Channel) bool) {
	for _, l := range []*lineConductor{s.hot, s.neutral} {
		*l = lineConductor{name: l.name, blade: l.blade, other: l.other}
		l.ahead = setOf(s.sound[0].Reached(l.blade, nil, s.beforeSwitch))
		counts := map[analysis.Channel]bool{}
		for _, w := range s.sound {
			leads := l.fed(w, nothing, feeding, nil)
			l.leads = append(l.leads, leads)
			for ch := range leads {
				counts[ch] = true
			}
		}
		for _, w := range s.sound {
			l.feeds = append(l.feeds, l.fed(w, nothing, feeding, counts))
		}
		s.findSwitches(l)
		s.findFuses(l, feeding, counts)
	}
}

// findFuses finds the fuses of a conductor, and what it feeds past them.
func (s *lineSide) findFuses(l *lineConductor, feeding func(analysis.Channel) bool, counts map[analysis.Channel]bool) {
	unfused := map[string]bool{}
	for _, w := range s.sound {
		for ch := range l.fed(w, s.isFuse, feeding, counts) {
			unfused[ch.Part] = true
		}
	}
	for _, p := range s.circuit.Set.Parts {
		if unfused[p.Name] {
			l.unfused = append(l.unfused, p.Name)
		}
		if p.Kind != netlist.KindFuse {
			continue
		}
		for i, w := range s.sound {
			this := func(part string) bool { return part == p.Name }
			if within(l.fed(w, this, feeding, counts), l.feeds[i]) {
				l.fuses = append(l.fuses, p.Name)
				break
			}
		}
	}
}

func nothing(string) bool { return false }

func (s *lineSide) isFuse(part string) bool { return s.circuit.Set.Part(part).Kind == netlist.KindFuse }

// fed lists the channels that the blade feeds by conductors, those of some parts left out. Where
// counts is nil, only those that lead on to the other blade in this wiring count.
func (l *lineConductor) fed(w *analysis.Wiring, without func(part string) bool, feeding func(analysis.Channel) bool, counts map[analysis.Channel]bool) map[analysis.Channel]bool {
	conductors := func(ch analysis.Channel) bool { return conducts(ch) && !without(ch.Part) }
	names := w.Reached(l.blade, nil, conductors)
	group := setOf(names)
	fed := map[analysis.Channel]bool{}
	if group[l.other.blade] {
		return fed
	}
	var beyond map[string]bool
	if counts == nil {
		beyond = setOf(w.Reached(l.other.blade, names, func(ch analysis.Channel) bool { return conductors(ch) || feeding(ch) }))
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
func (s *lineSide) findSwitches(l *lineConductor) {
	for _, control := range s.circuit.Switches {
		full, partly, stops := false, false, false
		s.eachTurn(control.Name, func(on, off int) {
			stops = stops || len(l.leads[off]) == 0 && len(l.leads[on]) > 0
			if within(l.feeds[off], l.feeds[on]) {
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
func (s *lineSide) eachTurn(control string, visit func(on, off int)) {
	alike := map[string][]int{}
	var order []string
	for i := range s.sound {
		key := settingsBut(s.sound[i].State, control)
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

// within reports whether some channels are fewer of the others.
func within(x, y map[analysis.Channel]bool) bool {
	for ch := range x {
		if !y[ch] {
			return false
		}
	}
	return len(x) < len(y)
}

// onlyAhead reports whether all of these hang ahead of every switch.
func (l *lineConductor) onlyAhead(fed map[analysis.Channel]bool) bool {
	for ch := range fed {
		if l.ahead[ch.A] == l.ahead[ch.B] {
			return false
		}
	}
	return true
}

// beforeSwitch reports whether a channel is a conductor that no one switches in use: a wire, a fuse,
// the throw of a voltage plug, anything shorted.
func (s *lineSide) beforeSwitch(ch analysis.Channel) bool {
	if !conducts(ch) {
		return false
	}
	switch d := s.circuit.Set.Part(ch.Part).Detail.(type) {
	case *netlist.Switch:
		return false
	case *netlist.Selector:
		return d.Fixed != "" || len(d.Positions) == 1
	}
	return true
}

// hanging lists the parts that draw current from some nodes joined to the conductor's blade: loads,
// rectifiers, capacitors, by which current can go on to the other blade, to an earth or to a hand.
func (s *lineSide) hanging(l *lineConductor, nodes map[string]bool) []string {
	if nodes[l.other.blade] {
		return nil
	}
	set := s.circuit.Set
	var avoid []string
	for _, n := range set.Nodes {
		if nodes[n.Name] {
			avoid = append(avoid, n.Name)
		}
	}
	found := map[string]bool{}
	for _, w := range s.sound {
		goal := setOf(w.ReachedFrom(s.ends(l.other), avoid, notInsulating))
		for _, ch := range w.Channels {
			draws := ch.Sort == analysis.Load || ch.Sort == analysis.Rectifying || ch.Sort == analysis.Capacitive
			if draws && nodes[ch.A] != nodes[ch.B] && (goal[ch.A] || goal[ch.B]) {
				found[ch.Part] = true
			}
		}
	}
	return inOrder(set, found)
}

// ends are the nodes where current from the other conductor may go: this one's blade, every earth,
// every hand.
func (s *lineSide) ends(l *lineConductor) []string {
	set := s.circuit.Set
	_, plug := set.Plug()
	ends := []string{l.blade}
	if plug.Earth != "" {
		ends = append(ends, plug.Earth)
	}
	if set.Node(netlist.BuildingEarth) != nil {
		ends = append(ends, netlist.BuildingEarth)
	}
	for _, n := range set.TouchPoints() {
		ends = append(ends, n.Name)
	}
	return ends
}

// switches are all controls that take something off either conductor or stop all that goes from one to
// the other, in the order of the file.
func (s *lineSide) switches() []string {
	var names []string
	for _, control := range s.circuit.Switches {
		for _, list := range [][]string{s.hot.partly, s.neutral.partly, s.hot.stops, s.neutral.stops} {
			if slices.Contains(list, control.Name) {
				names = append(names, control.Name)
				break
			}
		}
	}
	return names
}

// onlyIn are the switches that open this conductor whole and do not open the other. Left out are those
// that a switch of the other conductor governs, unless the set is dead with them off: a motor's own switch
// behind the line switch leaves the rest playing, but of two line switches, one in each conductor, either
// makes the set look off and leaves it on the conductor of the other.
func (s *lineSide) onlyIn(l *lineConductor) []string {
	rivals := l.other.alone()
	return slices.DeleteFunc(l.alone(), func(name string) bool {
		return !s.deadens(name, l) && slices.ContainsFunc(rivals, func(rival string) bool { return s.governs(rival, name, l) })
	})
}

// governors are the switches of the other conductor alone that govern any of these.
func (s *lineSide) governors(names []string, l *lineConductor) []string {
	return slices.DeleteFunc(l.other.alone(), func(rival string) bool {
		return !slices.ContainsFunc(names, func(name string) bool { return s.governs(rival, name, l) })
	})
}

// alone are the switches that open this conductor whole and not the other.
func (l *lineConductor) alone() []string {
	return slices.DeleteFunc(slices.Clone(l.full), func(name string) bool { return slices.Contains(l.other.full, name) })
}

// deadens reports whether a switch, wherever it takes off something that works, takes off all: what is
// on the line whatever the switches do, and lamps, aside.
func (s *lineSide) deadens(name string, l *lineConductor) bool {
	works := func(leads map[analysis.Channel]bool) bool {
		for ch := range leads {
			always := s.hot.ahead[ch.A] && s.neutral.ahead[ch.B] || s.hot.ahead[ch.B] && s.neutral.ahead[ch.A]
			if !always && s.circuit.Set.Part(ch.Part).Kind != netlist.KindLamp {
				return true
			}
		}
		return false
	}
	takes, leaves := false, false
	s.eachTurn(name, func(on, off int) {
		if within(l.leads[off], l.leads[on]) && works(l.leads[on]) {
			takes, leaves = true, leaves || works(l.leads[off])
		}
	})
	return takes && !leaves
}

// governs reports whether one switch stops all that another takes off a conductor.
func (s *lineSide) governs(rival, name string, l *lineConductor) bool {
	taken := map[analysis.Channel]bool{}
	s.eachTurn(name, func(on, off int) {
		for ch := range l.feeds[on] {
			if within(l.feeds[off], l.feeds[on]) && !l.feeds[off][ch] {
				taken[ch] = true
			}
		}
	})
	s.eachTurn(rival, func(on, off int) {
		for ch := range l.leads[on] {
			if !l.leads[off][ch] {
				delete(taken, ch)
			}
		}
	})
	return len(taken) == 0
}
