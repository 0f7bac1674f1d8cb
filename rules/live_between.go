package rules

import (
	"cmp"
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/rules/phrase"
)

// LiveBetween finds pairs of pieces of metal that are live hand to hand.
var LiveBetween = &Rule{
	Name:   "live-between",
	Signal: Danger,
	Signals: "DANGER over ES2 and WARNING over ES1 with nothing failed, NOTICE within a fifth below ES1; WARNING where one failure makes it live, " +
		"CAUTION where that is good basic insulation of a winding or a frame; WARNING over ES1 once something that is no safeguard is open",
	Looks: "current from one piece of metal to another through a body, hand to hand, with nothing failed; with one failure that makes neither live to earth; " +
		"once a tube is pulled or a lamp, fuse, coil or resistor is open",
	Why: "Hand to hand the current goes through the chest. Two metals that each read low to earth can stand far apart from each other, " +
		"and an isolation transformer does nothing about it.",
	Blind: "Metal of other sets and instruments that a person holds at the same time; of more than 16 pieces of metal, the pairs of those beyond; " +
		"what makes one of the two live to earth, which is told there.",
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
	for _, p := range k.pairs {
		var told []Finding // of one pair, what is told first foremost
		for _, tell := range []func(*pair) (Finding, bool){k.tellNormalPair, k.tellFailingPair, k.tellOpenedPair} {
			if f, ok := tell(p); ok {
				told = append(told, f)
			}
		}
		if len(told) == 0 {
			continue
		}
		slices.SortStableFunc(told, func(f, g Finding) int { return cmp.Compare(g.Signal, f.Signal) })
		f := told[0]
		for _, further := range told[1:] {
			f.Parts = union(f.Parts, further.Parts)
			f.Notes = append(f.Notes, further.Message)
		}
		all = append(all, f)
	}
	return all
}

// pair is two pieces of metal, or two that failures leave of one, with what makes them live hand to
// hand.
type pair struct {
	a, b   *Metal
	nodes  [2]string // of either, the one that the search took for it
	normal *analysis.Worst
	// sets are the fault sets of cost 1 or less, and oneFault the worst at one fault.
	sets     []analysis.FaultSet
	oneFault *analysis.Worst
	// opened is the worst with each fault that opens something that is no safeguard, where that is not live
	// and may yet be worth telling.
	opened []*analysis.Worst
}

// findPairs gathers the pairs that the search looked at, then those of pieces into which a fault parts a
// metal: the search takes a metal for whole.
func (k *Facts) findPairs() []*pair {
	var pairs []*pair
	for _, r := range k.Result.Between {
		p := &pair{a: k.metalOf(r.A.Name), b: k.metalOf(r.B.Name), nodes: [2]string{r.A.Name, r.B.Name}, normal: r.Normal, oneFault: r.OneFault}
		if p.a == p.b {
			continue // a failed part's short makes two of what the wiring without it has as one
		}
		for _, set := range r.FaultSets {
			if set.Cost <= 1 {
				p.sets = append(p.sets, set)
			}
		}
		pairs = append(pairs, p)
	}
	k.openPairs(pairs)
	return append(pairs, k.partedPairs()...)
}

// openPairs finds what opening something does to the pairs that a bare hand can reach. Those of which the
// worst at one fault is not worth telling, or as much is told with nothing failed, are left out.
func (k *Facts) openPairs(pairs []*pair) {
	over := func(w *analysis.Worst) bool { return w != nil && w.Class() > analysis.UnderLimit }
	told := func(m *Metal) bool { return m.Guarded() || k.liveAnyway(m) || over(m.Points[0].Normal) }
	pairs = slices.DeleteFunc(slices.Clone(pairs), func(p *pair) bool {
		return p.oneFault == nil || !worthTelling(p.oneFault) || over(p.normal) || told(p.a) || told(p.b)
	})
	if len(pairs) == 0 {
		return
	}
	var places [][2]int
	for _, p := range pairs {
		places = append(places, [2]int{p.a.places[0], p.b.places[0]})
	}
	faults := slices.DeleteFunc(slices.Clone(k.Circuit.Faults), func(f *analysis.Fault) bool { return !opens(f) })
	each := make([][]*analysis.Worst, len(faults))
	analysis.SideBySide(len(faults), func(i int) { each[i] = k.Circuit.WorstsBetween(places, faults[i]) })
	for _, worsts := range each {
		for i, w := range worsts {
			if w != nil && w.Class() < analysis.Live && worthTelling(w) {
				pairs[i].opened = append(pairs[i].opened, w)
			}
		}
	}
}

// worthTelling reports whether a current is over a limit, or within a fifth below ES1.
func worthTelling(w *analysis.Worst) bool { return w.Class() > analysis.UnderLimit || w.JustUnder() }

// partedPairs are the pairs that come about when a fuse opens, or an earth wire comes off, and parts a
// metal: each further piece of it against the others and against other metal.
func (k *Facts) partedPairs() []*pair {
	var pairs []*pair
	for _, m := range k.Metals {
		for _, f := range k.Circuit.Faults {
			if f.Cost > 1 || f.Kind != analysis.Open && f.Kind != analysis.EarthLost {
				continue
			}
			pieces := k.pieces(m, f)
			for i, piece := range pieces[1:] {
				others := slices.Clone(pieces[:i+1])
				for _, other := range k.Metals {
					if other != m {
						others = append(others, other)
					}
				}
				for _, other := range others {
					if p := k.partedPair(other, piece, f); p != nil {
						pairs = append(pairs, p)
					}
				}
			}
		}
	}
	return pairs
}

// partedPair is such a pair where it is live at cost 1 or less, or a bare hand gets a current that is worth
// telling; nil where neither is.
func (k *Facts) partedPair(a, b *Metal, f *analysis.Fault) *pair {
	set := analysis.FaultSet{Cost: f.Cost, Faults: []*analysis.Fault{f}}
	for _, m := range []*Metal{a, b} {
		if g := m.Points[0].GuardFault; g != nil {
			set.Faults, set.Cost = append(set.Faults, g), set.Cost+g.Cost
		}
	}
	if set.Cost > 1 {
		return nil
	}
	w := k.Circuit.WorstBetween(a.places[0], b.places[0], f)
	switch {
	case w == nil || !worthTelling(w):
	case w.Class() == analysis.Live:
		return &pair{a: a, b: b, nodes: [2]string{a.Node(), b.Node()}, sets: []analysis.FaultSet{set}, oneFault: w}
	case !a.Guarded() && !b.Guarded():
		return &pair{a: a, b: b, nodes: [2]string{a.Node(), b.Node()}, opened: []*analysis.Worst{w}}
	}
	return nil
}

// toldByOne reports whether a fault set holds one of either metal's own: that metal's finding tells it.
func (p *pair) toldByOne(set analysis.FaultSet) bool {
	return slices.ContainsFunc([]*Metal{p.a, p.b}, func(m *Metal) bool {
		return slices.ContainsFunc(m.Points, func(point *analysis.PointResult) bool {
			return slices.ContainsFunc(point.FaultSets, func(own analysis.FaultSet) bool { return holds(set.Faults, own.Faults) })
		})
	})
}

// holds reports whether all of some faults are among others.
func holds(faults, some []*analysis.Fault) bool {
	return !slices.ContainsFunc(some, func(f *analysis.Fault) bool { return !slices.Contains(faults, f) })
}

// tellNormalPair tells what passes with nothing failed, where it is worse than either metal to earth.
func (k *Facts) tellNormalPair(p *pair) (Finding, bool) {
	w := p.normal
	if w == nil || p.a.Guarded() && p.b.Guarded() {
		return Finding{}, false
	}
	covered := p.a.Guarded() || p.b.Guarded()
	signal := Warning
	switch {
	case w.Class() == analysis.Live:
		if !covered {
			signal = Danger
		}
	case covered:
		return Finding{}, false
	case w.Class() == analysis.Startles:
	case w.JustUnder():
		signal = Notice
	default:
		return Finding{}, false
	}
	for _, m := range []*Metal{p.a, p.b} {
		n := m.Points[0].Normal
		if n != nil && (n.Class() > w.Class() || n.Class() == w.Class() && (signal > Notice || n.JustUnder())) || w.Class() < analysis.Live && k.liveAnyway(m) {
			return Finding{}, false
		}
	}
	return k.pairFinding(p, w, signal, "with nothing failed"), true
}

// liveAnyway reports whether a piece of metal is told as live with nothing failed. On an isolated
// supply that is the mains' doing.
func (k *Facts) liveAnyway(m *Metal) bool { return k.live(m).ever() && !k.Circuit.Bench.Isolated }

// tellFailingPair tells the failures that make a pair live, and neither of its metals to earth.
func (k *Facts) tellFailingPair(p *pair) (Finding, bool) {
	var sets []analysis.FaultSet
	mild := true
	for _, set := range p.sets {
		if len(unguarded(set)) == 0 || p.toldByOne(set) {
			continue
		}
		sets = append(sets, set)
		mild = mild && k.mildInsulation(p.a, set)
	}
	if len(sets) == 0 {
		return Finding{}, false
	}
	told, w := k.worstOfPair(p, sets)
	signal := Warning
	if mild {
		signal = Caution
	}
	f := k.pairFinding(p, w, signal, "with "+phrase.Faults(costing(told)))
	f.Parts = partsThatFail(append([]analysis.FaultSet{told}, sets...))
	var others []string
	for _, set := range sets {
		if !slices.Equal(set.Faults, told.Faults) {
			others = append(others, phrase.FaultSet(unguarded(set)))
		}
	}
	if len(others) > 0 {
		f.Notes = append(f.Notes, "so does "+phrase.FewOf(others, 4, "; ", "more"))
	}
	return f, true
}

// tellOpenedPair tells what startles hand to hand once something that is no safeguard is open, or comes
// within a fifth of it, where neither metal does as much to earth and the two do not with nothing failed.
func (k *Facts) tellOpenedPair(p *pair) (Finding, bool) {
	asMuch := func(w, than *analysis.Worst) bool {
		return w != nil && worthTelling(w) && w.Class() >= than.Class()
	}
	var most *analysis.Worst
	var startling []string
	for _, w := range p.opened {
		fault := w.State.Faults[0]
		if asMuch(p.normal, w) || slices.ContainsFunc([]*Metal{p.a, p.b}, func(m *Metal) bool {
			return k.liveAnyway(m) || asMuch(m.Points[0].Normal, w) || asMuch(k.worstWith(fault, k.piece(m, m.Node(), fault)), w)
		}) {
			continue
		}
		if w.Class() == analysis.Startles {
			startling = append(startling, phrase.Fault(fault))
		}
		if w.WorseThan(most) {
			most = w
		}
	}
	if most == nil {
		return Finding{}, false
	}
	signal := Notice
	if most.Class() == analysis.Startles {
		signal = Warning
	}
	fault := most.State.Faults[0]
	f := k.pairFinding(p, most, signal, "once "+phrase.Once(fault))
	if fault.Part != analysis.SupplyName {
		f.Parts = []string{fault.Part}
	}
	if len(startling) > 1 {
		f.Notes = append(f.Notes, "each of these alone makes it startle: "+phrase.Few(startling, 6))
	}
	return f, true
}

// worstOfPair is the first of the sets within a tenth of the worst, and what is read with it.
func (k *Facts) worstOfPair(p *pair, sets []analysis.FaultSet) (analysis.FaultSet, *analysis.Worst) {
	var told analysis.FaultSet
	var most *analysis.Worst
	for _, set := range sets[:min(len(sets), setsCompared)] {
		w := p.oneFault
		if w == nil || !slices.Equal(w.State.Faults, unguarded(set)) {
			w = k.Circuit.WorstBetween(p.a.places[0], p.b.places[0], unguarded(set)...)
		}
		if w != nil && (most == nil || w.Severity() > clearlyWorse*most.Severity()) {
			told, most = set, w
		}
	}
	if most == nil {
		return sets[0], inState(analysis.State{Plug: analysis.AsMarked, Faults: unguarded(sets[0])})
	}
	return told, most
}

// costing is a fault set without the guards on which no one can count.
func costing(set analysis.FaultSet) []*analysis.Fault {
	return slices.DeleteFunc(slices.Clone(set.Faults), func(f *analysis.Fault) bool { return f.Kind == analysis.GuardOff && f.Cost == 0 })
}

// partsThatFail are the parts of some fault sets, each once.
func partsThatFail(sets []analysis.FaultSet) []string {
	var parts []string
	for _, set := range sets {
		for _, f := range unguarded(set) {
			if f.Part != analysis.SupplyName {
				parts = append(parts, f.Part)
			}
		}
	}
	return union(nil, parts)
}

func (k *Facts) pairFinding(p *pair, w *analysis.Worst, signal Signal, when string) Finding {
	a, b := k.piece(p.a, p.nodes[0], w.State.Faults...), k.piece(p.b, p.nodes[1], w.State.Faults...)
	figures := fmt.Sprintf("%s between them, %s through a body (%s): %s", phrase.Open(w.Reading), phrase.Current(w.Reading), phrase.BodySource, phrase.Meaning(w.Reading))
	return Finding{
		Signal: signal, Nodes: p.nodes[:], Worst: w, Figures: figures,
		Message: fmt.Sprintf("from %s to %s, hand to hand, %s passes %s", a.Name(), b.Name(), phrase.Current(w.Reading), when),
	}
}

// handToHand tells from where to where a part's own failure is live hand to hand, the other hand on
// metal of which the finding does not speak: "" where it is not.
func (k *Facts) handToHand(s *sole) string {
	if k.live(s.metal).ever() {
		return ""
	}
	var most *analysis.Worst
	var others []string
	for _, p := range k.pairs {
		other := p.a
		if p.a.same(s.metal) {
			other = p.b
		} else if !p.b.same(s.metal) {
			continue
		}
		at := slices.IndexFunc(p.sets, func(x analysis.FaultSet) bool {
			return slices.ContainsFunc(s.sets, func(y analysis.FaultSet) bool { return holds(unguarded(x), unguarded(y)) })
		})
		if at < 0 || slices.ContainsFunc(s.also, other.same) {
			continue
		}
		others = append(others, other.Name())
		if _, w := k.worstOfPair(p, p.sets[at:at+1]); most == nil || w.Severity() > most.Severity() {
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
