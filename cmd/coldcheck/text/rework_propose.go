package text

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
	"coldcheck/rules/rework"
	"coldcheck/rules/rework/propose"
)

// JudgeWords stand above every proposal.
const JudgeWords = "A proposal, not an instruction: a program that has only read a file made it. A qualified person judges it, part by part, " +
	"on the set itself and under the local electrical codes, before anyone solders."

// Proposals prints what was found as plan files, all else as remarks of theirs.
func (p *Page) Proposals(all *propose.Proposals) {
	set := all.Report.Case.Set
	p.plug = all.Report.Case.Circuit
	p.remark(fmt.Sprintf("%s, %s: %s.", netlist.Visible(set.Name), Mains(set), tally(all.Report)))
	p.remark(FoundWords(all))
	for _, f := range all.Beyond {
		p.remark(fmt.Sprintf("No edit of the list cures: %s %s (%s).", f.Signal, f.Message, f.Rule.Name))
	}
	for i := range all.Plans {
		p.Blank()
		if len(all.Plans) > 1 {
			p.Title("# " + strings.Repeat("-", 40) + fmt.Sprintf(" %d of %d", i+1, len(all.Plans)))
		}
		var b strings.Builder
		if planFile(&b, &all.Plans[i], p.width) == nil {
			p.Source(b.String())
		}
	}
}

// FoundWords say what the search did and what it proves.
func FoundWords(all *propose.Proposals) string {
	strong, found := all.Report.Worst()
	switch {
	case !found || strong < rules.Warning:
		return "There is no DANGER and no WARNING to cure."
	case all.Partial && all.Stopped:
		return fmt.Sprintf("No plan that leaves no DANGER and no WARNING was found; %s, and the bound on them ended the search. "+
			"The plan below leaves the least of all that were examined.", examined(all))
	case all.Partial:
		return fmt.Sprintf("No plan of the list's edits leaves no DANGER and no WARNING; %s. The plan below leaves the least of all that were examined: "+
			"what it leaves has to be cured by other means.", examined(all))
	case len(all.Plans) == 0 && all.Stopped:
		return fmt.Sprintf("No plan was found among %s; the bound on them ended the search.", examined(all))
	case len(all.Plans) == 0:
		return fmt.Sprintf("No plan of the list's edits leaves no DANGER and no WARNING; %s.", examined(all))
	}
	words := fmt.Sprintf("%s examined. Each plan, unless it says otherwise, has the fewest edits of its kind that leave no DANGER and no WARNING "+
		"and bring no metal nearer to the line, out of the edits that trade practice has for this (coldcheck help rework); the least invasive comes first.", phrase.Counted(all.Checked, "altered set"))
	switch {
	case all.Unproved:
		words = fmt.Sprintf("%s. The bound on them ended one search: there may be a plan with fewer edits.", examined(all))
	case all.Stopped:
		words += " The bound on them ended the search for a further kind."
	}
	return words
}

func examined(all *propose.Proposals) string {
	return phrase.Counted(all.Checked, "altered set") + " examined"
}

// PlanFile writes one proposal as a plan file. The error is the writer's.
func PlanFile(w io.Writer, proposal *propose.Proposal) error { return planFile(w, proposal, Width) }

// planFile is PlanFile with what stands above the plan in so many columns.
func planFile(w io.Writer, proposal *propose.Proposal, width int) error {
	var b bytes.Buffer
	page := NewPage(&b, false, width)
	page.plug = proposal.Comparison.After.Case.Circuit
	page.remark(fmt.Sprintf("Rests on %s: %s, %s.", proposal.Kind, phrase.Counted(proposal.Remedies, "change"), phrase.Counted(len(proposal.Plan.Steps), "step")))
	page.remark(page.leavesWords(proposal.Comparison))
	page.remark(fmt.Sprintf("Safeguards that must fail until a point is live, looked for up to %d:", proposal.Comparison.After.Case.Result.Options.Faults))
	for _, line := range depthLines(proposal.Comparison) {
		page.remarkBehind("  ", line)
	}
	if proposal.OneByOne {
		page.remark("The search for the smallest plan of this kind was cut short: this one was put together edit by edit, and there may be a smaller one.")
	}
	page.remark(JudgeWords)
	page.remark("Try it without the iron: coldcheck rework SET THIS-FILE")
	page.Blank()
	if err := proposal.Plan.Write(&b); err != nil {
		return err
	}
	_, err := w.Write(b.Bytes())
	return err
}

// leavesWords say what stands once the plan is carried out.
func (p *Page) leavesWords(c *rework.Comparison) string {
	words := "Once carried out: " + tally(c.After) + "."
	for _, f := range c.After.Findings {
		if f.Signal >= rules.Warning {
			words += fmt.Sprintf(" It leaves: %s %s.", f.Signal, p.namedOnce(f.Nodes, f.Message))
		}
	}
	var brought []string
	for _, i := range c.New {
		if i.Signal == rules.Caution {
			brought = append(brought, p.namedOnce(i.Nodes, i.Message))
		}
	}
	if len(brought) > 0 {
		words += " New at CAUTION: " + phrase.FewOf(brought, 2, "; ", "more") + "."
	}
	return words
}

// depthLines tell each touch point's depth before and after, points that changed alike together.
func depthLines(c *rework.Comparison) []string {
	var order []string
	names := map[string][]string{}
	for _, change := range c.Points {
		words := "not touched before"
		if change.Before != nil {
			words = "before " + depthWords(change.Before, c.Before.Case.Result.Options.Faults)
		}
		words += "; after " + afterWords(change.After, c.After.Case.Result.Options.Faults)
		if names[words] == nil {
			order = append(order, words)
		}
		names[words] = append(names[words], netlist.Visible(change.Node))
	}
	var lines []string
	for _, words := range order {
		lines = append(lines, phrase.List(names[words])+": "+words)
	}
	return lines
}

// afterWords tell a touch point once a plan is carried out: its depth, and the worst with one failure or none.
func afterWords(p *analysis.PointResult, limit int) string {
	switch {
	case p == nil:
		return "no touch point"
	case p.Normal == nil:
		return depthWords(p, limit)
	}
	return fmt.Sprintf("%s; with one failure or none %s at most", depthWords(p, limit), phrase.Current(worstReading(p)))
}

// worstReading is the worse of the two that are told of a point.
func worstReading(p *analysis.PointResult) analysis.Reading {
	if p.OneFault != nil && p.OneFault.Severity() > p.Normal.Severity() {
		return p.OneFault.Reading
	}
	return p.Normal.Reading
}

// remark writes a text as remarks of a plan file.
func (p *Page) remark(text string) { p.remarkBehind("", text) }

// remarkBehind is remark with every line indented.
func (p *Page) remarkBehind(indent, text string) {
	for _, line := range wrap(p.inWords(text), p.width-2-len(indent)) {
		p.Line(strings.TrimRight("# "+indent+line, " "))
	}
}
