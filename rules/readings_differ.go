package rules

import (
	"fmt"
	"math"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// ReadingsDiffer holds the file's readings against the model.
var ReadingsDiffer = &Rule{
	Name:    "readings-differ",
	Signal:  Notice,
	Signals: "NOTICE",
	Looks:   "a stated reading that the described wiring cannot give, and what would explain all readings together; or a stated failure that the readings bear out",
	Why: "The file is what a person believes of the set, the meter says what it is. Where the two differ, the findings above speak of a set that is not " +
		"the one on the bench. A leakage, a switch in the wrong leg or a lost connection shows in a few readings taken together.",
	Blind: "What no reading bears on; three things wrong at once; moving or heating parts. Stray capacitance is allowed for: a meter of 10 MΩ shows tens of volts " +
		"on a point that nothing holds.",
	Source: "nodal analysis with the meter's own ohms; a reading is as predicted within 3 % of meter error, the parts' tolerances (20 % where none is given) " +
		"and 5 % of the mains, taken as independent; the score is the root mean square of the deviations in such bands",
	Remedy:  "Check the explanation cold, at the part, before believing it; correct the file, and inspect again",
	Caution: "Until the file agrees with the meter take every metal part as live. Work unplugged, reservoirs discharged and measured.",
	Subject: OfSet,
	Run: func(k *Facts) []Finding {
		a := diagnose.Explain(k.Mains)
		switch {
		case a == nil:
			return nil
		case !a.Agree():
			return []Finding{k.readingsDiffer(a)}
		case len(a.Proved) > 0:
			return []Finding{provedByReadings(a)}
		}
		return nil
	},
}

// How much of a ranking a finding tells.
const (
	explanationsTold = 3
	besideTold       = 3
)

func (k *Facts) readingsDiffer(a *diagnose.Account) Finding {
	worst, differ := 0, 0
	for i, off := range a.Described.Off {
		if math.Abs(off) > math.Abs(a.Described.Off[worst]) {
			worst = i
		}
		if math.Abs(off) > 1 {
			differ++
		}
	}
	m := a.Measurements[worst]
	f := Finding{Signal: Notice}
	for _, node := range []string{m.A, m.B} {
		if k.Set.Node(node) != nil && node != netlist.BuildingEarth {
			f.Nodes = append(f.Nodes, node)
		}
	}
	subject := fmt.Sprintf("%d of %d readings %s", differ, len(a.Shown), phrase.Be(differ))
	if len(a.Shown) == 1 {
		subject = "the one reading is"
	}
	f.Message = fmt.Sprintf("%s not what the wiring as described gives: %s shows %s, not %s",
		subject, phrase.Measurement(m), phrase.Meter(m.Quantity, a.Shown[worst]), phrase.Meter(m.Quantity, a.Described.Predicted[worst]))
	if a.Unranked {
		f.Notes = []string{"the set is too large to look for what would explain it; describe the line side alone"}
	}
	if len(a.Explanations) == 0 {
		return f
	}
	best := &a.Explanations[0]
	f.Parts = partsOfExplanation(best)
	f.Notes = explanationNotes(a)
	if best.Fits {
		before, _ := diagnose.WorstTouch(k.Mains, &a.Described)
		if w, at := diagnose.WorstTouch(k.Mains, best); w != nil && w.Class() == analysis.Live && (before == nil || before.Class() < analysis.Live) {
			f.Notes = append(f.Notes, fmt.Sprintf("if %s, %s %s live now: %s, %s through a body, %s",
				phrase.Explanation(best), netlist.Visible(at), phrase.Be(phrase.Things([]string{at})), phrase.Open(w.Reading), phrase.Current(w.Reading), phrase.State(w.State)))
		}
		if how := phrase.InFile(k.Set, best); how != "" && a.Leading == 1 {
			f.Remedy = "Check it cold, at the part; then " + how + ", and inspect again: the other findings rest on what the file says"
		}
	}
	return f
}

// explanationNotes are the ranking, what cannot be told apart, and what would tell.
func explanationNotes(a *diagnose.Account) []string {
	var notes []string
	if !a.Explanations[0].Fits {
		notes = append(notes, "no one thing and no two faults explain every reading; measure again, and look for what the file leaves out. What comes nearest:")
	}
	for i := range a.Explanations[:min(len(a.Explanations), explanationsTold)] {
		e := &a.Explanations[i]
		notes = append(notes, fmt.Sprintf("%s (%s): %s", phrase.Explanation(e), phrase.Fit(e), besideWords(a, e)))
	}
	if apart := phrase.Apart(a); apart != "" {
		notes = append(notes, apart)
	}
	return notes
}

// besideWords puts what an explanation predicts beside what was measured, at the readings that
// differ most from the set as described.
func besideWords(a *diagnose.Account, e *diagnose.Explanation) string {
	var words []string
	for i, m := range a.Measurements {
		if math.Abs(a.Described.Off[i]) > 1 || math.Abs(e.Off[i]) > 1 {
			words = append(words, fmt.Sprintf("%s for %s", phrase.Meter(m.Quantity, e.Predicted[i]), phrase.Meter(m.Quantity, a.Shown[i])))
		}
	}
	return "predicts " + phrase.Few(words, besideTold)
}

func partsOfExplanation(e *diagnose.Explanation) []string {
	var parts []string
	if e.Part != "" && e.Part != analysis.SupplyName {
		parts = append(parts, e.Part)
	}
	for _, f := range e.Faults {
		if f.Part != e.Part && f.Part != analysis.SupplyName {
			parts = append(parts, f.Part)
		}
	}
	return parts
}

func provedByReadings(a *diagnose.Account) Finding {
	n := len(a.Proved)
	return Finding{
		Signal: Notice, Parts: a.Proved,
		Message: fmt.Sprintf("%s: the readings bear out what the file states of %s; without it they could not be", phrase.List(a.Proved), phrase.Pick(n, "it", "them")),
		Notes:   []string{fmt.Sprintf("all %d readings agree with the wiring as described", len(a.Shown))},
		Remedy:  fmt.Sprintf("Replace %s; then take the same readings again", phrase.List(a.Proved)),
	}
}
