package diagnose

import (
	"fmt"
	"math"
	"slices"

	"coldcheck/analysis"
)

// turned lists the measurements once more with each control in turn at its ends, of those controls
// that may shift the reading by more than a meter does: what a control at rest holds back, one at its
// end may not.
func (l *Checklist) turned(ms []Measurement) []Measurement {
	c := l.Circuit
	if len(c.Controls) == 0 {
		return nil
	}
	var ends []Measurement
	var rest, control []int // by end: the place of its measurement at rest, and which control is turned
	for k, m := range ms {
		for position := range c.Positions {
			if p := c.Positions[position]; p.Away == 1 && slices.Equal(p.Settings, m.Settings) {
				ends, rest = append(ends, atPosition(c, m, position)), append(rest, k)
				control = append(control, slices.IndexFunc(c.Controls, func(x analysis.Control) bool { return !at(p.Controls, x.Name, x.Positions[0]) }))
			}
		}
	}
	g, err := newGauge(c.Set, c.Bench, slices.Concat(ms, ends), false)
	if err != nil {
		return nil
	}
	shows := g.predictIdle(nil, false)
	matters := map[[2]int]bool{}
	for i := range ends {
		before, now := shows[rest[i]], shows[len(ms)+i]
		if math.Abs(now-before) > MeterShare*math.Abs(before)+ms[rest[i]].meterFloor() {
			matters[[2]int{rest[i], control[i]}] = true
		}
	}
	var kept []Measurement
	for i, m := range ends {
		if matters[[2]int{rest[i], control[i]}] {
			kept = append(kept, m)
		}
	}
	return kept
}

// meterFloor is what a meter may be off whatever the size of what it reads.
func (m Measurement) meterFloor() float64 {
	if m.Quantity == OhmsRead {
		return ohmsFloor
	}
	return voltsFloor
}

func at(settings []analysis.Setting, name, position string) bool {
	return slices.Contains(settings, analysis.Setting{Name: name, At: position})
}

// restKey tells apart what is measured, and where the switches stand, but not where the controls do.
func (m Measurement) restKey() string {
	return fmt.Sprintf("%q %q %s %s %v %t", m.A, m.B, m.Quantity, m.Plug, m.Settings, m.Tied)
}

// away is the control that a measurement has turned to an end, "" where all are at rest.
func (l *Checklist) away(m Measurement) string {
	for _, x := range l.Circuit.Controls {
		if !at(m.Controls, x.Name, x.Positions[0]) {
			return x.Name
		}
	}
	return ""
}

// withEnds drops checks at the ends of controls that read there as they do at rest, within the band.
// Where one end of a control reads otherwise, both are kept.
func (l *Checklist) withEnds(checks []Check) []Check {
	rest, shifts := map[string]Check{}, map[string]bool{}
	for _, check := range checks {
		if l.away(check.Measurement) == "" {
			rest[check.restKey()] = check
		}
	}
	for _, check := range checks {
		home := rest[check.restKey()]
		if check.Expect < home.Low || check.Expect > home.High {
			shifts[check.restKey()+l.away(check.Measurement)] = true
		}
	}
	return slices.DeleteFunc(checks, func(check Check) bool {
		control := l.away(check.Measurement)
		return control != "" && !shifts[check.restKey()+control]
	})
}

// hotTurned lists the pairs of hot measurements at the ends of controls: both of a pair where either
// may shift.
func (l *Checklist) hotTurned(pairs []Measurement) []Measurement {
	shift := map[string]bool{}
	for _, m := range l.turned(pairs) {
		shift[fmt.Sprintf("%q %s %d", m.A, m.Plug, m.position)] = true
	}
	var ms []Measurement
	for position := range l.Circuit.Positions {
		p := l.Circuit.Positions[position]
		for _, m := range pairs {
			if p.Away == 1 && slices.Equal(p.Settings, m.Settings) && shift[fmt.Sprintf("%q %s %d", m.A, m.Plug, position)] {
				ms = append(ms, atPosition(l.Circuit, m, position))
			}
		}
	}
	return ms
}

// hotEnds is withEnds for hot checks: those at the ends of a control are kept as well where the metal is
// live there and not at rest.
func (l *Checklist) hotEnds(all []HotCheck) []HotCheck {
	rest, shifts := map[string]*HotCheck{}, map[string]bool{}
	for i := range all {
		if h := &all[i]; l.away(h.Volts.Measurement) == "" {
			rest[h.Volts.restKey()] = h
		}
	}
	outside := func(now, before Check) bool { return now.Expect < before.Low || now.Expect > before.High }
	for i := range all {
		h := &all[i]
		home := rest[h.Volts.restKey()]
		if outside(h.Volts, home.Volts) || outside(h.Load, home.Load) || h.Do() != home.Do() || len(h.May) > 0 && len(home.May) == 0 {
			shifts[h.Volts.restKey()+l.away(h.Volts.Measurement)] = true
		}
	}
	return slices.DeleteFunc(all, func(h HotCheck) bool {
		control := l.away(h.Volts.Measurement)
		return control != "" && !shifts[h.Volts.restKey()+control]
	})
}

// inPlace puts what belongs together side by side, in the order in which the first of each came: the
// ends of a control stand with the same measurement at rest.
func inPlace[T any](all []T, key func(*T) string) {
	first := map[string]int{}
	for i := range all {
		if k := key(&all[i]); first[k] == 0 {
			first[k] = i + 1
		}
	}
	slices.SortStableFunc(all, func(a, b T) int { return first[key(&a)] - first[key(&b)] })
}
