package text

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
	"coldcheck/rules/overview"
	"coldcheck/rules/phrase"
)

// touchWords say what each kind of touchable metal is.
var touchWords = map[string]string{
	"chassis": "chassis", "control": "control shaft or set screw", "antenna": "antenna terminal", "ground": "ground terminal",
	"fastener": "cabinet or foot screw", "jack": "jack", "speaker": "speaker frame", "pickup": "tone arm or turntable",
	"trim": "metal trim, handle or cabinet",
}

// closing tells what was not looked at, and what is left for the bench.
func (p *Page) closing(r *rules.Report, notes []overview.Idea) {
	k := r.Case
	p.Title("Not looked at")
	for _, i := range notes {
		p.indented(rowIndent, noticesWords(i))
	}
	var unseen []string
	if n := k.Result.NotJudged; n.States > 0 {
		unseen = append(unseen, fmt.Sprintf("%d of %d states (no fault, or one), which short the line", n.States, n.Of))
	}
	for _, words := range []string{Reduced(k.Result), Unpaired(k.Result)} {
		if words != "" {
			unseen = append(unseen, words)
		}
	}
	if missing := Undescribed(k.Set); len(missing) > 0 {
		unseen = append(unseen, "not in the file: "+strings.Join(missing, ", "))
	}
	for _, spot := range BlindSpots(k) {
		unseen = append(unseen, overview.Gist(spot))
	}
	p.indented(rowIndent, strings.Join(unseen, "; "))
	p.TraceNext(k.Set)
	p.row("bench", "cold, then hot, the plug both ways: coldcheck checklist has the steps, and what to expect")
	p.row("limits", limitWords)
	if slices.ContainsFunc(r.Findings, func(f rules.Finding) bool { return f.RemedyPlan != "" }) {
		p.row("tried", "what to do about a WARNING or DANGER was carried out on a copy of the file and looked at again; "+
			"--format json --remedies has the plans")
	}
	if names := ruleNames(r); names != "" {
		p.row("more", "coldcheck why "+names)
	}
}

// TraceNext tells what of the wiring would change the answer most, once it is traced.
func (p *Page) TraceNext(set *netlist.Set) {
	if next := overview.Untraced(set); len(next) > 0 {
		p.row("trace", "next, where the answer may change most: "+strings.Join(next, "; "))
	}
}

// ruleNames are the names of the rules with a finding of WARNING or more, the strongest first; of all that
// found something where there is none.
func ruleNames(r *rules.Report) string {
	var strong, names []string
	for i := range r.Findings {
		name := r.Findings[i].Rule.Name
		if slices.Contains(names, name) {
			continue
		}
		if names = append(names, name); r.Findings[i].Signal >= rules.Warning {
			strong = append(strong, name)
		}
	}
	if len(strong) > 0 {
		names = strong
	}
	return phrase.Or(names)
}

// limitWords are what the figures are of, and the limits, in the words that a reading has.
const limitWords = "of bare metal: startles over 30 V and 0.5 mA AC, or 60 V and 2 mA DC; live over 50 V and 5 mA AC, or 120 V and 25 mA DC (IEC 62368-1 table 4, IEC 60990)"

// noticesWords tells the findings of one rule about the file or the bench.
func noticesWords(i overview.Idea) string {
	var words []string
	for _, f := range i.Findings {
		words = append(words, strings.Join(append([]string{f.Message}, f.Notes...), "; "))
	}
	return phrase.FewOf(words, noticesTold, "; ", "more")
}

// noticesTold is how many notices of a kind are told.
const noticesTold = 6

// Unpaired tells what was not looked at hand to hand, "" where all was.
func Unpaired(r *analysis.Result) string {
	if len(r.LeftOut) == 0 {
		return ""
	}
	var names []string
	for _, piece := range r.LeftOut {
		names = append(names, netlist.Visible(piece[0].Name))
	}
	return "hand to hand: " + phrase.List(names) + ", for the pieces of metal are too many to take in pairs"
}

// Reduced tells by how much a search was cut, "" where it was not.
func Reduced(r *analysis.Result) string {
	reduced := r.Reduced
	if reduced == nil {
		return ""
	}
	return fmt.Sprintf("the set is too large to look at all failures at once (some %.0f million states for --faults %d): looked at up to %s, %d together",
		math.Ceil(reduced.Evaluations/1e6), reduced.Asked, phrase.Counted(r.Options.Faults, "failure"), reduced.Together)
}

// label writes a paragraph behind a label of the closing.
func (p *Page) label(label, text string) {
	head := padded(label, 15)
	p.para(head, p.paint(bold, label)+blanks(columns(head)-columns(label)), text)
}

// Undescribed lists the kinds of touchable metal of which the file has none.
func Undescribed(set *netlist.Set) []string {
	has := map[string]bool{}
	for _, n := range set.TouchPoints() {
		has[n.Touch] = true
	}
	var missing []string
	for _, kind := range netlist.TouchKinds {
		if !has[kind] {
			missing = append(missing, touchWords[kind])
		}
	}
	return missing
}

// BlindSpots are the things that the model leaves out and that bear on this set.
func BlindSpots(k *rules.Case) []string {
	spots := []string{"stray capacitance of windings and insulation (a meter of 10 MΩ shows a phantom reading even on sound isolation)"}
	var transformer, dry bool
	for _, part := range k.Set.Parts {
		switch part.Kind {
		case netlist.KindTransformer:
			transformer = true
		case netlist.KindRectifier:
			dry = true
		}
	}
	if transformer {
		spots = append(spots, "an open transformer winding")
	}
	if dry {
		spots = append(spots, "dry rectifiers in series one by one")
	}
	if _, plug := k.Set.Plug(); plug.Earth != "" {
		spots = append(spots, "an outlet whose earth contact is bridged to its neutral: test the outlet")
	}
	if k.Set.Earthed == "" {
		spots = append(spots, "mains that are earthed elsewhere than at one leg (say it with earthed in [set])")
	}
	return append(spots, "anything that moves, heats or burns")
}

// BenchChecks are what no file can answer.
func BenchChecks(c *analysis.Circuit) string {
	on, each := "", ""
	if len(c.Switches) > 0 {
		on, each = ", switches on", ", every switch in each position"
	}
	if len(c.Controls) > 0 {
		each += ", every control at both ends"
	}
	show := "Behind an isolating transformer the hot check shows nothing"
	if c.Earthed() == netlist.EarthedNowhere {
		show = "Where nothing of the mains is earthed the hot check shows nothing, of what is live as well"
	}
	return fmt.Sprintf("cold first, with the plug out, the reservoirs discharged and measured: ohms from both blades tied together to all metal that a hand can reach%s; hot only once that is clean, the meter clipped on before the plug goes in, hands off: volts across %s parallel %s from the metal to earth, the plug both ways%s; %s V is 0.5 mA. %s. Test the outlet itself",
		on, netlist.FormatValue(analysis.HotCheckOhms, netlist.Ohm), netlist.FormatValue(analysis.HotCheckFarads, netlist.Farad), each, phrase.Figure(analysis.HotCheckVolts), show)
}
