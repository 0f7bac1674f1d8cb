package rules

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/rules/phrase"
)

// Finding is one thing found.
type Finding struct {
	Rule   *Rule
	Signal Signal

	// Nodes are the nodes that it speaks of, the foremost first; empty where it speaks of parts
	// alone.
	Nodes []string
	Parts []string
	// Message is the headline: what, and where. Lower case but for names, no full stop.
	Message string
	// Path is the way of the current, nil where there is none to tell.
	Path *analysis.Path
	// Worst is the worst state and what is read in it, nil where no state is told.
	Worst *analysis.Worst
	// Figures tells the figures in words: volts, mA, the limit, what it means for a person.
	Figures string
	// FiguresAgain tells the same in short, for a report that has told what such a reading means:
	// Meaning, which is equal where it is.
	FiguresAgain, Meaning string
	// Between says what stands between the line and the hand.
	Between string
	// Notes are further sentences, each a line of its own.
	Notes   []string
	Remedy  string // the rule's own where the finding has none closer
	Caution string
}

// tellFigures fills in what a reading is, in full and in short. atLeast marks a way through heaters
// or lamps that do not glow.
func (f *Finding) tellFigures(r analysis.Reading, atLeast bool) {
	least := ""
	if atLeast {
		least = "at least "
	}
	f.Meaning = phrase.Meaning(r)
	f.Figures = fmt.Sprintf("%s to earth, %s%s through a body (%s): %s", phrase.Open(r), least, phrase.Current(r), phrase.BodySource, f.Meaning)
	f.FiguresAgain = fmt.Sprintf("%s to earth, %s%s through a body: %s", phrase.Open(r), least, phrase.Current(r), phrase.BandOver(r.Class()))
	if atLeast {
		f.Figures += "; cold heaters and lamps pass more, having up to six times less resistance"
	}
	if r.AtLimit() {
		f.FiguresAgain += ", at the limit"
	}
}

// inState tells a state that a finding rests on, without a reading at a touch point.
func inState(s analysis.State) *analysis.Worst { return &analysis.Worst{State: s} }

// Node is the foremost node, or "".
func (f *Finding) Node() string {
	if len(f.Nodes) == 0 {
		return ""
	}
	return f.Nodes[0]
}

// Report is all that is said of one set.
type Report struct {
	Case     *Case
	Findings []Finding
}

// Check examines a set and runs every rule on it.
func Check(c *analysis.Circuit, options analysis.Options) *Report {
	k := newCase(c, c.Examine(options))
	var all []Finding
	for _, r := range All {
		for _, f := range r.Run(k) {
			f.Rule = r
			if f.Remedy == "" {
				f.Remedy = r.Remedy
			}
			if f.Caution == "" {
				f.Caution = r.Caution
			}
			k.told(f)
			all = append(all, f)
		}
	}
	order := func(name string) int {
		return slices.IndexFunc(All, func(r *Rule) bool { return r.Name == name })
	}
	slices.SortStableFunc(all, func(f, g Finding) int {
		return cmp.Or(cmp.Compare(g.Signal, f.Signal), strings.Compare(f.Node(), g.Node()), cmp.Compare(order(f.Rule.Name), order(g.Rule.Name)))
	})
	return &Report{Case: k, Findings: all}
}

// Slim lets go of the solved states, which are large. What is left are the findings, the result of the
// search and the legs of the line; no rule can be run on the case any more.
func (r *Report) Slim() {
	k := r.Case
	k.lineSide() // what Fed asks for
	k.everyGap() // no one is at work on it any more
	k.everyGap = nil
	k.Normal, k.rows, k.wirings, k.sound = nil, nil, nil, nil
	clear(k.solutions)
	clear(k.lives)
	clear(k.single)
	k.Circuit.Forget()
}

// Worst is the strongest signal of the report, and whether there is any finding.
func (r *Report) Worst() (Signal, bool) {
	if len(r.Findings) == 0 {
		return Notice, false
	}
	return r.Findings[0].Signal, true
}
