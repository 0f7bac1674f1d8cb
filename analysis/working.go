package analysis

import (
	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/parallel"
	"coldcheck/analysis/internal/working"
)

// The set while it plays.
type (
	WorkingSet     = working.Result
	WorkingOptions = working.Options
	WorkingVolts   = working.Volts
	WorkingLoad    = working.Load
	Lamp           = working.Lamp
)

// NoNode stands for no node in WorkingOptions.
const NoNode = working.None

// drawsWatts: a set that takes less from the line does not play: it is off, and a capacitor or a bleeder
// across the line draws.
const drawsWatts = 0.1 // W

// What is solved in time is bounded: so many positions of switches, in the order of the file, and so much work on
// all of them.
const (
	mostWorkingSets = 32
	mostWork        = 1e9 // multiplications
)

// Playing is the set while it plays: its working set in every position of the switches in which it draws
// from the line, or from its batteries. Controls are at rest, the plug as marked.
type Playing struct {
	OnLine    []*WorkingSet // those that draw from the line
	OnBattery []*WorkingSet // those that draw from batteries alone
	// Unsolved is why one of them is not among these: too large, or without a steady state; nil where
	// all are. Positions in which a breaker opens are not among them either, and are none.
	Unsolved error
	Cut      bool // only the first mostWorkingSets positions were looked at
}

// WorkingSet solves one position of switches and controls in time.
func (c *Circuit) WorkingSet(o WorkingOptions) (*WorkingSet, error) {
	return working.Solve(c.Circuit, o)
}

// WorkingAt is what WorkingSet is asked where nothing else is wanted.
func (c *Circuit) WorkingAt(position int) WorkingOptions {
	return WorkingOptions{Position: position, Plug: circuit.AsMarked, Body: NoNode, Reference: NoNode}
}

// Playing solves the set while it plays. It does so once.
func (c *Circuit) Playing() *Playing {
	c.playing.Do(func() { c.played = c.playingAs(func(*WorkingOptions) {}) })
	return c.played
}

// BeginFrom has the working set begin where that of a circuit ends that differs little: a set before a change,
// say. It is to be called before the circuit is used.
func (c *Circuit) BeginFrom(similar *Circuit) { c.similar = similar }

// begin is where the working set of a position begins, nil for at rest.
func (c *Circuit) begin(position int) *WorkingSet {
	from := c.similar
	if from == nil {
		return nil
	}
	for _, w := range from.Playing().OnLine {
		if w.Options.Position == position {
			return w
		}
	}
	return nil
}

// PlayingWith is Playing with something open.
func (c *Circuit) PlayingWith(faults ...*Fault) *Playing {
	return c.playingAs(func(o *WorkingOptions) { o.Faults = faults })
}

// playingAs is Playing of the set as it is changed.
func (c *Circuit) playingAs(changed func(*WorkingOptions)) *Playing {
	p := &Playing{}
	rest := c.Rest()
	if p.Cut = len(rest) > mostWorkingSets; p.Cut {
		rest = rest[:mostWorkingSets]
	}
	sets, errs := make([]*WorkingSet, len(rest)), make([]error, len(rest))
	parallel.Each(len(rest), func(i int) {
		o := c.WorkingAt(rest[i])
		changed(&o)
		o.From, o.Work = c.begin(rest[i]), min(working.MostWork, mostWork/float64(len(rest)))
		sets[i], errs[i] = c.WorkingSet(o)
	})
	for i, w := range sets {
		switch {
		case errs[i] != nil:
			p.Unsolved = errs[i]
		case w.LineAmps() > circuit.ClearedAmps:
		case w.Watts >= drawsWatts:
			p.OnLine = append(p.OnLine, w)
		case w.BatteryWatts >= drawsWatts:
			p.OnBattery = append(p.OnBattery, w)
		}
	}
	return p
}

// lineAmps is the most that the set draws from the line, in A rms.
func (p *Playing) lineAmps() (amps float64) {
	for _, w := range p.OnLine {
		amps = max(amps, w.LineAmps())
	}
	return amps
}

// LineAmps is the most that the set draws from the line as it plays, in A rms; where a failed part shorts the line,
// without the failed parts. Where not every position could be solved in time it is no less than what the normal
// states draw, AC and DC added, without the tubes; solved tells which.
func (c *Circuit) LineAmps() (amps float64, solved bool) {
	p := c.Playing()
	if amps = p.lineAmps(); amps == 0 && c.HasFailed {
		amps = c.playingAs(func(o *WorkingOptions) { o.Sound = true }).lineAmps()
	}
	if solved = p.Unsolved == nil && !p.Cut; solved {
		return amps, true
	}
	for _, state := range c.Normal() {
		if s := c.Solve(state); !s.Cleared {
			amps = max(amps, s.SupplyAmps()+s.SupplyAmpsDC())
		}
	}
	return amps, false
}
