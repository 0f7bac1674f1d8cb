package search

import (
	"slices"

	"coldcheck/analysis/internal/circuit"
)

// cutSets is the minimal sets found so far, and answers whether one of them lies within another.
type cutSets struct {
	sets [][]*circuit.Fault
	keys map[setKey]bool
}

// setKey tells sets of faults apart.
type setKey [mostTogether]int32

func (x *cutSets) add(set []*circuit.Fault) {
	set = slices.Clone(set)
	x.sets = append(x.sets, set)
	if len(set) > mostTogether {
		return // a chain: what lies within it is looked for one by one
	}
	if x.keys == nil {
		x.keys = map[setKey]bool{}
	}
	x.keys[keyOf(set)] = true
}

func keyOf(set []*circuit.Fault) setKey {
	var key setKey
	for i, f := range set {
		key[i] = int32(f.Index + 1)
	}
	slices.Sort(key[:len(set)])
	return key
}

// holdsSubset reports whether some found set, other than a larger one, is within the set.
func (x *cutSets) holdsSubset(set []*circuit.Fault) bool {
	if len(x.sets) == 0 {
		return false
	}
	if len(set) > mostTogether {
		return slices.ContainsFunc(x.sets, func(found []*circuit.Fault) bool {
			return !slices.ContainsFunc(found, func(f *circuit.Fault) bool { return !slices.Contains(set, f) })
		})
	}
	full := keyOf(set)
	for mask := range 1 << len(set) {
		var key setKey
		n := 0
		for i := range set {
			if mask>>i&1 == 1 {
				key[n] = full[i]
				n++
			}
		}
		if x.keys[key] {
			return true
		}
	}
	return false
}

// targetSet is targets of a block, a bit each.
type targetSet uint64

func (s targetSet) has(k int) bool { return s>>k&1 == 1 }

// covered is what the small sets found make live: a larger set with one of them is not minimal.
type covered struct {
	none targetSet   // with no fault
	one  []targetSet // by fault: with it alone
	two  []targetSet // by two faults: with both together; nil until it is known
}

// mostPairsKept is how many faults there may be for what two of them make live to be kept by pairs.
const mostPairsKept = 1000

// noteSingles notes which targets of the block no fault or one makes live.
func (d *depthSearch) noteSingles() {
	d.block.covered = covered{one: make([]targetSet, len(d.c.Faults))}
	for k := range d.block.count {
		for _, set := range d.found[d.block.first+k].sets {
			switch len(set) {
			case 0:
				d.block.covered.none |= 1 << k
			case 1:
				d.block.covered.one[set[0].Index] |= 1 << k
			}
		}
	}
}

// notePairs notes which points two faults together make live.
func (d *depthSearch) notePairs() {
	n := len(d.c.Faults)
	if n > mostPairsKept {
		return
	}
	d.block.covered.two = make([]targetSet, n*n)
	for k := range d.block.count {
		for _, set := range d.found[d.block.first+k].sets {
			if len(set) == 2 {
				a, b := set[0].Index, set[1].Index
				d.block.covered.two[a*n+b] |= 1 << k
				d.block.covered.two[b*n+a] |= 1 << k
			}
		}
	}
}

// coveredBy are the targets that a fault makes live alone or with one of some others.
func (d *depthSearch) coveredBy(f *circuit.Fault, others []*circuit.Fault) targetSet {
	found := d.block.covered.one[f.Index]
	if d.block.covered.two != nil {
		row := d.block.covered.two[f.Index*len(d.c.Faults):]
		for _, o := range others {
			found |= row[o.Index]
		}
	}
	return found
}
