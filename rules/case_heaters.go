package rules

import (
	"math"
	"math/cmplx"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// heaterRun is some tubes whose heaters are fed as one: in series, or side by side on one supply.
type heaterRun struct {
	tubes  []*netlist.Part
	series bool   // one after the other, with no branch
	rails  [2]int // where all stand side by side on two conductors: these, by group
	inner  bool   // they meet at points that are no supply rail: a string, or strings that branch
}

// rated is the sum of the heaters' rated volts.
func (r *heaterRun) rated() float64 {
	sum := 0.0
	for _, p := range r.tubes {
		sum += p.Detail.(*netlist.Tube).Type.Heater.Volts
	}
	return sum
}

// heaterEnds are the wired nodes of a tube's heater pins, false where fewer than two are wired.
func heaterEnds(p *netlist.Part) (ends [2]string, ok bool) {
	t, is := p.Detail.(*netlist.Tube)
	if !is || t.Type.Heater == nil {
		return ends, false
	}
	ends = [2]string{t.Node(t.Type.Heater.Pins[0]), t.Node(t.Type.Heater.Pins[1])}
	return ends, ends[0] != "" && ends[1] != "" && ends[0] != ends[1]
}

// heaterRuns gathers the tubes into runs. Heaters that meet at a point which is no supply rail are
// in series; those between two rails are side by side.
func (k *Case) heaterRuns(group map[string]int) []*heaterRun {
	rail := k.rails(group)
	var runs []*heaterRun
	at := map[int]*heaterRun{}         // by inner group
	byRails := map[[2]int]*heaterRun{} // of those side by side
	place := map[*netlist.Part]int{}
	for i, p := range k.Set.Parts {
		place[p] = i
		ends, ok := heaterEnds(p)
		if !ok {
			continue
		}
		a, b := group[ends[0]], group[ends[1]]
		if a == b {
			continue
		}
		if rail[a] && rail[b] {
			key := [2]int{min(a, b), max(a, b)}
			if byRails[key] == nil {
				byRails[key] = &heaterRun{rails: key}
				runs = append(runs, byRails[key])
			}
			byRails[key].tubes = append(byRails[key].tubes, p)
			continue
		}
		run := &heaterRun{inner: true}
		runs = append(runs, run)
		for _, g := range []int{a, b} {
			if rail[g] || at[g] == run {
				continue
			}
			if old := at[g]; old != nil {
				run.tubes = append(run.tubes, old.tubes...)
				runs = slices.DeleteFunc(runs, func(r *heaterRun) bool { return r == old })
				for key, r := range at {
					if r == old {
						at[key] = run
					}
				}
			}
			at[g] = run
		}
		run.tubes = append(run.tubes, p)
	}
	for _, r := range runs {
		slices.SortFunc(r.tubes, func(p, q *netlist.Part) int { return place[p] - place[q] })
		r.series = r.inner && !r.branches(rail, group)
	}
	return runs
}

// branches reports whether more than two heaters meet at a point that is no rail, or the heaters
// close on themselves.
func (r *heaterRun) branches(rail map[int]bool, group map[string]int) bool {
	meets := map[int]int{}
	loose := false
	for _, p := range r.tubes {
		ends, _ := heaterEnds(p)
		for _, end := range ends {
			loose = loose || rail[group[end]]
			meets[group[end]]++
		}
	}
	for g, n := range meets {
		if rail[g] {
			continue
		}
		if n > 2 {
			return true
		}
		loose = loose || n == 1
	}
	return !loose
}

// rails are the conductors that feed things side by side: both blades, the ends of coupled windings
// and of batteries.
func (k *Case) rails(group map[string]int) map[int]bool {
	_, plug := k.Set.Plug()
	rail := map[int]bool{group[plug.Hot]: true, group[plug.Neutral]: true}
	for _, p := range k.Set.Parts {
		switch d := p.Detail.(type) {
		case *netlist.Battery:
			rail[group[d.Positive]], rail[group[d.Negative]] = true, true
		case *netlist.Transformer:
			for _, w := range d.Windings {
				if d.Coupled {
					rail[group[w.Start]], rail[group[w.End]] = true, true
				}
			}
		}
	}
	return rail
}

// heaterLoad is one heater in one state.
type heaterLoad struct {
	tube *netlist.Part
	// share is the current against the rating, the stretch furthest off; stretches that a lamp
	// shunts are left out.
	share float64
	volts float64 // over the whole heater
	amps  float64 // in the stretch that share speaks of
	// fromRectifier reports that DC from a rectifier is a good part of it: the peak of an idle
	// reservoir, which a loaded one does not reach.
	fromRectifier bool
	fromBattery   bool    // its current comes from batteries more than from the line
	lamp          string  // the lamp that shunts its tapped section
	lampAmps      float64 // A
	tapAmps       float64 // A, in the shunted section
}

// rectifiedShare is how much of the rated current may come from a rectifier's DC before a heater
// is no more judged.
const rectifiedShare = 0.05

// heaterIn reads a heater in a state.
func (k *Case) heaterIn(p *netlist.Part, s *analysis.Solution, group map[string]int) heaterLoad {
	h := p.Detail.(*netlist.Tube).Type.Heater
	battery := s.DCWith(func(string) float64 { return 0 })
	x := heaterLoad{tube: p, share: 1}
	first := true
	stretches := slices.DeleteFunc(s.Flows(p.Name), func(f analysis.Flow) bool { return !f.Heater })
	for _, f := range stretches {
		own := f.AmpsDC
		if f.Ohms > 0 {
			own = (battery(f.A) - battery(f.B)) / f.Ohms
		}
		amps := math.Hypot(cmplx.Abs(f.Amps), own)
		x.fromRectifier = x.fromRectifier || math.Abs(f.AmpsDC-own) > rectifiedShare*h.Amps
		x.fromBattery = x.fromBattery || math.Abs(own) > cmplx.Abs(f.Amps)
		x.volts += amps * f.Ohms
		if lamp := k.lampAcross(f, group); lamp != "" && len(stretches) > 1 {
			x.lamp, x.tapAmps = lamp, amps
			for _, lf := range s.Flows(lamp) {
				x.lampAmps = cmplx.Abs(lf.Amps)
			}
			continue
		}
		if share := amps / h.Amps; first || math.Abs(share-1) > math.Abs(x.share-1) {
			x.share, x.amps, first = share, amps, false
		}
	}
	return x
}

// lampAcross is the lamp that conductors put across a stretch of a heater.
func (k *Case) lampAcross(f analysis.Flow, group map[string]int) string {
	for p, l := range details[*netlist.Lamp](k.Set) {
		a, b := group[l.Ends[0]], group[l.Ends[1]]
		if a == group[f.A] && b == group[f.B] || a == group[f.B] && b == group[f.A] {
			return p.Name
		}
	}
	return ""
}
