package text

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
)

func (p *Page) hotChecks(l *analysis.Checklist) {
	p.Title("HOT  volts to a tested earth")
	if l.Hold() {
		p.Para("", p.paint(red, "MAKE NONE OF THESE YET")+": the readings in the file say that the set is not as described (see below), so no one knows what is live. Find out cold first.")
	}
	p.Para("", "Only once every cold line is right, on a tested outlet, the set on something that insulates. Pull the plug before each clip is put on or off, and before each turn of a switch. "+
		"One hand, and someone near. First the 10 MΩ meter; only where that reads as it should, 1.5 kΩ (10 W) with 0.15 µF across it and the meter across both: 0.75 V is "+
		"0.5 mA. In a set file: volts, and meter = \"1.5k\" for the second.")
	if l.Circuit.Bench.Isolated {
		p.Para("", "These are the figures on the isolating transformer. They say nothing of the set on the mains.")
	} else {
		p.Para("", "No isolation transformer between: it hides what is looked for.")
	}
	t := newSheet(20, 8, 14, 22, 7, 18, 7)
	t.row("point", "plug", "when", "10 MΩ meter", "read", "1.5 kΩ ‖ 0.15 µF", "read")
	point := ""
	for i, h := range l.Hot {
		if h.Point != point && i > 0 {
			p.alike(t, l, point)
		}
		point = h.Point
		p.hotRow(t, l, h)
	}
	if point != "" {
		p.alike(t, l, point)
	}
	p.sheet(t)
}

func (p *Page) hotRow(t *sheet, l *analysis.Checklist, h analysis.HotCheck) {
	plug := "marked"
	if h.Plug == analysis.Reversed {
		plug = "reversed"
	}
	when := whenWords(l.Circuit, h.When)
	switch {
	case h.Cleared:
		t.row(netlist.Visible(h.Point), plug, when, "DO NOT plug in: shorts the line", "", "", "")
		return
	case h.LiveTurned:
		t.row(netlist.Visible(h.Point), plug, when, "DO NOT: may be live", "", "DO NOT", "")
		return
	case h.Live:
		t.row(netlist.Visible(h.Point), plug, when, "DO NOT: live, "+rules.FigureWords(analysis.VoltsRead, h.Volts.Expect), "", "DO NOT: live", "")
		return
	}
	read := blank
	if l.Hold() {
		read = "not yet"
	}
	t.row(netlist.Visible(h.Point), plug, when, bandWordsOf(h.Volts), read, bandWordsOf(h.Load), read)
	if h.Load.Expect > analysis.HotCheckVolts {
		t.below("over 0.75 V: more than 0.5 mA, and felt, even as described")
	}
	if len(h.May) > 0 {
		var names []string
		for _, f := range h.May {
			names = append(names, rules.FaultWords(f))
		}
		t.below(fmt.Sprintf("take it as live until the cold lines clear it: live with %s (a part that nobody vouches for)", few(names, 2, ", or ", "more")))
	}
}

// alike tells of a point whether it reads alike in both plug ways, and what that says.
func (p *Page) alike(t *sheet, l *analysis.Checklist, point string) {
	alike, apart := true, []string{}
	for _, h := range l.Hot {
		if h.Point == point && !h.AlikeTurned {
			alike = false
			apart = append(apart, whenWords(l.Circuit, h.When))
		}
	}
	name := netlist.Visible(point)
	if alike {
		t.below(name + ": alike both ways of the plug, so stray or a divider; if not, a path to one side of the line")
		return
	}
	t.below(fmt.Sprintf("%s: not alike both ways of the plug (%s): a path to one side of the line", name, strings.Join(unique(apart), "; ")))
	for _, h := range l.Hot {
		if h.Point == point && h.LiveTurned {
			t.below("may be live: it is, with the plug the other way round, and no one can tell by a plain plug how it stands")
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

// readings tells what the file's readings say.
func (p *Page) readings(l *analysis.Checklist) {
	a := l.Account
	if a == nil {
		return
	}
	p.Title("READINGS in the file")
	t := &Table{Widths: []int{56, 12, 12, 12}}
	t.Row("at", "read", "expected", "")
	for i, m := range a.Measurements {
		verdict := "agrees"
		if off := a.Described.Off[i]; off > 1 || off < -1 {
			verdict = "DIFFERS"
		}
		t.Row(rules.MeasurementWords(m), rules.FigureWords(m.Quantity, a.Shown[i]), rules.FigureWords(m.Quantity, a.Described.Predicted[i]), verdict)
	}
	p.Table(0, t)
	if a.Agree() {
		p.Para("", fmt.Sprintf("All %s as the wiring described has them, the meter's own ohms reckoned in.", counted(len(a.Shown), "reading")))
		if len(a.Proved) > 0 {
			p.Para("", "They bear out what the file states of "+List(VisibleAll(a.Proved))+": without it they could not be.")
		}
		p.Blank()
		return
	}
	p.explanations(a)
	p.Blank()
}

// explanationsShown is how many explanations are told.
const explanationsShown = 4

func (p *Page) explanations(a *analysis.Account) {
	if a.Unranked {
		p.Para("", "The set is too large to look for what would explain it; describe the line side alone.")
	}
	if len(a.Explanations) == 0 {
		return
	}
	if a.Explanations[0].Fits {
		p.Para("", "What would explain all of them together, best first; the score is the root mean square of the deviations, 1 being the edge of what is still right:")
	} else {
		p.Para("", "No one thing and no two faults explain all of them. Measure again, and look for what the file leaves out. What comes nearest:")
	}
	t := &Table{Widths: []int{6, 9, 81}}
	for i := range a.Explanations[:min(len(a.Explanations), max(explanationsShown, a.Leading))] {
		e := &a.Explanations[i]
		fits := "fits"
		if !e.Fits {
			fits = "not all"
		}
		var beside []string
		for k, m := range a.Measurements {
			beside = append(beside, rules.FigureWords(m.Quantity, e.Predicted[k]))
		}
		t.Row(digits(e.Score), fits, rules.ExplanationWords(e)+": "+strings.Join(beside, ", "))
	}
	p.Table(2, t)
	if apart := rules.ApartWords(a); apart != "" {
		p.Para("", apart)
	}
	if a.PairsLeft > 0 {
		p.Para("", fmt.Sprintf("%d pairs of faults were not tried: there are too many; those that change a reading alone were.", a.PairsLeft))
	}
}
