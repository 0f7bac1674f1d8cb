package analysis

import "slices"

// Worst is the worst of several states: what is read, and the state. A nil *Worst says that every
// state of its kind was cleared.
type Worst struct {
	Reading
	State State
}

// tieShare: what is within 1 % of the worst is as bad, and of those the plainest state is told.
const tieShare = 0.99

// worst gathers readings and keeps those that may still be the worst.
type worst struct {
	band  Band
	most  float64
	seen  []Worst
	plain []plainness // of seen
}

// plainness orders states that are as bad as each other: least cost, fewest faults, no rectifier
// conducting, plug as marked, then the faults in the order of the file. Of equals the earlier wins.
type plainness [4 + worstFaults]int

// worstFaults is how many faults the worst at one fault may hold: one that costs, and one for which
// no one vouches.
const worstFaults = 2

func plainnessOf(faults []*Fault, rectifier string, way Way) plainness {
	p := plainness{costOf(faults), len(faults), flag(rectifier != ""), flag(way != AsMarked)}
	for i, f := range faults[:min(len(faults), worstFaults)] {
		p[4+i] = f.index
	}
	return p
}

func (p plainness) compare(q plainness) int { return slices.Compare(p[:], q[:]) }

// hopeless tells whether a reading of such open volts cannot be the worst, whatever stands behind them:
// no set of passive parts has an impedance of less than 0 Ω real, so that the body's own resistance
// bounds the current.
func (w *worst) hopeless(volts, dcVolts, bodyOhms float64) bool {
	if len(w.seen) == 0 {
		return false
	}
	most := Reading{VoltsOpen: volts, Milliamps: 1e3 * volts / bodyOhms, VoltsDC: dcVolts, MilliampsDC: 1e3 * dcVolts / BodyDCOhms}
	band := most.Band()
	return band < w.band || band == w.band && most.Severity() < hopelessShare*w.most
}

// hopelessShare is tieShare with room for the last digits.
const hopelessShare = 0.98

func (w *worst) add(r Reading, plain plainness, state func() State) {
	band, severity := r.Band(), r.Severity()
	if len(w.seen) > 0 && (band < w.band || band == w.band && severity < tieShare*w.most) {
		return
	}
	if len(w.seen) == 0 || band > w.band {
		w.band, w.most, w.seen, w.plain = band, severity, w.seen[:0], w.plain[:0]
	}
	for i := range w.seen {
		if w.plain[i].compare(plain) <= 0 && w.seen[i].Severity() >= severity {
			return // the other wins whenever this one would be told
		}
	}
	if severity > w.most {
		w.most = severity
		kept := 0
		for i := range w.seen {
			if w.seen[i].Severity() >= tieShare*w.most {
				w.seen[kept], w.plain[kept] = w.seen[i], w.plain[i]
				kept++
			}
		}
		w.seen, w.plain = w.seen[:kept], w.plain[:kept]
	}
	w.seen, w.plain = append(w.seen, Worst{r, state()}), append(w.plain, plain)
}

// addAll adds what another kept.
func (w *worst) addAll(other *worst) {
	for i, seen := range other.seen {
		w.add(seen.Reading, other.plain[i], func() State { return seen.State })
	}
}

// result is the plainest of the worst, nil where there is none.
func (w *worst) result() *Worst {
	if len(w.seen) == 0 {
		return nil
	}
	best := 0
	for i := range w.seen {
		if w.plain[i].compare(w.plain[best]) < 0 {
			best = i
		}
	}
	return &w.seen[best]
}

func flag(b bool) int {
	if b {
		return 1
	}
	return 0
}
