package text

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/trace"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
)

// setsTold is how many fault sets of a point are told before the rest is only counted.
const setsTold = 3

// pointClass is touch points of one piece of metal that stand behind the same safeguards: they
// are told once.
type pointClass struct {
	points []*analysis.PointResult
}

// pointClasses splits the metals of a case by what is told of their points.
func pointClasses(k *rules.Case) []pointClass {
	var classes []pointClass
	for _, m := range k.Metals {
		first := len(classes)
		for _, p := range m.Points {
			home := -1
			for i := first; i < len(classes); i++ {
				q := classes[i].points[0]
				if depthWords(q) == depthWords(p) && setsWords(q, 0) == setsWords(p, 0) &&
					WorstWords(q.Normal) == WorstWords(p.Normal) && WorstWords(q.OneFault) == WorstWords(p.OneFault) {
					home = i
				}
			}
			if home < 0 {
				classes = append(classes, pointClass{})
				home = len(classes) - 1
			}
			classes[home].points = append(classes[home].points, p)
		}
	}
	return classes
}

func (c pointClass) name() string {
	var names []string
	for _, p := range c.points {
		names = append(names, phrase.Guarded(p.TouchPoint))
	}
	return strings.Join(names, ", ")
}

// points tells each touch point: how many things must fail, the worst figures, and which things.
func (p *Page) points(k *rules.Case) {
	limit := k.Result.Options.Faults
	p.Title("Touch points: how many safeguards must fail until each is live, looked for up to " + fmt.Sprint(limit))
	table := &Table{Widths: []int{26, 16, 25, 25}}
	table.Row("point", "depth", "worst, no fault", "worst, one fault")
	for _, class := range pointClasses(k) {
		q := class.points[0]
		normal, oneFault := WorstWords(q.Normal), WorstWords(q.OneFault)
		if oneFault == normal {
			oneFault = "the same"
		}
		table.Row(class.name(), depthWords(q), normal, oneFault)
	}
	p.Table(2, table)
	if hands := handToHand(k.Result); hands != "" {
		p.indented(2, hands)
	}
	p.Blank()
	p.Title("What makes each live, with the least that must fail")
	sets := &Table{Widths: []int{26, 68}}
	for _, class := range pointClasses(k) {
		words := setsWords(class.points[0], limit)
		if len(class.points[0].FaultSets) == 0 {
			words += beyondWords(k, class.points[0].Name)
		}
		sets.Row(class.name(), words)
	}
	p.Table(2, sets)
	if guardsCounted(k.Result) {
		p.indented(2, "The figures are of the bare metal, as if no guard were on it; the depth counts the guard.")
	}
}

func guardsCounted(r *analysis.Result) bool {
	for _, p := range r.Points {
		if p.GuardFault != nil {
			return true
		}
	}
	return false
}

func depthWords(p *analysis.PointResult) string {
	tell := func(n int) string {
		if n == analysis.None {
			return "none found"
		}
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("%s, as marked %s", tell(p.Depth), tell(p.DepthAsMarked))
}

// WorstWords tells the worst of several states.
func WorstWords(w *analysis.Worst) string {
	if w == nil {
		return "not judged: every state shorts the line"
	}
	words := phrase.Current(w.Reading)
	if words == "0 mA" {
		return words
	}
	return words + ", " + phrase.Open(w.Reading) + " open: " + phrase.State(w.State)
}

// handToHand tells the worst pair of touch points.
func handToHand(r *analysis.Result) string {
	var most *analysis.PairResult
	for _, pair := range r.Between {
		if pair.Normal != nil && (most == nil || pair.Normal.Severity() > 1.01*most.Normal.Severity()) {
			most = pair
		}
	}
	if most == nil || most.Normal.Class() == analysis.UnderLimit {
		return ""
	}
	return fmt.Sprintf("hand to hand, no fault, the most is %s between %s and %s: %s", phrase.Current(most.Normal.Reading),
		phrase.Guarded(most.A), phrase.Guarded(most.B), phrase.State(most.Normal.State))
}

// ownFaultWords tells a set of faults of a point, its own guard as such.
func ownFaultWords(p *analysis.PointResult, faults []*analysis.Fault) string {
	if len(faults) == 0 || faults[0] != p.GuardFault {
		return phrase.FaultSet(faults)
	}
	guard := "its " + p.Guard + " off"
	if len(faults) == 1 {
		return guard
	}
	return guard + " with " + phrase.FaultSet(faults[1:])
}

// setsWords tells the minimal fault sets of a point.
func setsWords(p *analysis.PointResult, limit int) string {
	var words []string
	for _, set := range p.FaultSets {
		if len(set.Faults) == 0 {
			return "nothing has to fail"
		}
		words = append(words, ownFaultWords(p, set.Faults))
	}
	if len(words) == 0 {
		return fmt.Sprintf("no set of up to %s was found", phrase.Counted(limit, "safeguard"))
	}
	return phrase.FewOf(words, setsTold, "; or ", "more ways (--format json lists them)")
}

// beyondWords tells the path with the fewest safeguards to a point for which no fault set was found:
// how current would come, once more failed than was looked for.
func beyondWords(k *rules.Case, node string) string {
	best, ok := trace.FewestSafeguards(k.Circuit, node)
	if !ok || len(best.Barriers()) == 0 {
		return ""
	}
	doubtful := 0
	for _, step := range best.Barriers() {
		if step.Cost == 0 {
			doubtful++
		}
	}
	note := ""
	if doubtful > 0 {
		note = fmt.Sprintf(", %d of them vouched for by no one", doubtful)
	}
	return fmt.Sprintf("; the path with the fewest has %s%s: %s", phrase.Counted(len(best.Barriers()), "safeguard"), note, Path(k.Set, best))
}
