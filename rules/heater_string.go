package rules

import (
	"fmt"
	"math"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// How far a heater may be off its rating: tube manuals allow 10 % either way, and half of that is
// worth a word. What rounds to 98 to 102 % is its rating, for mains and meters are no closer.
const (
	heaterLimit = 0.10
	heaterNote  = 0.05
	heaterMeets = 0.025
)

// fedShare is the share of its rating from which a heater counts as fed.
const fedShare = 0.05

// HeaterString tells how the heaters fare against their ratings.
var HeaterString = &Rule{
	Name:    "heater-string",
	Signal:  Caution,
	Signals: "NOTICE; CAUTION where a heater is over 10 % off its rating",
	Looks:   "each heater's volts and current against its rating, and the string's sum against the mains",
	Why: "A heater too hot burns out and may short to its cathode; one too cold shows that something is missing or wrong in the string: a wrong tube, a " +
		"dropper that was replaced, a cord that was cut short. It is also how a string tells that the file is right.",
	Blind: "Cold heaters, which take six times the current for a moment; the current of the plate in a tapped section, for which that section and its " +
		"lamp are told and not judged; heaters fed from a rectifier's DC, for the same reason; the stray ohms of a transformer's windings.",
	Source:  "the tube's rated heater volts and amps; 10 % either way is what tube manuals allow",
	Remedy:  "Look for the wrong tube type first, then at the dropper, the ballast or the cord; put back what makes the sum of rated volts and dropper the mains.",
	Caution: "A resistance cord is part of the string: never cut it short or replace it by an ordinary one. Droppers are hot and on the line.",
	Subject: OfPart,
	Run: func(k *Facts) []Finding {
		playing := k.drawsMost()
		if playing == nil {
			return nil
		}
		group := k.Circuit.Wiring(playing.State).Groups()
		var findings []Finding
		for _, run := range k.heaterRuns(group) {
			f, tell := k.tellRun(run, group)
			if tell {
				findings = append(findings, f)
			}
		}
		return findings
	},
}

// drawsMost is the normal state that draws the most from the line.
func (k *Facts) drawsMost() *analysis.Solution {
	var best *analysis.Solution
	for _, s := range k.judged {
		if best == nil || s.SupplyAmps() > best.SupplyAmps()*clearly {
			best = s
		}
	}
	return best
}

// tellRun tells a run in the state that feeds it most. A string is told even where nothing is off:
// its sum is worth knowing. Heaters side by side are told only where they are off.
func (k *Facts) tellRun(run *heaterRun, group map[string]int) (Finding, bool) {
	loads, at := k.fedMost(run, group)
	if loads == nil {
		return Finding{}, false
	}
	f := Finding{Signal: Notice, Worst: inState(at.State)}
	worst, judged := loads[0], false
	for _, x := range loads {
		f.Parts = append(f.Parts, x.tube.Name)
		if x.fromRectifier {
			continue
		}
		if !judged || math.Abs(x.share-1) > math.Abs(worst.share-1) {
			worst, judged = x, true
		}
	}
	if judged && math.Abs(worst.share-1) > heaterLimit {
		f.Signal = Caution
	}
	if !run.series {
		f.Message = k.offWords(loads, worst)
		return f, judged && math.Abs(worst.share-1) > heaterNote
	}
	f.Message = k.stringWords(run, loads, worst, judged)
	if judged && math.Abs(worst.share-1) <= heaterMeets {
		f.Remedy = "Nothing: the string gets what it is rated for, as the file has it. To see that the set agrees, clip a meter over one heater, then plug in."
	}
	f.Notes = append(f.Notes, lampNotes(loads)...)
	return f, true
}

// fedMost is the normal state in which a run gets the most volts, nil where none feeds it.
func (k *Facts) fedMost(run *heaterRun, group map[string]int) (loads []heaterLoad, at *analysis.Solution) {
	most := 0.0
	for _, s := range k.judged {
		scale, ok := 1.0, true
		if !run.inner {
			if scale, ok = k.windingScale(run, s, group); !ok {
				continue
			}
		}
		var here []heaterLoad
		sum := 0.0
		for _, p := range run.tubes {
			x := k.heaterIn(p, s, group)
			x.share, x.volts, x.amps = x.share*scale, x.volts*scale, x.amps*scale
			here = append(here, x)
			sum += x.volts
		}
		if sum > max(most*clearly, fedShare*run.rated()) {
			most, loads, at = sum, here, s
		}
	}
	if loads == nil {
		return k.fedByRectifier(run, group)
	}
	return loads, at
}

// fedByRectifier is the first state in which a string gets its current from a rectifier alone.
func (k *Facts) fedByRectifier(run *heaterRun, group map[string]int) ([]heaterLoad, *analysis.Solution) {
	if !run.inner {
		return nil, nil
	}
	for _, s := range k.judged {
		var here []heaterLoad
		fed := false
		for _, p := range run.tubes {
			x := k.heaterIn(p, s, group)
			fed = fed || x.fromRectifier
			here = append(here, x)
		}
		if fed {
			return here, s
		}
	}
	return nil, nil
}

// windingScale undoes what the ohms that every winding is reckoned with take off a low voltage:
// they are a convention and no property of this transformer. It is what the winding gives with no
// load against what the solution has on the rails; 1 for heaters on the line; not ok where a
// winding feeds them in a way that is not understood.
func (k *Facts) windingScale(run *heaterRun, s *analysis.Solution, group map[string]int) (float64, bool) {
	touches := false
	for _, t := range details[*netlist.Transformer](k.Set) {
		if !t.Coupled {
			continue
		}
		for _, w := range t.Windings {
			a, b := group[w.Start], group[w.End]
			if [2]int{min(a, b), max(a, b)} != run.rails {
				touches = touches || k.feedsRail(run, w.Start, group) || k.feedsRail(run, w.End, group)
				continue
			}
			primary, ok := k.primary(t, s)
			if !ok {
				return 0, false
			}
			across, _ := s.Across(w.Start, w.End)
			ideal, _ := s.Across(primary.Start, primary.End)
			if across == 0 {
				return 0, false
			}
			return ideal * w.Volts / primary.Volts / across, true
		}
	}
	return 1, !touches
}

// feedsRail reports whether an end of a winding is on a rail of the heaters and off both blades.
func (k *Facts) feedsRail(run *heaterRun, end string, group map[string]int) bool {
	g := group[end]
	return (g == run.rails[0] || g == run.rails[1]) && g != group[k.line.hot.blade] && g != group[k.line.neutral.blade]
}

// primary is the winding that conductors put across the line in a state.
func (k *Facts) primary(t *netlist.Transformer, s *analysis.Solution) (netlist.Winding, bool) {
	w := k.Circuit.Wiring(s.State)
	for _, x := range t.Windings {
		if k.line.across(w, x.Start, x.End) {
			return x, true
		}
	}
	return netlist.Winding{}, false
}

// stringWords tells a string: its sum, what else takes volts, and how the heaters fare.
func (k *Facts) stringWords(run *heaterRun, loads []heaterLoad, worst heaterLoad, judged bool) string {
	var names []string
	got := 0.0
	for _, x := range loads {
		names = append(names, x.tube.Name)
		got += x.volts
	}
	text := fmt.Sprintf("heaters of %s in series add up to %s rated", phrase.Few(names, 5), phrase.Volts(run.rated()))
	if len(names) == 1 {
		text = fmt.Sprintf("the heater of %s is rated %s", names[0], phrase.Volts(run.rated()))
	}
	if !judged {
		return text + "; they are fed from a rectifier, whose loaded DC is not worked out here: told, not judged"
	}
	rest := k.Set.Volts - got
	switch {
	case worst.fromBattery:
		text += ", fed from the batteries"
	case rest > heaterNote*k.Set.Volts:
		text += fmt.Sprintf(", what else is in series takes %s of the %s", phrase.Volts(rest), phrase.Volts(k.Set.Volts))
	default:
		text += fmt.Sprintf(" on a %s line", phrase.Volts(k.Set.Volts))
	}
	rated := worst.tube.Detail.(*netlist.Tube).Type.Heater.Amps
	if math.Abs(worst.share-1) > heaterNote {
		return text + fmt.Sprintf("; %s, furthest off, gets %s of its %s, %.0f %%", worst.tube.Name,
			phrase.Value(worst.amps, netlist.Ampere), phrase.Value(rated, netlist.Ampere), 100*worst.share)
	}
	return text + fmt.Sprintf(": %s of %s, %.0f %%", phrase.Value(worst.amps, netlist.Ampere), phrase.Value(rated, netlist.Ampere), 100*worst.share)
}

// offWords tells heaters side by side of which one at least is off.
func (k *Facts) offWords(loads []heaterLoad, worst heaterLoad) string {
	var off []string
	for _, x := range loads {
		if !x.fromRectifier && math.Abs(x.share-1) > heaterNote {
			off = append(off, x.tube.Name)
		}
	}
	h := worst.tube.Detail.(*netlist.Tube).Type.Heater
	subject := "the heater of " + phrase.List(off) + " is"
	if len(off) > 1 {
		subject = "the heaters of " + phrase.Few(off, 4) + " are"
	}
	return fmt.Sprintf("%s off rating: %s gets %s of its %s, %.0f %%", subject, worst.tube.Name,
		phrase.Volts(worst.volts), phrase.Volts(h.Volts), 100*worst.share)
}

func lampNotes(loads []heaterLoad) []string {
	var notes []string
	for _, x := range loads {
		if x.lamp != "" {
			notes = append(notes, fmt.Sprintf("heaters alone, %s's tapped section carries %s and lamp %s across it %s; plate current adds to both: told, not judged",
				x.tube.Name, phrase.Value(x.tapAmps, netlist.Ampere), x.lamp, phrase.Value(x.lampAmps, netlist.Ampere)))
		}
	}
	return notes
}
