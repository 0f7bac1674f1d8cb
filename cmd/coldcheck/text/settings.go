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
		default:
			words = append(words, phrase.Setting(c.Switches[i-1].Name, v.Has...))
		}
	}
	if len(words) == 0 {
		return "every plug way and switch position"
	}
	return strings.Join(words, ", ")
}

// rectifierGone reports whether a rectifier's tube is pulled by one of the faults.
func rectifierGone(label string, faults []*analysis.Fault) bool {
	part, _, _ := strings.Cut(label, ":")
	return slices.ContainsFunc(faults, func(f *analysis.Fault) bool { return f.Kind == analysis.Pulled && f.Part == part })
}

// spaceWords tells how many states there are, and of what.
func spaceWords(t *grouping.Table) string {
	words := []string{phrase.Counted(len(t.Space.Axis(0)), "plug way")}
	for i, control := range t.Circuit.Switches {
		words = append(words, fmt.Sprintf("%s %s", netlist.Visible(control.Name), phrase.Or(phrase.Visible(t.Space.Axis(i+1)))))
	}
	if last := t.Space.Axis(len(t.Circuit.Switches) + 1); len(last) > 1 {
		words = append(words, fmt.Sprintf("%s conducting in turn", phrase.Counted(len(last)-1, "rectifier")))
	}
	return strings.Join(words, ", ")
}
