package rules

import (
	"fmt"
	"math"

	"coldcheck/analysis"
	"coldcheck/analysis/heating"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// How far a heater may be off its rating: tube manuals allow 10 % either way, and half of that is
// worth a word. What rounds to 98 to 102 % is its rating, for mains and meters are no closer.
const (
	heaterLimit = 0.10
	heaterNote  = 0.05
	heaterMeets = 0.025
	asFar       = 0.001 // of several that are as far off the first is named
)

// HeaterString tells how the heaters fare against their ratings.
var HeaterString = &Rule{
	Name:    "heater-string",
	Signal:  Caution,
	Signals: "NOTICE; CAUTION where a heater is over 10 % off its rating",
	Looks:   "each heater's volts and current against its rating, and the string's sum against the mains",
	Why: "A heater too hot burns out and may short to its cathode; one too cold shows that something is missing or wrong in the string: a wrong tube, a " +
		"dropper that was replaced, a cord that was cut short. It is also how a string tells that the file is right.",
	Blind: "Cold heaters, which take six times the current for a moment; what a lamp across a tapped section does to it, for which both are told and " +
		"not judged; the stray ohms of a transformer's windings.",
	Source:  "the tube's rated heater volts and amps; 10 % either way is what tube manuals allow",
	Remedy:  "Look for the wrong tube type first, then at the dropper, the ballast or the cord; put back what makes the sum of rated volts and dropper the mains.",
	Caution: "A resistance cord is part of the string: never cut it short or replace it by an ordinary one. Droppers are hot and on the line.",
	Subject: OfPart,
	Run: func(k *Facts) []Finding {
		heaters := heating.Of(k.Circuit)
		if heaters == nil {
			return unheated(k.Circuit.Playing())
		}
		var findings []Finding
		for _, run := range heaters.Runs {
			if f, tell := k.tellRun(heaters, run); tell {
				findings = append(findings, f)
			}
		}
		return findings
	},
}

// unheated tells that nothing is known of the heaters, where that is so.
func unheated(p *analysis.Playing) []Finding {
	if p.Unsolved == nil {
		return nil
	}
	return []Finding{{Signal: Notice, Message: "the heaters are not judged: " + p.Unsolved.Error(),
		Remedy: "Clip a meter over one heater, then plug in, and hold what it shows against the tube's rating."}}
}

// tellRun tells a run in the state that feeds it most. A string is told even where nothing is off:
// its sum is worth knowing. Heaters side by side are told only where they are off.
func (k *Facts) tellRun(heaters *heating.Heating, run *heating.Run) (Finding, bool) {
	loads, at := heaters.FedMost(run)
	if loads == nil {
		return Finding{}, false
	}
	f := Finding{Signal: Notice, Worst: inState(at)}
	worst := loads[0]
	for _, x := range loads {
		f.Parts = append(f.Parts, x.Tube.Name)
		if math.Abs(x.Share-1) > math.Abs(worst.Share-1)+asFar {
			worst = x
		}
	}
	if math.Abs(worst.Share-1) > heaterLimit {
		f.Signal = Caution
	}
	if !run.Series {
		f.Message = offWords(loads, worst)
		return f, math.Abs(worst.Share-1) > heaterNote
	}
	f.Message = k.stringWords(run, loads, worst)
	if math.Abs(worst.Share-1) <= heaterMeets {
		f.Remedy = "Nothing: the string gets what it is rated for, as the file has it. To see that the set agrees, clip a meter over one heater, then plug in."
	}
	f.Notes = append(f.Notes, lampNotes(loads)...)
	return f, true
}

// stringWords tells a string: its sum, what else takes volts, and how the heaters fare.
func (k *Facts) stringWords(run *heating.Run, loads []heating.Load, worst heating.Load) string {
	var names []string
	got := 0.0
	for _, x := range loads {
		names = append(names, x.Tube.Name)
		got += x.Volts
	}
	text := fmt.Sprintf("heaters of %s in series add up to %s rated", phrase.Few(names, 5), phrase.Volts(run.Rated()))
	if len(names) == 1 {
		text = fmt.Sprintf("the heater of %s is rated %s", names[0], phrase.Volts(run.Rated()))
	}
	rest := k.Set.Volts - got
	switch {
	case worst.FromBattery:
		text += ", fed from the batteries"
	case worst.FromDC:
		text += ", fed from a rectifier"
	case rest > heaterNote*k.Set.Volts:
		text += fmt.Sprintf(", what else is in series takes %s of the %s", phrase.Volts(rest), phrase.Volts(k.Set.Volts))
	default:
		text += fmt.Sprintf(" on a %s line", phrase.Volts(k.Set.Volts))
	}
	h := worst.Tube.Detail.(*netlist.Tube).Type.Heater
	amps := fmt.Sprintf("%s of %s", phrase.Value(worst.Amps, netlist.Ampere), phrase.Value(h.Amps, netlist.Ampere))
	if math.Abs(worst.Share-1) > heaterNote {
		return text + fmt.Sprintf("; %s, furthest off, gets %s of its %s, %.0f %%, at %s", worst.Tube.Name,
			phrase.Volts(worst.Volts), phrase.Volts(h.Volts), 100*worst.Share, amps)
	}
	return text + fmt.Sprintf(": %s, %.0f %% of the volts", amps, 100*worst.Share)
}

// offWords tells heaters side by side of which one at least is off.
func offWords(loads []heating.Load, worst heating.Load) string {
	var off []string
	for _, x := range loads {
		if math.Abs(x.Share-1) > heaterNote {
			off = append(off, x.Tube.Name)
		}
	}
	h := worst.Tube.Detail.(*netlist.Tube).Type.Heater
	subject := "the heater of " + phrase.List(off) + " is"
	if len(off) > 1 {
		subject = "the heaters of " + phrase.Few(off, 4) + " are"
	}
	return fmt.Sprintf("%s off rating: %s gets %s of its %s, %.0f %%", subject, worst.Tube.Name,
		phrase.Volts(worst.Volts), phrase.Volts(h.Volts), 100*worst.Share)
}

func lampNotes(loads []heating.Load) []string {
	var notes []string
	for _, x := range loads {
		if x.Lamp != "" {
			notes = append(notes, fmt.Sprintf("%s's tapped section carries %s and lamp %s across it %s, plate current with it: told, not judged",
				x.Tube.Name, phrase.Value(x.TapAmps, netlist.Ampere), x.Lamp, phrase.Value(x.LampAmps, netlist.Ampere)))
		}
	}
	return notes
}
