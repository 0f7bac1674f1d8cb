package text

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
	"coldcheck/rules/rework"
)

// Rework tells what a change does: each piece of metal before and after, what it brings, leaves and cures,
// and what stands on the way.
func (p *Page) Rework(c *rework.Comparison) {
	p.reworkHead(c)
	p.Blank()
	p.pointChanges(c)
	p.Blank()
	p.plug = c.After.Case.Circuit
	p.items("New", "nothing", c.New, func(i rework.Item) string { return stepWords(i, c.Plan) })
	p.items("Left", "nothing of what was found before", c.Left, leftWords)
	p.plug = c.Before.Case.Circuit
	p.items("Cured", "nothing", c.Cured, func(i rework.Item) string { return stepWords(i, c.Plan) })
	if c.Plan != nil {
		p.onTheWay(c)
		p.Blank()
	}
	p.plug = c.After.Case.Circuit
	p.closing(c.After, nil)
	p.row("in sum", tally(c.After)+"; a set file can be wrong: measure before you touch")
	if words := Unlooked(c); words != "" {
		p.Para("not looked at  ", words)
	}
}

// Unlooked tells the stages on the way that were not looked at, "" where all were.
func Unlooked(c *rework.Comparison) string {
	if c.Unexamined == 0 {
		return ""
	}
	last := len(c.Plan.Steps)
	word := "steps"
	if c.Unexamined == last-1 {
		word = "step"
	}
	return fmt.Sprintf("what stands on the way after %s %s, for the set is too large to look at every stage; do not plug in before step %d is done",
		word, stepRange(c.Unexamined, last-1), last)
}

func (p *Page) reworkHead(c *rework.Comparison) {
	before, after := c.Before.Case.Set, c.After.Case.Set
	p.heading(netlist.Visible(before.Name), Mains(after))
	if c.Plan != nil {
		p.Para("plan: ", fmt.Sprintf("%s (%s)", netlist.Visible(c.Plan.Name), phrase.Counted(len(c.Plan.Steps), "step")))
		if other := c.OtherSet(); other != "" {
			p.Para("", fmt.Sprintf("The plan's title speaks of %s, and this set is %s: is it the plan for this set?", netlist.Visible(other), netlist.Visible(c.Before.Case.Set.Name)))
		}
	} else {
		p.Para("against: ", fmt.Sprintf("%s (%s against %s)", netlist.Visible(after.Name), netlist.Visible(before.File), netlist.Visible(after.File)))
	}
	p.Para("before: ", tally(c.Before))
	p.Para("after:  ", tally(c.After))
	if c.Plan != nil {
		p.Para("", "Keep the plug out from the first step to the last, the reservoirs discharged and measured.")
	}
	if len(before.Readings) > 0 && c.Plan != nil {
		p.Para("", "The readings in the file were taken on the set as it was; they are not held against what it will be.")
	}
}

// stepWords say which step did it.
func stepWords(i rework.Item, plan *plan.Plan) string {
	switch {
	case plan == nil || i.Step == 0:
		return ""
	case i.From < i.Step:
		return fmt.Sprintf("by steps %d to %d together", i.From, i.Step)
	}
	return fmt.Sprintf("by step %d: %s", i.Step, plan.Steps[i.Step-1].String())
}

func leftWords(i rework.Item) string {
	if i.Was != i.Signal {
		return "it was " + i.Was.String()
	}
	return ""
}

// items tells findings, what is still to be done with those that stand at WARNING and more, and
// which step did it.
func (p *Page) items(title, none string, items []rework.Item, how func(rework.Item) string) {
	if len(items) == 0 {
		p.Title(title + ": " + none)
		p.Blank()
		return
	}
	p.Title(fmt.Sprintf("%s: %d", title, len(items)))
	for _, i := range items {
		text := p.namedOnce(i.Nodes, i.Message) + " (" + i.Rule.Name + ")"
		if words := how(i); words != "" {
			text += "; " + words
		}
		p.word(i.Signal, true, text)
		if title != "Cured" && i.Signal >= rules.Warning {
			p.sub("figures", i.Figures)
			p.sub("do", i.Remedy)
		}
	}
	p.Blank()
}

// namedOnce tells a finding with the names of its metal in full the first time, and then by the first of them.
func (p *Page) namedOnce(nodes []string, message string) string {
	full, rest, ok := strings.Cut(message, onePiece)
	for n := 3; ok && n <= len(nodes); n++ {
		if names := phrase.Visible(nodes[:n]); phrase.List(names) == full {
			return p.namesOnce(names) + onePiece + rest
		}
	}
	return message
}

// onePiece follows the names of several points that conductors join.
const onePiece = " (one piece of metal)"

// onTheWay tells what stands after each step, and what is a hazard of the way alone.
func (p *Page) onTheWay(c *rework.Comparison) {
	p.Title("On the way")
	table := &Table{Widths: []int{10, 44, 40}}
	table.Row("after step", "", "what stands then")
	for first := 0; first < len(c.Stages); {
		words := stageWords(&c.Stages[first])
		last := first
		for last+1 < len(c.Stages) && stageWords(&c.Stages[last+1]) == words {
			last++
		}
		table.Row(stepRange(c.Stages[first].Step, c.Stages[last].Step), stepsDone(c.Plan, c.Stages[first].Step, c.Stages[last].Step), words)
		first = last + 1
	}
	n := len(c.Plan.Steps)
	last := strongTally(c.After)
	if c.CutOff() {
		last += offTheLine
	}
	table.Row(fmt.Sprint(n), c.Plan.Steps[n-1].String(), last)
	p.Table(2, table)
	for _, h := range passingHazards(c) {
		p.plug = h.circuit
		p.word(h.first.Signal, true, h.words(p.namedOnce(h.first.Nodes, h.first.Message)))
	}
}

func stepRange(first, last int) string {
	if first == last {
		return fmt.Sprint(first)
	}
	return fmt.Sprintf("%d to %d", first, last)
}

// stepsDone tells the steps of a range, all where they are few.
func stepsDone(plan *plan.Plan, first, last int) string {
	var words []string
	for n := first; n <= last; n++ {
		words = append(words, plan.Steps[n-1].String())
	}
	return phrase.FewOf(words, 2, ", ", "more")
}

// offTheLine goes with a count of findings that is low because nothing is fed.
const offTheLine = ", with the set off the line"

func stageWords(s *rework.Stage) string {
	if s.Report == nil {
		return "not a whole set: " + strings.SplitN(s.Why[0].Text, ";", 2)[0]
	}
	if s.CordOff() {
		return strongTally(s.Report) + offTheLine
	}
	return strongTally(s.Report)
}

// strongTally counts what stands at WARNING and more.
func strongTally(r *rules.Report) string {
	counts := map[rules.Signal]int{}
	for _, f := range r.Findings {
		counts[f.Signal]++
	}
	var words []string
	for _, signal := range []rules.Signal{rules.Danger, rules.Warning} {
		if counts[signal] > 0 {
			words = append(words, fmt.Sprintf("%d %s", counts[signal], signal))
		}
	}
	if len(words) == 0 {
		return "no DANGER and no WARNING found"
	}
	return strings.Join(words, ", ")
}

// pointChanges tells each touch point before and after; points that changed alike stand together.
func (p *Page) pointChanges(c *rework.Comparison) {
	limit := c.After.Case.Result.Options.Faults
	p.Title(fmt.Sprintf("How many safeguards must fail until each point is live (looked for up to %d), and the worst current", limit))
	var names, lines []string
	cells := map[string][2][]string{}
	for _, change := range c.Points {
		before, after := pointCells(change.Before, c.Before.Case.Result.Options.Faults), pointCells(change.After, limit)
		key := strings.Join(append(before[:len(before):len(before)], after...), "\x00")
		if _, ok := cells[key]; !ok {
			lines = append(lines, key)
			names = append(names, "")
			cells[key] = [2][]string{before, after}
		}
		for i, line := range lines {
			if line == key {
				names[i] = strings.TrimPrefix(names[i]+", "+netlist.Visible(change.Node), ", ")
			}
		}
	}
	table := &Table{Widths: []int{22, 6, 25, 21, 21}}
	table.Row("point", "", "safeguards", "nothing failed", "one failure")
	for i, key := range lines {
		table.Row(append([]string{names[i], "before"}, cells[key][0]...)...)
		table.Row(append([]string{"", "after"}, cells[key][1]...)...)
	}
	p.Table(2, table)
	if guardsCounted(c.Before.Case.Result) || guardsCounted(c.After.Case.Result) {
		p.indented(2, "The currents are those of the bare metal; the safeguards count the guard.")
	}
}

// pointCells are the depth in both plug polarities and the worst currents of a touch point.
func pointCells(q *analysis.PointResult, limit int) []string {
	if q == nil {
		return []string{"no touch point", "", ""}
	}
	return []string{depthWords(q, limit), worstCurrent(q.Normal), worstCurrent(q.OneFault)}
}

func worstCurrent(w *analysis.Worst) string {
	if w == nil {
		return "shorts the line"
	}
	if class := w.Class(); class != analysis.UnderLimit {
		return phrase.Band(class) + ", " + phrase.Current(w.Reading)
	}
	return phrase.Current(w.Reading)
}
