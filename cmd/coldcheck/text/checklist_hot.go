package text

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

func hotChecks(l *diagnose.Checklist) *CheckSection {
	s := &CheckSection{Key: "hot", Title: "HOT", About: "volts to a tested earth"}
	if l.Hold() {
		s.bar("MAKE NONE OF THESE YET", ": the readings in the file say that the set is not as described (see below), so no one knows what is live. Find out cold first.")
	}
	s.say("Only once every cold line is right, on a tested outlet, the set on something that insulates. Pull the plug before each clip is put on or off, and before each turn of a switch. " +
		"One hand, and someone near. First the 10 MΩ meter; only where that reads as it should, 1.5 kΩ (10 W) with 0.15 µF across it and the meter across both: 0.75 V is " +
		"0.5 mA. In a set file: volts, and meter = \"1.5k\" for the second.")
	switch l.Circuit.Earthed() {
	case netlist.EarthedMidpoint, netlist.EarthedStar:
		s.say("Both legs of these mains are hot: turning the plug only exchanges them, and a metal that reads right one way round is to be measured the other way all the same.")
	case netlist.EarthedNowhere:
		s.say("Nothing of these mains is earthed, as far as the file knows: 0 V to earth is what live metal reads as well, until something else of the line meets earth. Test the outlet for it, and trust the cold lines.")
	}
	if l.Circuit.Bench.Isolated {
		s.say("These are the figures on the isolating transformer. They say nothing of the set on the mains.")
	} else {
		s.say("No isolation transformer between: it hides what is looked for.")
	}
	t := s.table(CheckColumn{Name: "point", width: 20}, CheckColumn{Name: "plug", width: 14}, CheckColumn{Name: "when", width: 14}, CheckColumn{Name: "10 MΩ meter", width: 22, begins: true},
		CheckColumn{Name: "read", width: 7}, CheckColumn{Name: "1.5 kΩ ‖ 0.15 µF", width: 18, begins: true}, CheckColumn{Name: "read", width: 7})
	point := ""
	for i, h := range l.Hot {
		if h.Point != point && i > 0 {
			t.alike(l, point)
		}
		point = h.Point
		t.hotRow(l, h)
	}
	if point != "" {
		t.alike(l, point)
	}
	return s
}

func (t *CheckTable) hotRow(l *diagnose.Checklist, h diagnose.HotCheck) {
	cells := []CheckCell{cell(netlist.Visible(h.Point)), cell(phrase.Stands(l.Circuit, h.Plug)), cell(StandWords(l.Circuit, h.When, h.Volts))}
	nothing := cell("")
	switch {
	case h.Cleared:
		t.row(append(cells, barCell("DO NOT plug in: shorts the line"), nothing, nothing, nothing)...)
		return
	case h.LiveReversed:
		t.row(append(cells, barCell("DO NOT: may be live"), nothing, barCell("DO NOT"), nothing)...)
		return
	case h.Live:
		t.row(append(cells, barCell("DO NOT: live, "+phrase.Meter(diagnose.VoltsRead, h.Volts.Expect)), nothing, barCell("DO NOT: live"), nothing)...)
		return
	}
	t.row(append(cells, cell(RangeWords(h.Volts)), readCell(l.Hold(), h.Volts), cell(RangeWords(h.Load)), readCell(l.Hold(), h.Load))...)
	if h.Load.Expect > analysis.HotCheckVolts {
		t.warn("over 0.75 V: more than 0.5 mA, and startles, even as described")
	}
	if len(h.May) > 0 {
		var names []string
		for _, f := range h.May {
			names = append(names, phrase.Fault(f))
		}
		t.warn(fmt.Sprintf("take it as live until the cold lines clear it: live with %s (a part that nobody vouches for)", phrase.FewOf(names, 2, ", or ", "more")))
	}
}

// alike tells of a point whether it reads alike in both plug polarities, and what that says.
func (t *CheckTable) alike(l *diagnose.Checklist, point string) {
	alike, apart := true, []string{}
	for _, h := range l.Hot {
		if h.Point == point && !h.AlikeReversed {
			alike = false
			stands := StandWords(l.Circuit, h.When, h.Volts)
			if stands == "" && len(l.Circuit.Controls) > 0 {
				stands = "controls at the middle or at full"
			}
			apart = append(apart, stands)
		}
	}
	name := netlist.Visible(point)
	if alike {
		t.below(name + ": alike both ways of the plug, so stray or a divider; if not, a path to one side of the line")
		return
	}
	t.below(fmt.Sprintf("%s: not alike both ways of the plug (%s): a path to one side of the line", name, strings.Join(unique(apart), "; ")))
	for _, h := range l.Hot {
		if h.Point == point && h.LiveReversed {
			t.warn("may be live: it is, with the plug the other way round, and no one can tell by a plain plug how it stands")
			return
		}
	}
}

func unique(words []string) []string {
	var all []string
	seen := map[string]bool{}
	for _, w := range words {
		if !seen[w] && w != "" {
			seen[w] = true
			all = append(all, w)
		}
	}
	if len(all) == 0 {
		return []string{"any position"}
	}
	return all
}

// readingsOf tells what the file's readings say.
func readingsOf(l *diagnose.Checklist) *CheckSection {
	a := l.Account
	s := &CheckSection{Key: "readings", Title: "READINGS in the file"}
	t := s.table(CheckColumn{Name: "at", width: 56}, CheckColumn{Name: "read", width: 12}, CheckColumn{Name: "expected", width: 12}, CheckColumn{Name: "verdict", unnamed: true, width: 12})
	t.Caption = s.Title
	for i, m := range a.Measurements {
		verdict := cell("agrees")
		if off := a.Described.Off[i]; off > 1 || off < -1 {
			verdict = barCell("DIFFERS")
		}
		t.row(cell(phrase.Measurement(m)), cell(phrase.Meter(m.Quantity, a.Shown[i])), cell(phrase.Meter(m.Quantity, a.Described.Predicted[i])), verdict)
	}
	if a.Agree() {
		all, what := "All "+phrase.Counted(len(a.Shown), "reading"), "them"
		if len(a.Shown) == 1 {
			all, what = "The one reading is", "it"
		}
		s.say(fmt.Sprintf("%s as the wiring described has %s, the meter's own ohms reckoned in.", all, what))
		if len(a.Proved) > 0 {
			s.say("They bear out what the file states of " + phrase.List(phrase.Visible(a.Proved)) + ": without it they could not be.")
		}
		return s
	}
	s.explanations(a)
	return s
}

// explanationsShown is how many explanations are told.
const explanationsShown = 4

func (s *CheckSection) explanations(a *diagnose.Account) {
	if a.Unranked {
		s.say("The set is too large to look for what would explain it; describe the line side alone.")
	}
	if len(a.Explanations) == 0 {
		return
	}
	if a.Explanations[0].Fits {
		s.say("What would explain all of them together, best first; the score is the root mean square of the deviations, 1 being the edge of what is still right:")
	} else {
		s.say("No one thing and no two faults explain all of them. Measure again, and look for what the file leaves out. What comes nearest:")
	}
	t := s.table(CheckColumn{Name: "score", unnamed: true, width: 6}, CheckColumn{Name: "readings", unnamed: true, width: 9},
		CheckColumn{Name: "what it would be, and each reading then", unnamed: true, width: 81})
	t.Caption, t.indent = "What would explain the readings", 2
	for i := range a.Explanations[:min(len(a.Explanations), max(explanationsShown, a.Leading))] {
		e := &a.Explanations[i]
		fits := "fits"
		if !e.Fits {
			fits = "not all"
		}
		var beside []string
		for k, m := range a.Measurements {
			beside = append(beside, phrase.Meter(m.Quantity, e.Predicted[k]))
		}
		t.row(cell(phrase.Figure(e.Score)), cell(fits), cell(phrase.Explanation(e)+": "+strings.Join(beside, ", ")))
	}
	if apart := phrase.Apart(a); apart != "" {
		s.say(apart)
	}
	if a.PairsLeft > 0 {
		s.say(fmt.Sprintf("%d pairs of faults were not tried: there are too many; those that change a reading alone were.", a.PairsLeft))
	}
}
