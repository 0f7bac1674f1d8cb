package survey

import "coldcheck/analysis"

// mostCost is the most that one failure costs.
const mostCost = 2

// Worst is where a target reads worst with nothing wrong; where that is under the first limit, with
// one thing wrong that cost nothing, then with one that cost one failure, then any.
func (s *Survey) Worst(target int) Place {
	best, found := Place{}, false
	for cost := -1; cost <= mostCost; cost++ {
		for n, faults := range s.FaultSets {
			if len(faults) > 1 || faults.cost() != cost {
				continue
			}
			for i := range s.States {
				e := s.At(Place{n, i}, target)
				if e.Cleared {
					continue
				}
				if !found || worse(e.Reading, s.At(best, target).Reading, besideBy) {
					best, found = Place{n, i}, true
				}
			}
		}
		if found && s.At(best, target).Class() > analysis.UnderLimit {
			break
		}
	}
	return best
}

// WorstNormally is the state with nothing failed in which any target reads worst; false where each is cleared.
func (s *Survey) WorstNormally() (worst Place, found bool) {
	var most analysis.Reading
	for n := range s.FaultSets {
		if !s.Sound(n) {
			continue
		}
		for i := range s.States {
			for t := range s.Targets {
				if e := s.At(Place{n, i}, t); !e.Cleared && (!found || worse(e.Reading, most, besideBy)) {
					worst, most, found = Place{n, i}, e.Reading, true
				}
			}
		}
	}
	return worst, found
}

// worstSound is the worst that each target reads with nothing failed.
func (s *Survey) worstSound() []analysis.Reading {
	most := make([]analysis.Reading, len(s.Targets))
	for n := range s.FaultSets {
		for i := range s.States {
			for t := range s.Targets {
				if e := s.At(Place{n, i}, t); s.Sound(n) && !e.Cleared && worse(e.Reading, most[t], 1) {
					most[t] = e.Reading
				}
			}
		}
	}
	return most
}

// WorstByFailure is the state in which any target reads worst of those that one failure makes worse than that target
// ever is without one; false where none does.
func (s *Survey) WorstByFailure() (worst Place, found bool) {
	var most analysis.Reading
	sound := s.worstSound()
	for n, faults := range s.FaultSets {
		if len(faults) != 1 || faults[0].Cost > 1 {
			continue
		}
		for i := range s.States {
			for t := range s.Targets {
				e := s.At(Place{n, i}, t)
				if e.Cleared || !worse(e.Reading, sound[t], besideBy) {
					continue
				}
				if !found || worse(e.Reading, most, besideBy) {
					worst, most, found = Place{n, i}, e.Reading, true
				}
			}
		}
	}
	return worst, found
}

// Foremost is the target that matters most: that with the fewest safeguards, then the one that reads
// worst.
func (s *Survey) Foremost() int {
	depth := func(i int) int {
		if d := s.Result.Point(s.Targets[i].Node).Depth; d != analysis.None {
			return d
		}
		return s.Result.Options.Faults + 1
	}
	reading := func(i int) analysis.Reading { return s.At(s.Worst(i), i).Reading }
	foremost := 0
	for i := range s.Targets {
		if d, e := depth(i), depth(foremost); d < e || d == e && worse(reading(i), reading(foremost), besideBy) {
			foremost = i
		}
	}
	return foremost
}

// LiveNormally counts the normal states in which a target is live.
func (s *Survey) LiveNormally(target int) int {
	live := 0
	for i := range s.States {
		if e := s.At(Place{0, i}, target); !e.Cleared && e.Class() == analysis.Live {
			live++
		}
	}
	return live
}
