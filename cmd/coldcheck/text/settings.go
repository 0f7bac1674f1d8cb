package text

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/analysis/grouping"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// describe tells settings of a space, by their numbers, in as few phrases as its axes allow: "plug
// reversed, S1 on". lacks tells rectifiers that cannot conduct in these states, and need no word.
func describe(c *analysis.Circuit, s *grouping.Space, numbers []int, lacks func(string) bool) []string {
	var phrases []string
	for _, product := range s.Products(numbers) {
		phrases = append(phrases, productWords(c, s.Values(product), lacks))
	}
	return phrases
}

// productWords tells a product by its values on each axis on which there are others too.
func productWords(c *analysis.Circuit, axes []grouping.Values, lacks func(string) bool) string {
	var words []string
	last := len(axes) - 1
	for i, v := range axes {
		others := v.Lacks
		if i == last {
			others = slices.DeleteFunc(slices.Clone(others), lacks)
		}
		switch {
		case len(others) == 0:
		case i == 0:
			words = append(words, phrase.Plug(analysis.Polarity(v.Has[0])))
		case i == last:
			words = append(words, phrase.Rectifiers(v.Has))
		case i <= len(c.Switches):
			words = append(words, phrase.Setting(c.Switches[i-1].Name, v.Has...))
		default:
			words = append(words, phrase.TurnedTo(c.Controls[i-1-len(c.Switches)].Name, v.Has))
		}
	}
	if len(words) == 0 {
		return everySetting(len(axes) > len(c.Switches)+2 && slices.ContainsFunc(axes[1+len(c.Switches):last], func(v grouping.Values) bool { return len(v.Has) > 1 }))
	}
	return strings.Join(words, ", ")
}

// everySetting tells that there is nothing to set apart.
func everySetting(controls bool) string {
	if controls {
		return "every plug polarity and position of switches and controls"
	}
	return "every plug polarity and switch position"
}

// rectifierGone reports whether a rectifier's tube is pulled by one of the faults.
func rectifierGone(label string, faults []*analysis.Fault) bool {
	part, _, _ := strings.Cut(label, ":")
	return slices.ContainsFunc(faults, func(f *analysis.Fault) bool { return f.Kind == analysis.Pulled && f.Part == part })
}

// spaceWords tells how many states there are, and of what.
func spaceWords(t *grouping.Table) string {
	polarities := len(t.Space.Axis(0))
	words := []string{fmt.Sprintf("%d plug %s", polarities, phrase.Pick(polarities, "polarity", "polarities"))}
	for i, control := range t.Circuit.Switches {
		words = append(words, fmt.Sprintf("%s %s", netlist.Visible(control.Name), phrase.Or(phrase.Visible(t.Space.Axis(i+1)))))
	}
	turned := false
	for i, control := range t.Circuit.Controls {
		if at := t.Space.Axis(1 + len(t.Circuit.Switches) + i); len(at) > 1 || t.Circuit.Controls[i].Positions[0] != at[0] {
			words, turned = append(words, phrase.TurnedTo(control.Name, at)), true
		}
	}
	if len(t.Circuit.Controls) > 0 && !turned {
		words = append(words, "controls at the middle or at full")
	}
	rectifiers := t.Space.Axis(1 + len(t.Circuit.Switches) + len(t.Circuit.Controls))
	small := slices.Contains(rectifiers, analysis.SmallDiodes)
	if n := len(rectifiers) - 1 - one(small); n > 0 {
		words = append(words, fmt.Sprintf("%s conducting in turn", phrase.Counted(n, "rectifier")))
	}
	if small {
		words = append(words, "then all small diodes")
	}
	return strings.Join(words, ", ")
}

func one(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
