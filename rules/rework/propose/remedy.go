package propose

import (
	"cmp"
	"slices"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
)

// measure is what a remedy rests on. Plans that rest on different measures differ in kind.
type measure int

// The measures, the most invasive first, as a restorer ranks them: it stands for its plan. A transformer
// changes what the set is fed from, a guard cures nothing behind it, a grounding cord trusts the outlet;
// what is done to the parts themselves touches the set least.
const (
	isolating measure = iota // an isolating transformer
	guarding                 // guards
	earthing                 // the chassis on the earth contact of a grounding cord
	bridging                 // class-Y capacitors, and B-minus off the chassis
	renewing                 // parts renewed or taken out
	switching                // fuse and switch
)

// kindWords name the kinds of plan where one is asked for.
var kindWords = map[measure]string{
	isolating: "transformer", guarding: "guards", earthing: "cord", bridging: "capacitors", renewing: "parts", switching: "switch",
}

// Kinds are the kinds of plan that can be asked for, the least invasive first.
func Kinds() []string {
	var kinds []string
	for m := switching; m >= isolating; m-- {
		kinds = append(kinds, kindWords[m])
	}
	return kinds
}

// measureWords tell a plan's kind.
var measureWords = map[measure]string{
	isolating: "an isolating transformer", earthing: "a grounding cord, the chassis earthed", guarding: "guards",
	bridging: "class Y capacitors", renewing: "parts renewed or taken out", switching: "fuse and switch",
}

// remedy is one thing that trade practice does to a set: a few steps that belong together. It is the
// unit in which plans are counted.
type remedy struct {
	key     string // names it among the remedies of a set
	measure measure
	// rank is the order in which the remedies of a plan are carried out: from the set's inside to the
	// outlet.
	rank int
	// effort is the tie-break order of plans of as many remedies.
	effort int
	// part is the part that the remedy is about, nodes are the points; whole remedies bear on all metal.
	part  string
	nodes []string
	whole bool
	// words tell the remedy of many steps as one thing to do, on a set; nil where its steps tell it.
	words func(set *netlist.Set) string
	// steps gives the steps on the set as it stands then, nil where the remedy does not fit it.
	steps func(set *netlist.Set) []plan.Step
}

// The ranks.
const (
	rankTransformer = iota
	rankLift
	rankCouple
	rankPart
	rankSwitch
	rankEarth
	rankGuard
)

// byRank orders remedies as a plan carries them out.
func byRank(a, b *remedy) int {
	return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.key, b.key))
}

// clash reports whether two remedies cannot stand in one plan: both are about one part, or both put a
// switch in.
func clash(a, b *remedy) bool {
	if a.key == b.key || a.part != "" && a.part == b.part {
		return true
	}
	one := []int{rankTransformer, rankSwitch, rankEarth}
	return a.rank == b.rank && (slices.Contains(one, a.rank) || a.rank == rankLift || a.rank == rankCouple && a.nodes[0] == b.nodes[0])
}
