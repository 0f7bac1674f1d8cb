package rules

import (
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/rules/phrase"
)

// LiveBetween finds pairs of touch points that are live hand to hand.
var LiveBetween = &Rule{
	Name:    "live-between",
	Signal:  Danger,
	Signals: "DANGER over ES2 and WARNING over ES1 in normal states; WARNING where one failure makes it live",
	Looks:   "current from one touch point to another through a body, hand to hand",
	Why: "Hand to hand the current goes through the chest. Two metals that each read low to earth can stand far apart from each other, " +
		"and an isolation transformer does nothing about it.",
	Blind:  "Metal of other sets and instruments that a person holds at the same time.",
	Source: "IEC 60990:2016 clause 5 (between accessible parts); IEC 62368-1 table 4",
	Remedy: "join the two metals by a solid wire if both are to be off the line, after each has its own class Y capacitor to the line side; " +
		"or put a guard over one of them",
	Caution: "Keep one hand away while measuring. Work unplugged with the reservoirs discharged; an isolation transformer does not cure it. " +
		"Re-check between every two metals after the change; follow local electrical codes and qualified advice.",
	Subject: OfPair,
	Current: true,
	Run:     runLiveBetween,
}

func runLiveBetween(k *Facts) []Finding {
	var all []Finding
	for _, pair := range k.Result.Between {
		if f, ok := k.tellPair(pair); ok {
			all = append(all, f)
		}
	}
	return all
}

// tellPair tells two touch points that stand for their metal: hand to hand, with nothing failed or
// with the one failure that makes the most of it.
func (k *Facts) tellPair(pair *analysis.PairResult) (Finding, bool) {
	if a, b, ok := k.standFor(pair, nil); ok {
		if w := pair.Normal; w != nil && (w.Class() == analysis.Live || w.Class() == analysis.Startles && !a.Guarded() && !b.Guarded()) {
			return k.tellNormalPair(a, b, w)
		}
	}
	w := pair.OneFault
	if w == nil || w.Class() != analysis.Live {
		return Finding{}, false
	}
	a, b, ok := k.standFor(pair, w.State.Faults)
	// What makes one of the two live to earth makes it live to the other too: told there.
	if !ok || a.Guarded() || b.Guarded() || k.liveAnyway(a) || k.liveAnyway(b) || k.liveBy(a, w.State.Faults) || k.liveBy(b, w.State.Faults) {
		return Finding{}, false
	}
	return pairFinding(a, b, w, Warning, "with "+phrase.Faults(w.State.Faults)), true
}

// standFor gives the pieces of metal that faults leave at the points of a pair, and reports whether
// these two points stand for them: the foremost of each, and of two.
func (k *Facts) standFor(pair *analysis.PairResult, faults []*analysis.Fault) (a, b *Metal, ok bool) {
	a = k.piece(k.metalOf(pair.A.Name), pair.A.Name, faults...)
	b = k.piece(k.metalOf(pair.B.Name), pair.B.Name, faults...)
	return a, b, a.Node() == pair.A.Name && b.Node() == pair.B.Name && !a.same(b)
}

// liveAnyway reports whether a piece of metal is told as live with nothing failed. On an isolated
// supply that is the mains' doing.
func (k *Facts) liveAnyway(m *Metal) bool { return k.live(m).ever() && !k.Circuit.Bench.Isolated }

func (k *Facts) tellNormalPair(a, b *Metal, w *analysis.Worst) (Finding, bool) {
	signal := Warning
	switch {
	case a.Guarded() && b.Guarded():
		return Finding{}, false
	case w.Class() == analysis.Live && !a.Guarded() && !b.Guarded():
		signal = Danger
	}
	for _, m := range []*Metal{a, b} {
		if n := m.Points[0].Normal; k.liveAnyway(m) || n != nil && n.Class() >= w.Class() {
			return Finding{}, false
		}
	}
	return pairFinding(a, b, w, signal, "with nothing failed"), true
}

func pairFinding(a, b *Metal, w *analysis.Worst, signal Signal, when string) Finding {
	return Finding{
		Signal: signal, Nodes: []string{a.Node(), b.Node()}, Worst: w,
		Message: fmt.Sprintf("from %s to %s, hand to hand, %s passes %s", a.Name(), b.Name(), phrase.Current(w.Reading), when),
		Figures: fmt.Sprintf("%s between them, %s through a body (%s): %s", phrase.Open(w.Reading), phrase.Current(w.Reading), phrase.BodySource, phrase.Meaning(w.Reading)),
	}
}

// livePair is two pieces of metal that one failure makes live hand to hand.
type livePair struct {
	a, b  *Metal
	worst *analysis.Worst
}

func (k *Facts) livePairs() []livePair {
	var pairs []livePair
	for _, pair := range k.Result.Between {
		if w := pair.OneFault; w != nil && w.Class() == analysis.Live {
			if a, b, ok := k.standFor(pair, w.State.Faults); ok {
				pairs = append(pairs, livePair{a, b, w})
			}
		}
	}
	return pairs
}

// handToHand tells from where to where a part's own failure is live hand to hand, the other hand on
// metal of which the finding does not speak: "" where it is not.
func (k *Facts) handToHand(s *sole) string {
	if k.live(s.metal).ever() {
		return ""
	}
	var most *analysis.Worst
	var others []string
	for _, pair := range k.pairs {
		other, w := pair.a, pair.worst
		if pair.a.same(s.metal) {
			other = pair.b
		} else if !pair.b.same(s.metal) {
			continue
		}
		of := func(set analysis.FaultSet) bool { return slices.Equal(unguarded(set), w.State.Faults) }
		if slices.ContainsFunc(s.also, other.same) || !slices.ContainsFunc(s.sets, of) {
			continue
		}
		others = append(others, other.Name())
		if most == nil || w.Severity() > most.Severity() {
			most = w
		}
	}
	if most == nil {
		return ""
	}
	upTo := ""
	if len(others) > 1 {
		upTo = "up to "
	}
	return fmt.Sprintf("hand to hand too, from %s to %s: %s%s, %s", s.metal.Name(), phrase.Few(others, 4), upTo, phrase.Current(most.Reading), phrase.State(most.State))
}
