package rules

import (
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// sole is one part at one piece of metal whose failure, alone but for suspect parts and a guard,
// makes the metal live.
type sole struct {
	metal *Metal
	also  []*Metal // further metal that the very same failures make live
	part  string
	fault *analysis.Fault // the one that gives the finding its name
	sets  []analysis.FaultSet
}

// soles are the fault sets of cost 1 or less, gathered by piece of metal and part. A set is named
// after its member that is not suspect, else the one nearest the touch point.
func (k *Case) soles() []*sole {
	if k.kinds != nil {
		return k.kinds
	}
	k.kinds = []*sole{}
	for _, m := range k.Metals {
		for _, set := range m.Points[0].FaultSets {
			if set.Cost > 1 {
				continue
			}
			f := k.namesake(m, set)
			if f == nil || k.toldOtherwise(m, set, f) {
				continue
			}
			at := slices.IndexFunc(k.kinds, func(s *sole) bool {
				// The supply is no part: its neutral and its earth are lost one without the other.
				return s.metal == m && s.part == f.Part && (f.Part != analysis.SupplyName || s.fault.Kind == f.Kind)
			})
			if at < 0 {
				k.kinds = append(k.kinds, &sole{metal: m, part: f.Part, fault: f})
				at = len(k.kinds) - 1
			}
			k.kinds[at].sets = append(k.kinds[at].sets, set)
		}
	}
	k.kinds = alike(k.kinds)
	return k.kinds
}

// alike folds pieces of metal that the very same failures of one part make live: an antenna lead
// that hangs on the chassis through a coil is told with the chassis.
func alike(all []*sole) []*sole {
	var kept []*sole
	for _, s := range all {
		at := slices.IndexFunc(kept, func(o *sole) bool { return o.part == s.part && sameSets(o, s) })
		if at < 0 {
			kept = append(kept, s)
		} else {
			kept[at].also = append(kept[at].also, s.metal)
		}
	}
	return kept
}

func sameSets(a, b *sole) bool {
	if a.metal.Guarded() || b.metal.Guarded() {
		return false // each guard is a fault of its own
	}
	return slices.EqualFunc(a.sets, b.sets, func(x, y analysis.FaultSet) bool { return x.Cost == y.Cost && slices.Equal(unguarded(x), unguarded(y)) })
}

// unguarded is a fault set without the taking off of a guard.
func unguarded(set analysis.FaultSet) []*analysis.Fault {
	return slices.DeleteFunc(slices.Clone(set.Faults), func(f *analysis.Fault) bool { return f.Kind == analysis.GuardOff })
}

// nodes are all its touch points, and name tells them.
func (s *sole) nodes() []string {
	nodes := s.metal.Nodes()
	for _, m := range s.also {
		nodes = append(nodes, m.Nodes()...)
	}
	return nodes
}

func (s *sole) name() string {
	names := []string{s.metal.Name()}
	for _, m := range s.also {
		names = append(names, m.Name())
	}
	return phrase.List(names)
}

// namesake is the fault after which a set is named; nil where there is none but a guard.
func (k *Case) namesake(m *Metal, set analysis.FaultSet) *analysis.Fault {
	var suspects []*analysis.Fault
	for _, f := range set.Faults {
		switch {
		case f.Kind == analysis.GuardOff:
		case f.Cost > 0:
			return f
		default:
			suspects = append(suspects, f)
		}
	}
	if len(suspects) == 0 {
		return nil
	}
	nearest, least := suspects[0], -1
	for _, f := range suspects {
		if d := k.distance(m.Node(), f); d >= 0 && (least < 0 || d < least) {
			nearest, least = f, d
		}
	}
	return nearest
}

// distance is how many parts lie between a node and a fault, -1 where none join them.
func (k *Case) distance(node string, f *analysis.Fault) int {
	w := k.Circuit.Wiring(k.Circuit.Normal()[0])
	best := -1
	for _, end := range f.Nodes {
		if end == "" {
			continue
		}
		if p, ok := w.Shortest(node, end, analysis.Query{}); ok && (best < 0 || len(p.Steps) < best) {
			best = len(p.Steps)
		}
	}
	return best
}

// toldOtherwise tells whether touch-current has told the set already: something open that is no
// safeguard.
func (k *Case) toldOtherwise(m *Metal, set analysis.FaultSet, f *analysis.Fault) bool {
	return len(set.Faults) == 1 && k.openTold[openFault{m, f}]
}

// oneFailure makes the findings of one of the four rules: those whose fault belongs to it.
func (k *Case) oneFailure(rule string) []Finding {
	var all []Finding
	for _, s := range k.soles() {
		if k.ruleOf(s.fault) == rule {
			all = append(all, k.tellSole(s))
		}
	}
	return all
}

// ruleOf says which of the four rules a fault belongs to.
func (k *Case) ruleOf(f *analysis.Fault) string {
	part := k.Set.Part(f.Part)
	switch {
	case f.Kind == analysis.InsulationOut:
		return "one-insulation"
	case f.Kind == analysis.Shorted && part.Kind == netlist.KindCapacitor:
		return "one-capacitor"
	case f.Kind == analysis.Shorted && (part.Kind == netlist.KindResistor || part.Kind == netlist.KindPotentiometer):
		return "one-resistor"
	}
	return "one-fault"
}

func (k *Case) tellSole(s *sole) Finding {
	set := k.worstSet(s)
	faults, guard := unguarded(set), ""
	if len(faults) < len(set.Faults) && s.metal.Guarded() {
		guard = s.metal.guardWords()
	}
	w := analysis.WorstOf(k.Circuit.Judged(faults...), s.metal.index, nil)
	f := Finding{Signal: Warning, Nodes: s.nodes(), Worst: w, Parts: []string{s.part}}
	for _, other := range faults {
		if !slices.Contains(f.Parts, other.Part) {
			f.Parts = append(f.Parts, other.Part)
		}
	}
	least := false
	if w != nil {
		f.Path = k.pathBy(w.State, s)
		least = k.atLeast(f.Path, w.State)
		f.tellFigures(w.Reading, least)
	}
	for _, name := range partsOf(f.Path) {
		if !slices.Contains(f.Parts, name) {
			f.Parts = append(f.Parts, name)
		}
	}
	f.Message = k.soleMessage(s, faults, guard)
	f.Between = k.soleBetween(s, faults, guard)
	if n := s.metal.Points[0].Normal; n != nil && k.ruleOf(s.fault) == "one-capacitor" && n.Milliamps+n.MilliampsDC >= 0.01 {
		f.Notes = append(f.Notes, fmt.Sprintf("while nothing has failed the metal passes %s at worst", phrase.Current(n.Reading)))
	}
	if words := k.handToHand(s); words != "" {
		f.Notes = append(f.Notes, words)
	}
	if n := len(s.sets) - 1; n == 1 {
		f.Notes = append(f.Notes, fmt.Sprintf("%s has one more way to do it", s.subject()))
	} else if n > 1 {
		f.Notes = append(f.Notes, fmt.Sprintf("%s has %d more ways to do it", s.subject(), n))
	}
	return f
}

// subject names the part in a sentence.
func (s *sole) subject() string {
	if s.part == analysis.SupplyName {
		return "the supply"
	}
	return s.part
}

// setsCompared is how many of a part's fault sets are compared for the one to tell.
const setsCompared = 6

// worstSet is the plainest of the sets within a tenth of the worst.
func (k *Case) worstSet(s *sole) analysis.FaultSet {
	best, most := s.sets[0], 0.0
	for _, set := range s.sets[:min(len(s.sets), setsCompared)] {
		if w := analysis.WorstOf(k.Circuit.Judged(unguarded(set)...), s.metal.index, nil); w != nil && w.Severity() > 1.1*most {
			best, most = set, w.Severity()
		}
	}
	return best
}

// pathBy is the way of the current in a state of failure: by the part that failed where any way of
// few safeguards leads by it.
func (k *Case) pathBy(state analysis.State, s *sole) *analysis.Path {
	p := k.pathIn(k.Circuit, state, s.metal.Node())
	if p == nil || s.part == analysis.SupplyName || slices.Contains(partsOf(p), s.part) {
		return p
	}
	w := k.Circuit.Wiring(state)
	hot, _ := k.Circuit.Blades(state.Plug)
	for _, other := range w.Paths(hot, s.metal.Node(), 2*compared(w), analysis.Query{Avoid: w.Ends(),
		Pass: func(ch analysis.Channel) bool { return ch.Sort != analysis.Insulating }}) {
		if slices.Contains(partsOf(&other), s.part) {
			return &other
		}
	}
	return p
}

func (k *Case) soleMessage(s *sole, faults []*analysis.Fault, guard string) string {
	name := s.name()
	verb := phrase.Be(phrase.Things(s.nodes()))
	behind := ""
	if guard != "" {
		behind = " behind " + guard
	}
	if costs(faults) == 0 {
		return fmt.Sprintf("%s%s %s live as soon as %s, and no one vouches for %s", name, behind, verb, phrase.Happen(k.Set, faults), pronoun(faults))
	}
	var fail []*analysis.Fault
	var doubtful []string
	for _, f := range faults {
		if words := phrase.Part(k.Set, f.Part); f.Cost > 0 {
			fail = append(fail, f)
		} else if !slices.Contains(doubtful, words) {
			doubtful = append(doubtful, words)
		}
	}
	text := fmt.Sprintf("%s%s %s one failure from live: %s", name, behind, verb, phrase.Happen(k.Set, fail))
	if len(doubtful) > 0 {
		it := "it"
		if len(doubtful) > 1 {
			it = "them"
		}
		text += fmt.Sprintf("; %s %s counted as failed, for no one vouches for %s", phrase.List(doubtful), phrase.Be(len(doubtful)), it)
	}
	return text
}

func pronoun(faults []*analysis.Fault) string {
	if len(faults) == 1 {
		return "it"
	}
	return "them"
}

func costs(faults []*analysis.Fault) int {
	sum := 0
	for _, f := range faults {
		sum += f.Cost
	}
	return sum
}

func (k *Case) soleBetween(s *sole, faults []*analysis.Fault, guard string) string {
	var names []string
	if guard != "" {
		names = append(names, guard)
	}
	for _, f := range faults {
		switch f.Kind {
		case analysis.Shorted, analysis.InsulationOut, analysis.HeaterCathode:
			text := f.Part + " alone"
			if len(faults) > 1 {
				text = f.Part
			}
			if f.Cost == 0 {
				text += ", on which no one can count"
			}
			names = append(names, text)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return phrase.List(names)
}
