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

// Depth tells how many safeguards must fail, looked for up to a limit.
func Depth(n, limit int) string {
	switch {
	case n != analysis.None:
		return fmt.Sprint(n)
	case limit == 0:
		return "1 or more"
	}
	return fmt.Sprintf("more than %d", limit)
}

// depthWords tells how many safeguards must fail until a point is live, as marked too where that differs.
func depthWords(p *analysis.PointResult, limit int) string {
	if p.Depth == p.DepthAsMarked {
		return Depth(p.Depth, limit)
	}
	return Depth(p.Depth, limit) + ", as marked " + Depth(p.DepthAsMarked, limit)
}
