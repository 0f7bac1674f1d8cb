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
	Run: runLiveBetween,
}

// pointRules are the rules that tell a point to earth.
var pointRules = []string{"polarity-only", "hot-chassis", "live-through-load", "behind-guard",
	"touch-current", "one-capacitor", "one-insulation", "one-resistor", "one-fault"}

func runLiveBetween(k *Case) []Finding {
	var all []Finding
	for _, pair := range k.Result.Between {
		a, b := k.metalOf(pair.A.Name), k.metalOf(pair.B.Name)
		if a == b || a.Node() != pair.A.Name || b.Node() != pair.B.Name || a.Guarded() && b.Guarded() {
			continue
		}
		if f, ok := k.tellPair(pair, a, b); ok {
			all = append(all, f)
		}
	}
	return all
}

func (k *Case) metalOf(node string) *Metal {
	for _, m := range k.Metals {
		for _, p := range m.Points {
			if p.Name == node {
				return m
			}
		}
	}
	return nil
}

func (k *Case) tellPair(pair *analysis.PairResult, a, b *Metal) (Finding, bool) {
	f := Finding{Nodes: []string{a.Node(), b.Node()}, Signal: Warning}
	guarded := a.Guarded() || b.Guarded()
	w := pair.Normal
	switch {
	case w != nil && w.Class() == analysis.Live:
		if !guarded {
			f.Signal = Danger
		}
		f.Message = "with nothing failed"
	case w != nil && w.Class() == analysis.Startles && !guarded:
		f.Message = "with nothing failed"
	case pair.OneFault != nil && pair.OneFault.Class() == analysis.Live && !guarded:
		w = pair.OneFault
		f.Message = "with " + phrase.Faults(w.State.Faults)
	default:
		return Finding{}, false
	}
	// What makes one of the two live to earth makes it live to the other too: told there.
	for _, m := range []*Metal{a, b} {
		if len(k.liveness(m).all()) > 0 && !k.Circuit.Bench.Isolated {
			return Finding{}, false
		}
		if n := m.Points[0].Normal; w == pair.Normal && n != nil && n.Class() >= w.Class() {
			return Finding{}, false
		}
		if w == pair.OneFault && k.liveBy(m, w.State.Faults) {
			return Finding{}, false
		}
	}
	f.Worst = w
	f.Message = fmt.Sprintf("from %s to %s, hand to hand, %s passes %s", a.Name(), b.Name(), phrase.Current(w.Reading), f.Message)
	f.Figures = fmt.Sprintf("%s between them, %s through a body (%s): %s", phrase.Open(w.Reading), phrase.Current(w.Reading), phrase.BodySource, phrase.Meaning(w.Reading))
	return f, true
}

// liveBy tells whether these very failures make a piece of metal live to earth, guards aside.
func (k *Case) liveBy(m *Metal, faults []*analysis.Fault) bool {
	var w *analysis.Worst
	if len(faults) == 1 {
		w = k.worstWith(faults[0], m)
	} else {
		w = analysis.WorstOf(k.Circuit.Judged(faults...), m.index, nil)
	}
	return w != nil && w.Class() == analysis.Live
}

// livePair is two pieces of metal that one failure makes live hand to hand.
type livePair struct {
	a, b  *Metal
	worst *analysis.Worst
}

func (k *Case) livePairs() []livePair {
	if k.pairs == nil {
		k.pairs = []livePair{}
		for _, pair := range k.Result.Between {
			a, b, w := k.metalOf(pair.A.Name), k.metalOf(pair.B.Name), pair.OneFault
			if a != b && a.Node() == pair.A.Name && b.Node() == pair.B.Name && w != nil && w.Class() == analysis.Live {
				k.pairs = append(k.pairs, livePair{a, b, w})
			}
		}
	}
	return k.pairs
}

// handToHand tells from where to where a part's own failure is live hand to hand, the other hand on
// metal of which the finding does not speak: "" where it is not.
func (k *Case) handToHand(s *sole) string {
	if len(k.liveness(s.metal).all()) > 0 {
		return ""
	}
	var most *analysis.Worst
	var others []string
	for _, pair := range k.livePairs() {
		other, w := pair.a, pair.worst
		if pair.a == s.metal {
			other = pair.b
		} else if pair.b != s.metal {
			continue
		}
		of := func(set analysis.FaultSet) bool { return slices.Equal(unguarded(set), w.State.Faults) }
		if slices.Contains(s.also, other) || !slices.ContainsFunc(s.sets, of) {
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

// strongest is the strongest signal with which these rules speak of a node, or -1.
func (k *Case) strongest(node string, names ...string) Signal {
	best := Signal(-1)
	for _, f := range k.findings {
		for _, name := range names {
			if f.Rule.Name != name {
				continue
			}
			for _, n := range f.Nodes {
				if n == node {
					best = max(best, f.Signal)
				}
			}
		}
	}
	return best
}
