package netlist

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestSchemaAgreesOnValues: the patterns take a value just where the parser reads it, its size aside.
func TestSchemaAgreesOnValues(t *testing.T) {
	patterns := map[Unit]*regexp.Regexp{}
	var words []string
	for _, unit := range Units {
		facts := units[unit]
		patterns[unit] = regexp.MustCompile(`^\s*` + ValuePattern(unit) + `\s*$`)
		words = append(words, facts.words...)
	}
	slices.Sort(words)
	var prefix []string
	for _, table := range []map[string]float64{prefixes, prefixWords, faradPrefixes} {
		for p := range table {
			prefix = append(prefix, p)
		}
	}
	slices.Sort(prefix)
	numbers := []string{"5", "0.5", ".5", "5.", "4k7", "2M2", "4R7", "4n7", "4N7", "4m7", "1e3", "+5", "5,5", "1/2", "1/0", "3/40", "1/2/3", "1/2,5", "220,000", "2,200.5", "1,0000", "1,000/2", "1,000,00", "1,000k5", "", "x", "5 5", "4.5k7"}
	blanks := []string{"", " ", "  "}
	list := []Unit{Ohm, Farad, Henry, Volt, Ampere, Watt, Hertz}
	checked := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		for range 30 {
			unit := rapid.SampledFrom(list).Draw(t, "unit")
			word := rapid.SampledFrom(append(slices.Clone(units[unit].words), rapid.SampledFrom(append(words, "")).Draw(t, "other"))).Draw(t, "word")
			p := rapid.SampledFrom(append([]string{"", "", "k", "m", "u"}, prefix...)).Draw(t, "prefix")
			if rapid.Bool().Draw(t, "upper") {
				word, p = strings.ToUpper(word), strings.ToUpper(p)
			}
			text := rapid.SampledFrom(numbers).Draw(t, "number") + rapid.SampledFrom(blanks).Draw(t, "blank") + p +
				rapid.SampledFrom(blanks).Draw(t, "blank") + word
			if strings.EqualFold(strings.ReplaceAll(p+" "+word, " ", ""), "mega") {
				continue // a blank within a word: the parser does not mind, and no pattern tries
			}
			_, err := ParseQuantity(text, unit)
			if takes := patterns[unit].MatchString(text); takes != (err == nil) {
				t.Fatalf("%q in %s: the pattern says %v, the parser %v", text, unit.Plural(), takes, err)
			}
			checked[err == nil]++
		}
	})
	if least := (checked[true] + checked[false]) / 15; checked[true] < least || checked[false] < least { // of 3000, 200 of each
		t.Errorf("%v values prove little", checked)
	}
}
