package search

import (
	"slices"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
)

// Worst is the worst of several states: what is read, and the state. A nil *Worst says that every
// state of its kind was cleared.
type Worst struct {
	nodal.Reading
	State circuit.State
}

// tieShare: what is within 1 % of the worst is as bad, and of those the plainest state is told.
const tieShare = 0.99

// worst gathers readings and keeps those that may still be the worst.
type worst struct {
	class nodal.Class
	most  float64
	kept  []Worst
	order []tieBreak // of kept
}

// tieBreak orders states that are as bad as each other: least cost, fewest faults, nothing taken as
// conducting, plug as marked, fewest controls away from rest, then the faults in the order of the file.
// Of equals the earlier wins.
type tieBreak [5 + worstFaults]int

// worstFaults is how many faults the worst at one fault may hold: one that costs, and one of an
// unverified part.
const worstFaults = 2

func tieBreakOf(s circuit.State) tieBreak {
	t := tieBreak{s.Cost(), len(s.Faults), flag(s.Rectifier != ""), s.Plug.HotBlade(), s.Away()}
	for i, f := range s.Faults[:min(len(s.Faults), worstFaults)] {
		t[5+i] = f.Index
	}
	return t
}

func (t tieBreak) compare(u tieBreak) int { return slices.Compare(t[:], u[:]) }

// prunable reports whether a reading of such open volts cannot be the worst, whatever stands behind
// them: no set of passive parts has an impedance of less than 0 Ω real, so that the body's own
// resistance is an upper bound on the current.
func (w *worst) prunable(volts, dcVolts, bodyOhms float64) bool {
	if len(w.kept) == 0 {
		return false
	}
	most := nodal.Reading{VoltsOpen: volts, Milliamps: 1e3 * volts / bodyOhms, VoltsDC: dcVolts, MilliampsDC: 1e3 * dcVolts / circuit.BodyDCOhms}
	class := most.Class()
	return class < w.class || class == w.class && most.Severity() < pruneShare*w.most
}

// pruneShare is tieShare with room for the last digits.
const pruneShare = 0.98

func (w *worst) add(r nodal.Reading, order tieBreak, state func() circuit.State) {
	class, severity := r.Class(), r.Severity()
	if len(w.kept) > 0 && (class < w.class || class == w.class && severity < tieShare*w.most) {
		return
	}
	if len(w.kept) == 0 || class > w.class {
		w.class, w.most, w.kept, w.order = class, severity, w.kept[:0], w.order[:0]
	}
	for i := range w.kept {
		if w.order[i].compare(order) <= 0 && w.kept[i].Severity() >= severity {
			return // the other wins whenever this one would be told
		}
	}
	if severity > w.most {
		w.most = severity
		n := 0
		for i := range w.kept {
			if w.kept[i].Severity() >= tieShare*w.most {
				w.kept[n], w.order[n] = w.kept[i], w.order[i]
				n++
			}
		}
		w.kept, w.order = w.kept[:n], w.order[:n]
	}
	w.kept, w.order = append(w.kept, Worst{r, state()}), append(w.order, order)
}

// addAll adds what another kept.
func (w *worst) addAll(other *worst) {
	for i, x := range other.kept {
		w.add(x.Reading, other.order[i], func() circuit.State { return x.State })
	}
}

// result is the plainest of the worst, nil where there is none.
func (w *worst) result() *Worst {
	if len(w.kept) == 0 {
		return nil
	}
	best := 0
	for i := range w.kept {
		if w.order[i].compare(w.order[best]) < 0 {
			best = i
		}
	}
	return &w.kept[best]
}

// WorseThan reports whether a state is worse than another by more than what counts as equally bad; a
// nil one is better than any.
func (w *Worst) WorseThan(other *Worst) bool {
	return w != nil && (other == nil || w.Class() > other.Class() || w.Class() == other.Class() && w.Severity() > other.Severity()/tieShare)
}

func flag(b bool) int {
	if b {
		return 1
	}
	return 0
}
