package overview

import (
	"slices"
	"strings"

	"coldcheck/rules"
)

// Care is a caution. Rule is the one that gives it, nil where it holds for all work on such a set.
type Care struct {
	Rule *rules.Rule
	Text string
}

// general are the cautions that hold for all work on a set on the line. What a rule's own caution says of
// the same begins with one of the words, and is not told again.
var general = []struct {
	text   string
	begins []string
}{
	{"A set file can be wrong: measure before you touch. Work unplugged, the reservoirs discharged through a resistor and measured.",
		[]string{"Work unplugged", "Work with the plug out", "Unplug ", "Unplug,", "Pull the plug", "Discharge ", "Measure after discharging", "Measure with the plug out",
			"Never work on it plugged in", "Do not short a reservoir", "Do not plug it in as it is"}},
	{"An isolation transformer cures nothing in the set: hand to hand, or with one earthed clip, it shocks all the same, and it hides the current from the hot check.",
		[]string{"An isolation transformer"}},
	{"Test the outlet: wired backwards, its neutral is hot.",
		[]string{"Test the outlet", "A switch in the hot leg helps only while the outlet", "With the plug turned round"}},
	{"Re-check cold and hot after any change.",
		[]string{"Re-check", "Check again", "Measure the current again"}},
	{"Local electrical codes and licensed or qualified people come first.",
		[]string{"Follow local electrical codes"}},
}

// caresOf are the cautions of a report, each once: those for all work, then what single rules add, where a
// finding of theirs is WARNING or more; what weaker ones take is told by coldcheck why.
func caresOf(r *rules.Report) []Care {
	var all []Care
	for _, g := range general {
		all = append(all, Care{Text: g.text})
	}
	told := map[string]bool{}
	for _, rule := range rules.All {
		for i := range r.Findings {
			f := &r.Findings[i]
			if f.Rule != rule || f.Signal < rules.Warning {
				continue
			}
			for _, s := range sentences(f.Caution) {
				if told[s] || isGeneral(s) {
					continue
				}
				told[s] = true
				if rule.Failure == rules.ResistorShorts && len(f.Parts) > 0 {
					s = f.Parts[0] + ": " + s // it speaks of the resistor as of one that was named
				}
				all = append(all, Care{rule, s})
			}
		}
	}
	return all
}

// isGeneral reports whether a sentence says what holds for all work.
func isGeneral(sentence string) bool {
	for _, g := range general {
		if slices.ContainsFunc(g.begins, func(begin string) bool { return strings.HasPrefix(sentence, begin) }) {
			return true
		}
	}
	return false
}

// sentences are those of a text.
func sentences(text string) []string {
	var all []string
	for _, s := range strings.SplitAfter(text, ". ") {
		if s = strings.TrimSpace(s); s != "" {
			all = append(all, s)
		}
	}
	return all
}
