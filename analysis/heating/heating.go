// Package heating says how the heaters of a set fare while it plays: which are fed as one (runs.go), and
// what each gets of its rating in the working set.
package heating

import (
	"math"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// fedShare is the share of its rated volts from which a run counts as fed.
const fedShare = 0.05

// clearly: of positions that feed a run alike the first is told.
const clearly = 1.001

// Heating is the heaters of a set while it plays.
type Heating struct {
	Runs  []*Run
	c     *analysis.Circuit
	plays *analysis.Playing
	group map[string]int // what conductors join where the set draws most
}

// Load is one heater in one position of the switches.
type Load struct {
	Tube *netlist.Part
	// Share is the volts against the rating, of the stretch furthest off; stretches that a lamp shunts are
	// left out.
	Share float64
	Volts float64 // rms, over the whole heater
	Amps  float64 // rms, in the stretch that Share speaks of
	// FromBattery reports that its current comes from batteries.
	FromBattery bool
	FromDC      bool    // its current is more DC than AC
	Lamp        string  // the lamp that shunts its tapped section
	LampAmps    float64 // A rms
	TapAmps     float64 // A rms, in the shunted section
}

// Of gathers the heaters of a set. It is nil where the set does not play.
func Of(c *analysis.Circuit) *Heating {
	h := &Heating{c: c, plays: c.Playing()}
	most := h.drawsMost()
	if most == nil {
		return nil
	}
	h.group = c.Wiring(h.state(most)).Groups()
	h.Runs = runsOf(c, h.group)
	return h
}

func (h *Heating) state(w *analysis.WorkingSet) analysis.State {
	return h.c.StateAt(analysis.AsMarked, w.Options.Position)
}

// drawsMost is the position in which the set draws most from the line, or from its batteries.
func (h *Heating) drawsMost() *analysis.WorkingSet {
	var best *analysis.WorkingSet
	for _, w := range h.plays.OnLine {
		if best == nil || w.Amps > best.Amps*clearly {
			best = w
		}
	}
	if best == nil && len(h.plays.OnBattery) > 0 {
		best = h.plays.OnBattery[0]
	}
	return best
}

// FedMost is the position in which a run gets the most volts, and what each of its heaters gets there;
// no loads where none feeds it, or a winding does in a way that is not understood.
func (h *Heating) FedMost(run *Run) (loads []Load, at analysis.State) {
	most := fedShare * run.Rated()
	for _, sets := range [][]*analysis.WorkingSet{h.plays.OnLine, h.plays.OnBattery} {
		for _, w := range sets {
			scale, ok := 1.0, true
			if !run.inner {
				if scale, ok = h.windingScale(run, w); !ok {
					continue
				}
			}
			var here []Load
			sum := 0.0
			for _, p := range run.Tubes {
				x := h.load(p, w)
				x.Share, x.Volts, x.Amps = x.Share*scale, x.Volts*scale, x.Amps*scale
				here = append(here, x)
				sum += x.Volts
			}
			if sum > most {
				most, loads, at = sum*clearly, here, h.state(w)
			}
		}
	}
	return loads, at
}

// load reads a heater.
func (h *Heating) load(p *netlist.Part, w *analysis.WorkingSet) Load {
	x := Load{Tube: p, Share: 1}
	first := true
	stretches := h.of(p, w.Heaters)
	for _, s := range stretches {
		v := w.Across(s.A, s.B)
		x.FromBattery = x.FromBattery || math.Abs(v.DC) > v.AC && rectified(w) < s.Amps/2
		x.FromDC = x.FromDC || math.Abs(v.DC) > v.AC
		x.Volts += s.Volts
		if lamp := h.lampAcross(s, w); lamp != nil && len(stretches) > 1 {
			x.Lamp, x.TapAmps, x.LampAmps = h.c.Set.Parts[lamp.Part].Name, s.Amps, lamp.Amps
			continue
		}
		if share := s.Volts / s.Rated; first || math.Abs(share-1) > math.Abs(x.Share-1) {
			x.Share, x.Amps, first = share, s.Amps, false
		}
	}
	return x
}

// rectified is what all rectifiers pass, in A.
func rectified(w *analysis.WorkingSet) float64 {
	amps := 0.0
	for _, r := range w.Rectifiers {
		amps += r.AmpsDC
	}
	return amps
}

// of are the loads of a part.
func (h *Heating) of(p *netlist.Part, all []analysis.WorkingLoad) []analysis.WorkingLoad {
	var own []analysis.WorkingLoad
	for _, l := range all {
		if h.c.Set.Parts[l.Part] == p {
			own = append(own, l)
		}
	}
	return own
}

// lampAcross is the lamp that conductors put across a stretch of a heater, nil for none.
func (h *Heating) lampAcross(s analysis.WorkingLoad, w *analysis.WorkingSet) *analysis.WorkingLoad {
	group := func(node int) int { return h.group[h.c.NodeName(node)] }
	for k, l := range w.Lamps {
		a, b := group(l.A), group(l.B)
		if a == group(s.A) && b == group(s.B) || a == group(s.B) && b == group(s.A) {
			return &w.Lamps[k]
		}
	}
	return nil
}

// windingScale undoes what the ohms that every winding is reckoned with take off a low voltage: they are
// a convention and no property of this transformer. It is what the winding gives with no load against what
// stands on the rails; 1 for heaters on the line; not ok where a winding feeds them in a way that is not
// understood.
func (h *Heating) windingScale(run *Run, w *analysis.WorkingSet) (scale float64, ok bool) {
	touches := false
	for _, p := range h.c.Set.Parts {
		t, is := p.Detail.(*netlist.Transformer)
		if !is || !t.Coupled {
			continue
		}
		for _, x := range t.Windings {
			a, b := h.group[x.Start], h.group[x.End]
			if [2]int{min(a, b), max(a, b)} != run.rails {
				touches = touches || h.feedsRail(run, x.Start) || h.feedsRail(run, x.End)
				continue
			}
			primary, ok := h.primary(t, w)
			across := h.acrossAC(w, x)
			if !ok || across == 0 {
				return 0, false
			}
			return h.acrossAC(w, primary) * x.Volts / primary.Volts / across, true
		}
	}
	return 1, !touches
}

func (h *Heating) acrossAC(w *analysis.WorkingSet, x netlist.Winding) float64 {
	a, _ := h.c.Node(x.Start)
	b, _ := h.c.Node(x.End)
	return w.Across(a, b).AC
}

// feedsRail reports whether an end of a winding is on a rail of the heaters and off both blades.
func (h *Heating) feedsRail(run *Run, end string) bool {
	g := h.group[end]
	return (g == run.rails[0] || g == run.rails[1]) && g != h.group[h.c.Plug.Hot] && g != h.group[h.c.Plug.Neutral]
}

// primary is the winding that conductors put across the line.
func (h *Heating) primary(t *netlist.Transformer, at *analysis.WorkingSet) (netlist.Winding, bool) {
	w := h.c.Wiring(h.state(at))
	for _, x := range t.Windings {
		if w.AcrossLine(x.Start, x.End) {
			return x, true
		}
	}
	return netlist.Winding{}, false
}
