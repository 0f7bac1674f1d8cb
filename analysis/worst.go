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
	band Band
	most float64
	seen []Worst
}

func (w *worst) add(r Reading, state func() State) {
	band, severity := r.Band(), r.Severity()
	if len(w.seen) > 0 && (band < w.band || band == w.band && severity < tieShare*w.most) {
		return
	}
	if len(w.seen) == 0 || band > w.band {
		w.band, w.most, w.seen = band, severity, w.seen[:0]
	}
	if severity > w.most {
		w.most = severity
		w.seen = slices.DeleteFunc(w.seen, func(x Worst) bool { return x.Severity() < tieShare*w.most })
	}
	w.seen = append(w.seen, Worst{r, state()})
}

// result is the plainest of the worst: least cost, fewest faults, no rectifier conducting, plug
// as marked, then the order in which they came, which is that of the file.
func (w *worst) result() *Worst {
	if len(w.seen) == 0 {
		return nil
	}
	best := slices.MinFunc(w.seen, func(x, y Worst) int { return slices.Compare(plainness(x.State), plainness(y.State)) })
	return &best
}

func plainness(s State) []int {
	return []int{s.Cost(), len(s.Faults), flag(s.Rectifier != ""), flag(s.Plug != AsMarked)}
}

func flag(b bool) int {
	if b {
		return 1
	}
	return 0
}
