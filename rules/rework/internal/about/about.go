// Package about says what the findings of a rule speak of: metal that is live, one failure, a part by
// itself. A rework is judged by that: which finding is the same after a change, which remedy bears on it.
package about

import (
	"slices"

	"coldcheck/rules"
)

var (
	live       = []string{"polarity-only", "hot-chassis", "live-through-load", "earthed-line", "line-short", "behind-guard"}
	oneFailure = []string{"one-capacitor", "one-insulation", "one-resistor", "one-fault"}
	part       = []string{"over-rating", "leaky-part"}
	goodParts  = []string{"touch-current", "live-between", "earth-current"}
	metal      = []string{"polarity-only", "hot-chassis", "live-through-load", "earthed-line", "touch-current", "behind-guard", "live-between"}
)

// Live reports whether a rule speaks of metal that is live with nothing failed.
func Live(r *rules.Rule) bool { return slices.Contains(live, r.Name) }

// OneFailure reports whether a rule speaks of metal that one failure makes live.
func OneFailure(r *rules.Rule) bool { return slices.Contains(oneFailure, r.Name) }

// GoodParts reports whether a rule speaks of current to metal through parts that are good.
func GoodParts(r *rules.Rule) bool { return slices.Contains(goodParts, r.Name) }

// Touch reports whether a rule speaks of what a hand meets: metal live, nearly live, or with a current.
func Touch(r *rules.Rule) bool { return Live(r) || OneFailure(r) || GoodParts(r) }

// Part reports whether a rule speaks of what a part answers for by itself, wherever the line comes from.
func Part(r *rules.Rule) bool { return slices.Contains(part, r.Name) }

// Metal reports whether a rule speaks of a piece of metal, whatever parts lead there: there is one such
// finding a metal, and another part on the way makes it no other finding.
func Metal(r *rules.Rule) bool { return slices.Contains(metal, r.Name) }

// LiveNow reports whether a finding is of metal that is live with nothing failed, by whatever rule.
func LiveNow(f *rules.Finding) bool {
	return Live(f.Rule) || f.Rule == rules.TouchCurrent && f.Signal == rules.Danger
}
