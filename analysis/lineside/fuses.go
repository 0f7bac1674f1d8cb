package lineside

import (
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// findFuses finds the fuses of a conductor, and what it feeds past them.
func (s *Side) findFuses(l *Conductor, feeding func(analysis.Channel) bool, counts map[analysis.Channel]bool) {
	unfused := map[string]bool{}
	for _, w := range s.rest {
		for ch := range l.fed(w, s.isFuse, feeding, counts) {
			unfused[ch.Part] = true
		}
	}
	for _, p := range s.circuit.Set.Parts {
		if unfused[p.Name] {
			l.Unfused = append(l.Unfused, p.Name)
		}
		if p.Kind != netlist.KindFuse {
			continue
		}
		for i, w := range s.rest {
			this := func(part string) bool { return part == p.Name }
			if within(l.fed(w, this, feeding, counts), l.feeds[i]) {
				l.Fuses = append(l.Fuses, p.Name)
				break
			}
		}
	}
}

func (s *Side) isFuse(part string) bool { return s.circuit.Set.Part(part).Kind == netlist.KindFuse }

// Fuses are those of either conductor, each once.
func (s *Side) Fuses() []string {
	fuses := slices.Clone(s.Hot.Fuses)
	for _, name := range s.Neutral.Fuses {
		if !slices.Contains(fuses, name) {
			fuses = append(fuses, name)
		}
	}
	return fuses
}

// BeforeFuse lists what hangs between the blade of a conductor and a fuse of it that no switch comes before.
// Where a switch does, it reports so.
func (s *Side) BeforeFuse(l *Conductor, fuse string) (hanging []string, behindSwitch bool) {
	ends := s.circuit.Set.Part(fuse).Detail.(*netlist.Fuse).Ends
	if ahead := s.aheadOfFuses(l); ahead[ends[0]] || ahead[ends[1]] {
		return s.hanging(l, ahead), false
	}
	for _, w := range s.wirings {
		unfused := w.Reached(l.Blade, nil, func(ch analysis.Channel) bool { return ch.Conducts() && !s.isFuse(ch.Part) })
		if slices.Contains(unfused, ends[0]) || slices.Contains(unfused, ends[1]) {
			return nil, true
		}
	}
	return nil, false
}

// BranchFuse is a fuse that a conductor reaches through resistors and the like alone.
type BranchFuse struct {
	Fuse      string
	Conductor *Conductor
	Behind    []string // what stands between the blade and the fuse
}

// BranchFuses are the fuses behind a resistor, a thermistor or a coil of either conductor that carry on to
// something that works: a rectifier, a heater, a lamp, a motor or a winding. A fuse of which resistors
// alone hang is none of the line's.
func (s *Side) BranchFuses() []BranchFuse {
	var all []BranchFuse
	line := s.Fuses()
	for _, p := range s.circuit.Set.Parts {
		f, ok := p.Detail.(*netlist.Fuse)
		if !ok {
			continue
		}
		for _, l := range s.Conductors() {
			if behind := s.behindSeries(l, f.Ends); len(behind) > 0 && !slices.Contains(line, p.Name) {
				all = append(all, BranchFuse{p.Name, l, behind})
				break
			}
		}
	}
	return all
}

// behindSeries lists the parts in series through which a conductor reaches one end of a fuse, where the other
// end leads on through something that works to the other conductor; nil where it does not.
func (s *Side) behindSeries(l *Conductor, ends [2]string) []string {
	series := func(ch analysis.Channel) bool { return ch.Conducts() && !s.isFuse(ch.Part) || s.inSeries(ch) }
	for _, w := range s.rest {
		other := w.Reached(l.Other.Blade, nil, analysis.Channel.Conducts)
		near := w.Reached(l.Blade, other, series)
		for i, end := range ends {
			if w.Joined(l.Blade, l.Other.Blade) || !slices.Contains(near, end) || slices.Contains(near, ends[1-i]) {
				continue
			}
			behind := setOf(w.Reached(ends[1-i], slices.Concat(near, other), func(ch analysis.Channel) bool { return ch.Conducts() || s.inSeries(ch) }))
			beyond := setOf(w.Reached(l.Other.Blade, near, func(ch analysis.Channel) bool { return ch.Passes() && !behind[ch.A] && !behind[ch.B] }))
			works := func(ch analysis.Channel) bool {
				far := ch.A
				if behind[far] {
					far = ch.B
				}
				if !behind[ch.A] && !behind[ch.B] || !beyond[far] {
					return false
				}
				// A rectifier at the other blade has its load on this side: the fuse is behind the rectifier.
				return ch.Sort == analysis.Load && !s.inSeries(ch) || ch.Sort == analysis.Rectifying && !slices.Contains(other, far)
			}
			if path, ok := w.Shortest(l.Blade, end, analysis.Query{Avoid: other, Pass: series}); ok && slices.ContainsFunc(w.Channels, works) {
				path.Steps = slices.DeleteFunc(path.Steps, func(step analysis.Step) bool { return step.Conducts() })
				return path.Parts()
			}
		}
	}
	return nil
}

// inSeries reports whether a channel is of a part that stands in series with what works: a resistor, a
// thermistor, a potentiometer, a coil.
func (s *Side) inSeries(ch analysis.Channel) bool {
	switch s.circuit.Set.Part(ch.Part).Kind {
	case netlist.KindResistor, netlist.KindThermistor, netlist.KindPotentiometer, netlist.KindCoil:
		return ch.Sort == analysis.Load
	}
	return false
}
