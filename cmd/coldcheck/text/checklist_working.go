package text

import (
	"fmt"
	"math"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// bringingUp tells how the set is brought up after years, and what it draws on the way.
func bringingUp(l *diagnose.Checklist) *CheckSection {
	b := l.BringingUp
	s := &CheckSection{Key: "bringing-up", Title: "BRINGING UP", About: strings.Join(append([]string{"slowly"}, phrase.Settings(b.Settings)...), ", ")}
	if l.Hold() {
		s.bar("NOT YET", ": the readings in the file say that the set is not as described (see below). Find out cold first.")
	}
	s.say(fmt.Sprintf("Only once every cold line is right. An isolating transformer first, then a variable transformer, or a lamp of %s W in series with the set; "+
		"the meter clipped on before the plug goes in. Two minutes a step. An isolating transformer takes nothing off what stands inside the set.", phrase.Figure(b.LampWatts)))
	s.steps(l)
	if b.Reservoir != "" {
		s.say(fmt.Sprintf("Capacitors that stood for years form on the way: while they do, the current falls and the volts on %s still rise. Go on when both stand still; "+
			"when the volts fall again, or a can gets warm, pull the plug.", b.Reservoir))
	}
	if len(b.Selenium) > 0 {
		s.say(fmt.Sprintf("%s is selenium: some 5 V across it is sound, 15 V and more is worn out. A smell of rotten eggs or garlic: pull the plug, and out of the room; the smoke is poisonous.",
			phrase.List(phrase.Visible(b.Selenium))))
	}
	s.say(fmt.Sprintf("Pull the plug at %s or more at full mains, or at more than the step says by half, at smoke, a hum that grows, or a plate that glows.", ampsWords(b.StopAmps)))
	if len(b.Lamp) > 0 {
		s.lamps(l)
	}
	return s
}

func ampsWords(amps float64) string { return phrase.Value(amps, netlist.Ampere) }

// steps is the table of the mains turned up.
func (s *CheckSection) steps(l *diagnose.Checklist) {
	b := l.BringingUp
	columns := []CheckColumn{{Name: "mains", width: 14}, {Name: "draws", width: 20}}
	if b.Reservoir != "" {
		columns = append(columns, CheckColumn{Name: b.Reservoir, width: 12})
	}
	t := s.table(append(columns, CheckColumn{Name: "read", width: 7})...)
	for _, x := range b.Steps {
		cells := []CheckCell{cell(fmt.Sprintf("%.0f %%, %s", x.Percent, phrase.Volts(x.Percent/100*l.Circuit.Set.Volts))),
			cell(fmt.Sprintf("%s, %s", ampsWords(x.Amps), phrase.Value(x.Watts, netlist.Watt)))}
		if b.Reservoir != "" {
			volts := ""
			if x.HasDC {
				volts = phrase.Meter(diagnose.VoltsDCRead, tenths(x.VoltsDC))
			}
			cells = append(cells, cell(volts))
		}
		t.row(append(cells, readCell(l.Hold()))...)
	}
}

// tenths leaves out what is no volts to speak of while a set is brought up.
func tenths(volts float64) float64 { return math.Round(10*volts) / 10 }

// lamps is what the lamp in series shows.
func (s *CheckSection) lamps(l *diagnose.Checklist) {
	t := s.table(CheckColumn{Name: fmt.Sprintf("lamp of %s W", phrase.Figure(l.BringingUp.LampWatts)), width: 20}, CheckColumn{Name: "across it", width: 10}, CheckColumn{Name: "it is", width: 10})
	for _, x := range l.BringingUp.Lamp {
		t.row(cell(x.Case), cell(phrase.Volts(x.Volts)), cell(glow(x.Volts/l.Circuit.Set.Volts)))
	}
}

// glow is how a lamp looks at a share of its volts. A filament's light goes with the third to fourth power
// of its volts: at a third of them it is a dull red, at a tenth it is not seen.
func glow(share float64) string {
	switch {
	case share < 0.12:
		return "dark"
	case share < 0.3:
		return "dull red"
	case share < 0.6:
		return "orange"
	}
	return "bright"
}

// workingChecks are the volts of the set while it plays: its heaters, then DC against the common negative.
func workingChecks(l *diagnose.Checklist) *CheckSection {
	s := &CheckSection{Key: "working", Title: "WORKING", About: "volts while it plays, " + phrase.PlugOf(l.Circuit, analysis.AsMarked)}
	s.say(heaterBar(l) + " Clips are put on with the plug out.")
	if len(l.Heaters) > 0 {
		s.say("Heaters: one at nothing and another at the full line: the string is open at that other. All low: the mains, or a part in series. " +
			"One high and the rest low: the wrong tube, or a heater partly shorted.")
		t := s.table(checkColumns("tube")...)
		for _, h := range l.Heaters {
			t.row(cell(netlist.Visible(h.A)+", "+netlist.Visible(h.B)), cell(fmt.Sprintf("%s, %s V", h.Tube, phrase.Figure(h.Rated))),
				cell(phrase.Meter(h.Quantity, h.Expect)), cell(RangeWords(h.Check)), readCell(l.Hold(), h.Check))
		}
	}
	if l.Unsolved != nil {
		s.say("Of a position of the switches there are no working volts: " + l.Unsolved.Error() + ".")
	}
	if p := l.Mainly(); p != nil && len(p.Lines) > 0 {
		s.volts(l, p)
	}
	return s
}

// volts is the table of a position.
func (s *CheckSection) volts(l *diagnose.Checklist, p *diagnose.Playing) {
	at := ""
	if len(p.Settings) > 0 && len(l.Playing) > 1 {
		at = " with " + strings.Join(phrase.Settings(p.Settings), ", ")
	}
	s.say(fmt.Sprintf("The black lead stays at %s%s. The set draws %s, %s. The bands reckon with tubes that differ by 30 %%; from a band's lower edge up to the peak with nothing drawn no reading tells of a fault.",
		netlist.Visible(p.Reference), at, ampsWords(p.LineAmps()), phrase.Value(p.Watts, netlist.Watt)))
	if len(l.Playing) > 1 {
		s.say("Other positions of the switches have volts of their own: --format json tells all.")
	}
	t := s.table(CheckColumn{Name: "red lead", width: 34}, CheckColumn{Name: "at", width: 22}, CheckColumn{Name: "expect", width: 12}, CheckColumn{Name: "right", width: 18}, CheckColumn{Name: "read", width: 7})
	for _, x := range p.Lines {
		kind := ""
		if x.Quantity == diagnose.VoltsRead {
			kind = " AC"
		}
		t.row(cell(netlist.Visible(x.A)), cell(x.Point), cell(phrase.Meter(x.Quantity, x.Expect)+kind), cell(RangeWords(x.Check)), readCell(l.Hold(), x.Check))
	}
}
