package live

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/cmd/coldcheck/reading"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// checkSection is a round of the checklist.
type checkSection struct {
	Key    string      `json:"key"`
	Title  string      `json:"title"`
	About  string      `json:"about"`
	Warn   string      `json:"warn"`
	Checks []checkView `json:"checks"`
}

// checkView is one measurement: where, what is right, and what must not be done.
type checkView struct {
	ID     string `json:"id"` // by what is measured: the same whatever else the file says
	Where  string `json:"where"`
	Expect string `json:"expect"`
	Unit   string `json:"unit"`
	Bar    string `json:"bar"` // it must not be made, and why
}

type checksAnswer struct {
	Edition  int            `json:"edition"`
	Sections []checkSection `json:"sections"`
}

func answerChecks(e *edition, _ struct{}) (*checksAnswer, error) {
	return &checksAnswer{e.number, e.sections()}, nil
}

// sections are the rounds of the checklist, in the order in which a careful person goes.
func (e *edition) sections() []checkSection {
	l := e.checklist()
	c := l.Circuit
	told := func(s string) string { return phrase.InWordsOf(c, s) }
	view := func(where string, when [][]analysis.Setting, check diagnose.Check, bar string) checkView {
		if stands := text.StandWords(c, when, check); stands != "" {
			where += " (" + stands + ")"
		}
		return checkView{ID: reading.ID(check.Measurement), Where: told(where), Expect: text.RangeWords(check), Unit: reading.UnitOf[check.Quantity], Bar: told(bar)}
	}
	cold := checkSection{Key: "cold", Title: "Cold", About: "ohms, the plug out, the reservoirs discharged", Checks: []checkView{}}
	for _, check := range slices.Concat(l.Cold, l.Joined) {
		from := netlist.Visible(check.A)
		if check.Tied {
			from = "both blades tied"
		}
		cold.Checks = append(cold.Checks, view(from+" to "+netlist.Visible(check.B), check.When, check, ""))
	}
	hot := checkSection{Key: "hot", Title: "Hot", About: "volts to a tested earth, only once every cold line is right", Checks: []checkView{}}
	if l.Hold() {
		hot.Warn = "MAKE NONE OF THESE YET: the readings in the file say that the set is not as described, so no one knows what is live. Find out cold first."
	}
	for i := range l.Hot {
		h := &l.Hot[i]
		where, bar := netlist.Visible(h.Point)+", "+phrase.Plug(h.Plug), hotBar(h)
		hot.Checks = append(hot.Checks, view(where+", 10 MΩ meter", h.When, h.Volts, bar))
		if bar == "" {
			hot.Checks = append(hot.Checks, view(where+", 1.5 kΩ and 0.15 µF across the meter", h.When, h.Load, ""))
		}
	}
	sections := []checkSection{cold, hot}
	const behind = "These are hot checks too: behind an isolating transformer only where metal is live or may be, the leads clipped on before the plug goes in."
	for _, p := range l.Playing {
		working := checkSection{Key: "working", Title: "Working", About: "while it plays", Warn: behind, Checks: []checkView{}}
		if stands := strings.Join(phrase.Settings(p.Settings), ", "); stands != "" {
			working.Key, working.About = "working "+stands, "while it plays, "+stands
		}
		for _, line := range p.Lines {
			working.Checks = append(working.Checks, view(line.Point+", "+netlist.Visible(line.A)+" to "+netlist.Visible(line.B), nil, line.Check, ""))
		}
		sections = append(sections, working)
	}
	heaters := checkSection{Key: "heaters", Title: "Heaters", About: "volts across each", Warn: behind, Checks: []checkView{}}
	for _, h := range l.Heaters {
		heaters.Checks = append(heaters.Checks, view(netlist.Visible(h.Tube)+" heater, "+netlist.Visible(h.A)+" to "+netlist.Visible(h.B), nil, h.Check, ""))
	}
	sections = append(sections, heaters)
	return slices.DeleteFunc(sections, func(s checkSection) bool { return len(s.Checks) == 0 })
}

// hotBar says why a hot check must not be made, "" where it may.
func hotBar(h *diagnose.HotCheck) string {
	switch {
	case h.Cleared:
		return "DO NOT plug in: shorts the line"
	case h.LiveReversed:
		return "DO NOT: may be live, no one can tell by a plain plug how it stands"
	case h.Live:
		return "DO NOT: live, " + phrase.Meter(diagnose.VoltsRead, h.Volts.Expect)
	}
	return ""
}

// checkOf is every check that has a field, by its name.
func (e *edition) checkOf() map[string]diagnose.Check {
	l := e.checklist()
	all := map[string]diagnose.Check{}
	add := func(c diagnose.Check) { all[reading.ID(c.Measurement)] = c }
	for _, c := range slices.Concat(l.Cold, l.Joined) {
		add(c)
	}
	for i := range l.Hot {
		if h := &l.Hot[i]; h.Do() {
			add(h.Volts)
			add(h.Load)
		}
	}
	for _, p := range l.Playing {
		for _, line := range p.Lines {
			add(line.Check)
		}
	}
	for _, h := range l.Heaters {
		add(h.Check)
	}
	return all
}

// typedReading is what was typed into a field.
type typedReading struct {
	ID   string `json:"id"`
	Text string `json:"text"`
}

// mostTyped is how many readings are judged at once.
const mostTyped = 500

type readingsAsked struct {
	Typed   []typedReading `json:"typed"`
	Explain bool           `json:"explain"` // what would explain them, too
}

type readingsAnswer struct {
	Judged  []judged `json:"judged"`
	Account *account `json:"account"` // nil where it was not asked for
}

type judged struct {
	ID      string          `json:"id"`
	Verdict reading.Verdict `json:"verdict"`
	Words   string          `json:"words"`
}

// account is what the readings say together.
type account struct {
	Say       string      `json:"say"`
	Explained []explained `json:"explained"`
	Next      string      `json:"next"`
}

type explained struct {
	Words string `json:"words"`
	Fits  string `json:"fits"`
}

// taken is a reading that could be read.
type taken struct {
	check diagnose.Check
	value float64 // V, Ω or mA, as the set file has them
}

// take reads what was typed, and says of each figure how it stands to what is right.
func (e *edition) take(typed []typedReading) (all []taken, says []judged, err error) {
	if len(typed) > mostTyped {
		return nil, nil, refuse(http.StatusUnprocessableEntity, "%d readings at once are the most", mostTyped)
	}
	checks := e.checkOf()
	says = []judged{}
	for _, t := range typed {
		check, ok := checks[t.ID]
		if !ok {
			continue // of a check that the set, as its file is now, has not
		}
		value, err := reading.Figure(t.Text, check.Quantity)
		if err != nil {
			says = append(says, judged{t.ID, reading.Misread, err.Error()})
			continue
		}
		all = append(all, taken{check, value})
		verdict, words := reading.Judge(e.base.Circuit, check, value)
		says = append(says, judged{t.ID, verdict, words})
	}
	return all, says, nil
}

// judge judges what was typed, alone and together.
func (e *edition) judge(a readingsAsked) (*readingsAnswer, error) {
	all, says, err := e.take(a.Typed)
	if err != nil {
		return nil, err
	}
	answer := &readingsAnswer{Judged: says}
	if !a.Explain {
		return answer, nil
	}
	answer.Account = &account{Explained: []explained{}}
	var ms []diagnose.Measurement
	var shown []float64
	add := func(m diagnose.Measurement, value float64) {
		if m.Quantity == diagnose.OhmsRead {
			value = min(value, diagnose.OhmsRange)
		}
		ms, shown = append(ms, m), append(shown, value)
	}
	for _, r := range e.set.Readings {
		add(diagnose.MeasurementOf(e.base.Circuit, r), r.Value)
	}
	for _, t := range all {
		add(t.check.Measurement, t.value)
	}
	if len(ms) == 0 {
		answer.Account.Say = "No reading yet."
		return answer, nil
	}
	answer.Account.tell(e.base.Circuit, diagnose.ExplainTaken(e.base.Circuit, ms, shown), says)
	return answer, nil
}

// tell tells what some readings say together.
func (a *account) tell(c *analysis.Circuit, x *diagnose.Account, says []judged) {
	off := slices.ContainsFunc(says, func(j judged) bool { return j.Verdict == reading.Low || j.Verdict == reading.High })
	told := func(s string) string { return phrase.InWordsOf(c, s) }
	switch {
	case x.Agree() && off:
		a.Say = "Together they can be had from the wiring as described, and one alone is outside its band: measure that again."
		return
	case x.Agree():
		a.Say = fmt.Sprintf("All %s as the wiring described has them, the meter's own ohms reckoned in.", phrase.Counted(len(x.Shown), "reading"))
		return
	}
	const hold = " MAKE NO HOT CHECK until that is found: no one knows what is live."
	switch {
	case x.Unranked:
		a.Say = "The readings say that the set is not as described, and it is too large to look for what would explain it." + hold
	case len(x.Explanations) == 0:
		a.Say = "The readings say that the set is not as described, and no one thing and no two failures explain them. Measure again, and look for what the file leaves out." + hold
	case x.Explanations[0].Fits:
		a.Say = "The set is not as described. What would explain all readings together, best first:" + hold
	default:
		a.Say = "The set is not as described, and no one thing and no two failures explain all readings. What comes nearest:" + hold
	}
	for i := range x.Explanations {
		e := &x.Explanations[i]
		fits := "fits"
		if !e.Fits {
			fits = "does not fit all"
		}
		a.Explained = append(a.Explained, explained{told(phrase.Explanation(e)), fits})
	}
	if apart := told(phrase.Apart(x)); apart != "" {
		a.Next = capital(apart) + "."
	}
}
