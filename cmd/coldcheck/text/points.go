package text

import (
	"fmt"

	"coldcheck/analysis"
	"coldcheck/rules/phrase"
)

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
	if p.Depth == p.DepthAsMarked {
		return tell(p.Depth)
	}
	return fmt.Sprintf("%s, as marked %s", tell(p.Depth), tell(p.DepthAsMarked))
}
