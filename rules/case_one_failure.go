package rules

import (
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/analysis/trace"
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

// findSoles gathers the fault sets of cost 1 or less by piece of metal and part. A set is named after
// its member that is not suspect, else the one nearest the touch point.
func (k *Facts) findSoles() []*sole {
	var all []*sole
	for _, m := range k.Metals {
		for i, p := range m.Points {
			for _, set := range p.FaultSets {
				faults := unguarded(set)
				if set.Cost > 1 || len(faults) == 0 {
					continue
				}
				// Points that the faults leave joined are live by the same sets: the foremost stands for them.
				piece := k.piece(m, p.Name, faults...)
				if piece.places[0] != m.places[i] || k.toldOnceOpen(piece, set.Faults) {
					continue
				}
				all = addSole(all, piece, k.namesake(piece, faults), set)
			}
		}
	}
	return alike(all)
}

func addSole(all []*sole, m *Metal, f *analysis.Fault, set analysis.FaultSet) []*sole {
	at := slices.IndexFunc(all, func(s *sole) bool {
		// The supply is no part: its neutral, or either leg, and its earth are lost one without the other.
		return s.metal.same(m) && s.part == f.Part && (f.Part != analysis.SupplyName || s.fault == f)
	})
	if at < 0 {
		at = len(all)
		all = append(all, &sole{metal: m, part: f.Part, fault: f})
	}
	all[at].sets = append(all[at].sets, set)
	return all
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
	return slices.EqualFunc(a.sets, b.sets, func(x, y analysis.FaultSet) bool {
		return x.Cost == y.Cost && slices.Equal(unguarded(x), unguarded(y))
	})
}

// unguarded is a fault set without the taking off of a guard.
func unguarded(set analysis.FaultSet) []*analysis.Fault {
	return slices.DeleteFunc(slices.Clone(set.Faults), func(f *analysis.Fault) bool { return f.Kind == analysis.GuardOff })
}

// metals are all pieces of metal that it speaks of.
func (s *sole) metals() []*Metal { return append([]*Metal{s.metal}, s.also...) }

// name tells all its metal.
func (s *sole) name() string {
	var names []string
	for _, m := range s.metals() {
		names = append(names, m.Name())
	}
	return phrase.List(names)
}

// at reports whether it speaks of a piece of metal, or of a piece of that.
func (s *sole) at(m *Metal) bool {
	return slices.ContainsFunc(s.metals(), func(o *Metal) bool { return o.whole == m.whole })
}

// has reports whether a part is in any of its sets.
func (s *sole) has(part string) bool {
	return slices.ContainsFunc(s.sets, func(set analysis.FaultSet) bool {
		return slices.ContainsFunc(set.Faults, func(f *analysis.Fault) bool { return f.Part == part })
	})
}

// namesake is the fault after which a set is named.
func (k *Facts) namesake(m *Metal, faults []*analysis.Fault) *analysis.Fault {
	nearest, least := faults[0], -1
	for _, f := range faults {
		if f.Cost > 0 {
			return f
		}
		if d := k.distance(m.Node(), f); d >= 0 && (least < 0 || d < least) {
			nearest, least = f, d
		}
	}
	return nearest
}

// distance is how many parts lie between a node and a fault, -1 where none join them.
func (k *Facts) distance(node string, f *analysis.Fault) int {
	best := -1
	for _, end := range f.Nodes {
		if end == "" {
			continue
		}
		if p, ok := k.wirings[0].Shortest(node, end, analysis.Query{}); ok && (best < 0 || len(p.Steps) < best) {
			best = len(p.Steps)
		}
	}
	return best
}

// failureOf says which of the rules of one failure a fault belongs to.
func (k *Case) failureOf(f *analysis.Fault) Failure {
	if f.Kind == analysis.InsulationOut {
		return InsulationFails
	}
	if f.Kind == analysis.Shorted {
		switch k.Set.Part(f.Part).Kind {
		case netlist.KindCapacitor:
			return CapacitorShorts
		case netlist.KindResistor, netlist.KindPotentiometer:
			return ResistorShorts
		}
	}
	return AnyOther
}

// tellSoles makes the findings of one of the rules of one failure. close may sharpen each.
func (k *Facts) tellSoles(failure Failure, close func(*sole, *Finding)) []Finding {
	var all []Finding
	for _, s := range k.soles {
		if k.failureOf(s.fault) != failure {
			continue
		}
		f := k.tellSole(s)
		if close != nil {
			close(s, &f)
		}
		all = append(all, f)
	}
	return all
}

func (k *Facts) tellSole(s *sole) Finding {
	set := k.worstSet(s)
	faults, guard := unguarded(set), ""
	if len(faults) < len(set.Faults) && s.metal.Guarded() {
		guard = s.metal.guardWords()
	}
	w := s.metal.worst(k.Circuit.Judged(faults...), nil)
	f := Finding{Signal: Warning, Nodes: nodesOf(s.metals()), Worst: w}
	if w != nil {
		f.Path = trace.ForemostBy(k.Circuit, w.State, s.metal.Node(), s.part)
		f.tellFigures(w.Reading, k.atLeast(f.Path, w.State))
	}
	f.Parts = []string{s.part}
	for _, other := range faults {
		f.Parts = append(f.Parts, other.Part)
	}
	f.Parts = union(union(nil, f.Parts), f.Path.Parts())
	f.Message = k.soleMessage(s, faults, guard)
	f.Between = soleBetween(faults, guard)
	f.Notes = k.soleNotes(s)
	return f
}

// startsFrom is the current with nothing failed from where on it is worth a word beside a failure.
const startsFrom = 0.01 // mA

func (k *Facts) soleNotes(s *sole) []string {
	var notes []string
	if n := s.metal.Points[0].Normal; n != nil && k.failureOf(s.fault) == CapacitorShorts && n.Milliamps+n.MilliampsDC >= startsFrom {
		notes = append(notes, fmt.Sprintf("while nothing has failed the metal passes %s at worst", phrase.Current(n.Reading)))
	}
	if words := k.handToHand(s); words != "" {
		notes = append(notes, words)
	}
	subject := s.part
	if s.part == analysis.SupplyName {
		subject = "the supply"
	}
	if n := len(s.sets) - 1; n == 1 {
		notes = append(notes, fmt.Sprintf("%s has one more way to do it", subject))
	} else if n > 1 {
		notes = append(notes, fmt.Sprintf("%s has %d more ways to do it", subject, n))
	}
	return notes
}

// setsCompared is how many of a part's fault sets are compared for the one to tell, and clearlyWorse
// by how much one must be worse than those before it.
const (
	setsCompared = 6
	clearlyWorse = 1.1
)

// worstSet is the first of the sets within a tenth of the worst.
func (k *Facts) worstSet(s *sole) analysis.FaultSet {
	best, most := s.sets[0], 0.0
	for _, set := range s.sets[:min(len(s.sets), setsCompared)] {
		if w := s.metal.worst(k.Circuit.Judged(unguarded(set)...), nil); w != nil && w.Severity() > clearlyWorse*most {
			best, most = set, w.Severity()
		}
	}
	return best
}

func (k *Case) soleMessage(s *sole, faults []*analysis.Fault, guard string) string {
	subject := s.name()
	if guard != "" {
		subject += " behind " + guard
	}
	subject += " " + phrase.Be(phrase.Things(nodesOf(s.metals())))
	var fail []*analysis.Fault
	var doubtful []string
	for _, f := range faults {
		if f.Cost > 0 {
			fail = append(fail, f)
		} else {
			doubtful = append(doubtful, phrase.Part(k.Set, f.Part))
		}
	}
	if len(fail) == 0 {
		return fmt.Sprintf("%s live as soon as %s, and no one vouches for %s", subject, phrase.Happen(k.Set, faults), phrase.It(len(faults)))
	}
	text := fmt.Sprintf("%s one failure from live: %s", subject, phrase.Happen(k.Set, fail))
	if doubtful = union(nil, doubtful); len(doubtful) > 0 {
		text += fmt.Sprintf("; %s %s counted as failed, for no one vouches for %s",
			phrase.List(doubtful), phrase.Be(len(doubtful)), phrase.It(len(doubtful)))
	}
	return text
}

func soleBetween(faults []*analysis.Fault, guard string) string {
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
				text += uncounted
			}
			names = append(names, text)
		}
	}
	return phrase.List(names)
}
