package text

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/analysis/grouping"
	"coldcheck/rules/phrase"
)

// spaceOf is the normal states of a set, and the space of them.
func spaceOf(t *testing.T, file string) (*analysis.Circuit, *grouping.Space) {
	c := analysistest.Of(t, file)
	s := grouping.NewSpace(c)
	for _, x := range c.Normal() {
		s.Add(x)
	}
	return c, s
}

func TestDescribe(t *testing.T) {
	circuit, s := spaceOf(t, analysistest.TwoSwitches)
	for _, c := range []struct {
		name string
		keep func(analysis.State) bool
		want []string
	}{
		{"all", func(analysis.State) bool { return true }, []string{"every plug polarity and switch position"}},
		{"one-axis", func(x analysis.State) bool { return x.At("S1") == "on" }, []string{"S1 on"}},
		{"two-axes", func(x analysis.State) bool { return x.At("S1") == "on" && x.Plug == analysis.Reversed }, []string{"plug reversed, S1 on"}},
		{"some-positions", func(x analysis.State) bool { return x.At("SL1") != "rest" }, []string{"SL1 at low or high"}},
		{"crosswise", func(x analysis.State) bool { return (x.At("S1") == "on") == (x.Plug == analysis.Reversed) },
			[]string{"plug as marked, S1 off", "plug reversed, S1 on"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var ids []int
			for id, x := range circuit.Normal() {
				if c.keep(x) {
					ids = append(ids, id)
				}
			}
			if diff := cmp.Diff(c.want, describe(circuit, s, ids, func(string) bool { return false })); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// TestDescribeIsExact: read back, the phrases of any set of settings name these and no others.
func TestDescribeIsExact(t *testing.T) {
	circuit, s := spaceOf(t, analysistest.TwoSwitches)
	rapid.Check(t, func(t *rapid.T) {
		var ids []int
		for id := range circuit.Normal() {
			if rapid.Bool().Draw(t, fmt.Sprint(id)) {
				ids = append(ids, id)
			}
		}
		if len(ids) == 0 {
			return
		}
		phrases := describe(circuit, s, ids, func(string) bool { return false })
		for id, x := range circuit.Normal() {
			told := 0
			for _, words := range phrases {
				told += flag(fits(words, x))
			}
			if want := flag(slices.Contains(ids, id)); told != want {
				t.Fatalf("%q tells %v %d times, want %d", phrases, x, told, want)
			}
		}
	})
}

func flag(b bool) int {
	if b {
		return 1
	}
	return 0
}

// fits reads a phrase back.
func fits(words string, x analysis.State) bool {
	if strings.HasPrefix(words, "every") {
		return true
	}
	for word := range strings.SplitSeq(strings.ReplaceAll(words, "low, ", "low or "), ", ") {
		switch {
		case strings.HasPrefix(word, "plug "):
			if word != phrase.Plug(x.Plug) {
				return false
			}
		case strings.HasPrefix(word, "SL1 at "):
			if !slices.Contains(strings.Split(word[len("SL1 at "):], " or "), x.At("SL1")) {
				return false
			}
		default:
			name, at, _ := strings.Cut(word, " ")
			if x.At(name) != at {
				return false
			}
		}
	}
	return true
}
