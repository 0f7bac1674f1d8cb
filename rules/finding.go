package rules

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/trace"
	"coldcheck/netlist"
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
	// Path is the path of the current, nil where there is none to tell.
	Path *analysis.Path
	// Worst is the worst state and what is read in it, nil where no state is told.
	Worst *analysis.Worst
	// Figures tells the figures in words: volts, mA, the limit, what it means for a person.
	Figures string
	// FiguresAgain tells the same in short, for a report that has told what such a reading means:
	// Meaning, which is equal where it is.
	FiguresAgain, Meaning string
	// AtLeast says that cold heaters or lamps on the path pass more than the figures.
	AtLeast bool
	// Between says what stands between the line and the hand.
	Between string
	// Notes are further sentences, each a line of its own.
	Notes   []string
	Remedy  string // the rule's own where the finding has none closer
	Caution string
	// Tried says that remedies were tried on copies of the set. RemedyPlan is the one that held and that
	// Remedy tells, as the text of a plan file, and RemedySteps its steps in words; "" where none held or
	// none was tried.
	Tried                   bool
	RemedyPlan, RemedySteps string
}

// tellFigures fills in what a reading is, in full and in short. atLeast marks a path through heaters
// or lamps that do not glow.
func (f *Finding) tellFigures(r analysis.Reading, atLeast bool) {
	least := ""
	if f.AtLeast = atLeast; atLeast {
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

// TellsLive reports whether it is of metal, or an earth, that is live with nothing failed.
func (f *Finding) TellsLive() bool {
	return f.Rule.Live || f.Rule.Current && f.Rule.Subject == OfMetal && f.Signal == Danger
}

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
	k := newFacts(c, options)
	found := make([][]Finding, len(All)) // by rule: none waits for another
	analysis.SideBySide(len(All), func(i int) { found[i] = All[i].Run(k) })
	var all []Finding
	for i, r := range All {
		for _, f := range found[i] {
			all = append(all, f.by(r))
		}
	}
	for _, f := range k.untold(all) {
		all = append(all, f.by(OneFault))
	}
	place := map[*Rule]int{}
	for i, r := range All {
		place[r] = i
	}
	slices.SortStableFunc(all, func(f, g Finding) int {
		return cmp.Or(cmp.Compare(g.Signal, f.Signal), strings.Compare(f.Node(), g.Node()), cmp.Compare(place[f.Rule], place[g.Rule]))
	})
	return &Report{Case: k.Case, Findings: all}
}

// by is a finding of a rule, with the rule's own words where it has none closer.
func (f Finding) by(r *Rule) Finding {
	f.Rule = r
	f.Remedy = cmp.Or(f.Remedy, r.Remedy)
	f.Caution = cmp.Or(f.Caution, r.Caution)
	return f
}

// untold keeps the law that no point of depth 0 or 1 goes without a finding: what no rule has a name
// for is told as one fault.
func (k *Facts) untold(told []Finding) []Finding {
	var all []Finding
	for _, m := range k.Metals {
		for _, p := range m.Points {
			if p.Depth == analysis.None || p.Depth > 1 || slices.ContainsFunc(told, func(f Finding) bool { return f.tellsTouch(p.Name) }) {
				continue
			}
			all = append(all, k.tellUnnamed(p))
		}
	}
	return all
}

// tellsTouch reports whether a finding says how live a touch point is to earth.
func (f *Finding) tellsTouch(node string) bool {
	return f.Rule.Subject == OfMetal && f.Rule.Touch() && (f.Signal >= Caution || f.Rule == OneFault) && slices.Contains(f.Nodes, node)
}

// tellUnnamed tells a point of depth 0 or 1 by the first of its fault sets.
func (k *Facts) tellUnnamed(p *analysis.PointResult) Finding {
	w := p.Normal
	if p.Depth > 0 || w == nil {
		w = p.OneFault
	}
	f := Finding{Signal: Warning, Nodes: []string{p.Name}, Worst: w}
	subject := fmt.Sprintf("%s %s", netlist.Visible(p.Name), phrase.Be(phrase.Things(f.Nodes)))
	if faults := p.FaultSets[0].Faults; len(faults) == 0 {
		f.Signal = Danger
		f.Message = subject + " live with nothing failed"
	} else {
		f.Message = fmt.Sprintf("%s one failure from live: %s", subject, phrase.Faults(faults))
	}
	if w != nil {
		f.Path = trace.Foremost(k.Circuit, w.State, p.Name)
		f.Parts = f.Path.Parts()
		f.tellFigures(w.Reading, k.atLeast(f.Path, w.State))
	}
	return f
}

// Fed reports whether anything of the set draws current from one blade of the plug to the other, in any
// position of the switches. A set of which nothing does is off the line, and little is found in it.
func (r *Report) Fed() bool { return r.Case.fed }

// Slim lets go of the solved states, which are large. What is left are the findings and the result of
// the search.
func (r *Report) Slim() {
	r.Case.Circuit.Forget()
	r.Case.Mains.Forget()
	r.Case.grounded.Forget()
}

// Worst is the strongest signal of the report, and whether there is any finding.
func (r *Report) Worst() (Signal, bool) {
	if len(r.Findings) == 0 {
		return Notice, false
	}
	return r.Findings[0].Signal, true
}
