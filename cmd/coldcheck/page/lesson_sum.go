package page

import (
	"fmt"
	"slices"
	"unicode"
	"unicode/utf8"

	"coldcheck/analysis"
	"coldcheck/analysis/survey"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// stands says how many safeguards stand, and what would make the metal live.
func (s *sheet) stands(scene int) []string {
	p := s.scenes[scene].metal.Points[0]
	limit := s.k.Result.Options.Faults
	var words []string
	switch {
	case p.Depth == analysis.None:
		words = append(words, fmt.Sprintf("Nothing was found, in what was described, that makes it live with up to %s gone.", phrase.Counted(limit, "safeguard")))
	case p.Depth == 0 && len(p.FaultSets[0].Faults) == 0 && s.LiveNormally(scene) == 0:
		words = append(words, "How many safeguards stand between the line and this metal: none. It is live with nothing wrong, once a control is turned.")
	case p.Depth == 0 && len(p.FaultSets[0].Faults) == 0:
		words = append(words, "How many safeguards stand between the line and this metal: none. It is live with nothing wrong, in "+fmt.Sprintf("%d of %d positions of plug and switches", s.LiveNormally(scene), len(s.States))+".")
	case p.Depth == 0:
		words = append(words, "How many safeguards stand between the line and this metal: none that anyone vouches for. "+s.each(p, 0))
	case p.Depth == 1:
		words = append(words, "How many safeguards stand between the line and this metal: one. "+s.each(p, 1))
	default:
		words = append(words, fmt.Sprintf("How many safeguards stand between the line and this metal: %d. %s", p.Depth, s.each(p, p.Depth)))
	}
	if _, plug := s.k.Set.Plug(); plug.Style == "polarized" && p.Depth != p.DepthAsMarked {
		words = append(words, fmt.Sprintf("If the plug's polarity is counted as a safeguard it is %s. But an outlet wired backwards, an adapter or a filed blade takes that one away, and nothing shows it.",
			text.Depth(p.DepthAsMarked, limit)))
	}
	return words
}

// each lists the fault sets of a cost.
func (s *sheet) each(p *analysis.PointResult, cost int) string {
	var sets []string
	for _, set := range p.FaultSets {
		if set.Cost == cost {
			sets = append(sets, faultsWords(s.k.Set, set.Faults))
		}
	}
	if len(sets) == 1 {
		return "This makes it live: " + sets[0] + "."
	}
	return "Each of these makes it live: " + phrase.FewOf(sets, setsListed, "; ", "more") + "."
}

// two says what would make the safeguards two: a second one for every set of faults of cost 1 or
// less.
func (s *scene) two() []string {
	p := s.metal.Points[0]
	var words []string
	add := func(w string) {
		if !slices.Contains(words, w) {
			words = append(words, w)
		}
	}
	for _, set := range p.FaultSets {
		if set.Cost > 1 {
			continue
		}
		if len(set.Faults) == 0 {
			add("Take this metal off both line conductors, in every position of plug and switches, and off everything that heaters, lamps, motors or windings join to them. Then put two safeguards between, or one that counts as two.")
			continue
		}
		for _, f := range set.Faults {
			add(s.second(f))
		}
	}
	return words
}

// second says what would stand in the way once a fault has happened.
func (s *scene) second(f *analysis.Fault) string {
	name := netlist.Visible(f.Part)
	switch f.Kind {
	case analysis.Shorted:
		switch survey.ClassOfFault(s.set, f.Part, f.Kind) {
		case survey.Capacitance:
			return fmt.Sprintf("Where %s stands: a capacitor of class Y1, or two of class Y2 in series, no larger than need be.", name)
		case survey.Resistance:
			return fmt.Sprintf("Where %s stands: two resistors in series, each of which alone holds the current back.", name)
		}
		return fmt.Sprintf("A safeguard that does not rest on rectifier %s.", name)
	case analysis.InsulationOut:
		if len(f.Between) == 2 {
			return fmt.Sprintf("Where %s insulates %s from %s: double or reinforced insulation, or a second layer.", name, netlist.Visible(f.Between[0]), netlist.Visible(f.Between[1]))
		}
		return fmt.Sprintf("Where %s stands: double or reinforced insulation, or a second layer.", name)
	case analysis.HeaterCathode:
		return fmt.Sprintf("A second safeguard between the cathode of %s and this metal.", name)
	case analysis.GuardOff:
		return "A safeguard that stays when the guard comes off: a knob or a cover is one, and the metal behind it needs one of its own."
	case analysis.Stuck:
		if f.Throw >= 0 {
			return fmt.Sprintf("A safeguard that does not rest on every deck of %s moving along.", name)
		}
		return fmt.Sprintf("A safeguard that does not rest on a pole of %s opening.", name)
	}
	return fmt.Sprintf("Wiring in which it does not matter that this happens: %s.", phrase.Fault(f))
}

func capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}
