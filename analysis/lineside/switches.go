package lineside

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// findSwitches compares the combinations that differ in one control alone.
func (s *Side) findSwitches(l *Conductor) {
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
			l.Partly = append(l.Partly, control.Name)
		}
		if full {
			l.Full = append(l.Full, control.Name)
		}
		if stops {
			l.stops = append(l.stops, control.Name)
		}
	}
}

// eachTurn visits every two combinations, in either order, that differ in one control alone.
func (s *Side) eachTurn(control string, visit func(on, off int)) {
	alike := map[string][]int{}
	var order []string
	for i := range s.rest {
		key := settingsBut(s.rest[i].State, control)
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

// settingsBut tells where all switches but one stand.
func settingsBut(s analysis.State, control string) string {
	key := ""
	for _, x := range s.Settings {
		if x.Name != control {
			key += x.At + "\x00"
		}
	}
	return key
}

// onlyAhead reports whether all of these hang ahead of every switch.
func (l *Conductor) onlyAhead(fed map[analysis.Channel]bool) bool {
	for ch := range fed {
		if l.ahead[ch.A] == l.ahead[ch.B] {
			return false
		}
	}
	return true
}

// Switches are all controls that take something off either conductor or stop all that goes from one to
// the other, in the order of the file.
func (s *Side) Switches() []string {
	var names []string
	for _, control := range s.circuit.Switches {
		for _, list := range [][]string{s.Hot.Partly, s.Neutral.Partly, s.Hot.stops, s.Neutral.stops} {
			if slices.Contains(list, control.Name) {
				names = append(names, control.Name)
				break
			}
		}
	}
	return names
}

// OnlyIn are the switches that open this conductor whole and do not open the other. Left out are those
// that a switch of the other conductor governs, unless the set is dead with them off: a motor's own switch
// behind the line switch leaves the rest playing, but of two line switches, one in each conductor, either
// makes the set look off and leaves it on the conductor of the other.
func (s *Side) OnlyIn(l *Conductor) []string {
	rivals := l.Other.alone()
	return slices.DeleteFunc(l.alone(), func(name string) bool {
		return !s.deadens(name, l) && slices.ContainsFunc(rivals, func(rival string) bool { return s.governs(rival, name, l) })
	})
}

// Governors are the switches of the other conductor alone that govern any of these.
func (s *Side) Governors(names []string, l *Conductor) []string {
	return slices.DeleteFunc(l.Other.alone(), func(rival string) bool {
		return !slices.ContainsFunc(names, func(name string) bool { return s.governs(rival, name, l) })
	})
}

// alone are the switches that open this conductor whole and not the other.
func (l *Conductor) alone() []string {
	return slices.DeleteFunc(slices.Clone(l.Full), func(name string) bool { return slices.Contains(l.Other.Full, name) })
}

// deadens reports whether a switch, wherever it takes off something that works, takes off all: what is
// on the line whatever the switches do, and lamps, aside.
func (s *Side) deadens(name string, l *Conductor) bool {
	works := func(leads map[analysis.Channel]bool) bool {
		for ch := range leads {
			always := s.Hot.ahead[ch.A] && s.Neutral.ahead[ch.B] || s.Hot.ahead[ch.B] && s.Neutral.ahead[ch.A]
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
func (s *Side) governs(rival, name string, l *Conductor) bool {
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
