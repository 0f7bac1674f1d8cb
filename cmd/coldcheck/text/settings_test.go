package text

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"coldcheck/analysis"
)

// twoSwitches has two switches and a selector of three positions.
const twoSwitches = `
[set]
name = "Switched set"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
S1 = { kind = "switch", ends = ["line 1", "a"] }
S2 = { kind = "switch", ends = ["a", "b"] }
SL1 = { kind = "selector", common = "b", throws = ["c", "d", ""], positions = ["low", "high", "rest"] }
R1 = { kind = "resistor", ends = ["c", "chassis"], value = 100 }
R2 = { kind = "resistor", ends = ["d", "chassis"], value = 200 }
R3 = { kind = "resistor", ends = ["chassis", "line 2"], value = 300 }
`

func spaceOf(t *testing.T, file string) *space {
	c := circuitOf(t, file)
	return (&Fold{circuit: c, settings: c.Normal()}).space()
}

func TestDescribe(t *testing.T) {
	s := spaceOf(t, twoSwitches)
	for _, c := range []struct {
		name string
		keep func(analysis.State) bool
		want []string
	}{
		{"all", func(analysis.State) bool { return true }, []string{"every plug way and switch position"}},
		{"one-axis", func(x analysis.State) bool { return x.At("S1") == "on" }, []string{"S1 on"}},
		{"two-axes", func(x analysis.State) bool { return x.At("S1") == "on" && x.Plug == analysis.Reversed }, []string{"plug reversed, S1 on"}},
		{"some-positions", func(x analysis.State) bool { return x.At("SL1") != "rest" }, []string{"SL1 at low or high"}},
		{"crosswise", func(x analysis.State) bool { return (x.At("S1") == "on") == (x.Plug == analysis.Reversed) },
			[]string{"plug as marked, S1 off", "plug reversed, S1 on"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var ids []int
			for id, x := range s.settings {
				if c.keep(x) {
					ids = append(ids, id)
				}
			}
			if diff := cmp.Diff(c.want, s.describe(ids, func(string) bool { return false })); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// TestDescribeIsExact: read back, the phrases of any set of settings name these and no others.
func TestDescribeIsExact(t *testing.T) {
	s := spaceOf(t, twoSwitches)
	rapid.Check(t, func(t *rapid.T) {
		var ids []int
		for id := range s.settings {
			if rapid.Bool().Draw(t, fmt.Sprint(id)) {
				ids = append(ids, id)
			}
		}
		if len(ids) == 0 {
			return
		}
		phrases := s.describe(ids, func(string) bool { return false })
		for id, x := range s.settings {
			told := 0
			for _, phrase := range phrases {
				told += flag(fits(phrase, x))
			}
			if want := flag(slices.Contains(ids, id)); told != want {
				t.Fatalf("%q tells %v %d times, want %d", phrases, x, told, want)
			}
		}
	})
}

// TestWhole: settings are whole where no other has on every axis a value that one of them has there.
func TestWhole(t *testing.T) {
	s := spaceOf(t, twoSwitches)
	rapid.Check(t, func(t *rapid.T) {
		var ids []int
		chosen := map[string]bool{}
		for _, a := range s.axes {
			for _, at := range a.all {
				chosen[at] = rapid.Bool().Draw(t, at)
			}
		}
		spare := rapid.IntRange(-1, len(s.settings)-1).Draw(t, "left out")
		for id, x := range s.settings {
			if id != spare && chosen[string(x.Plug)] && !slices.ContainsFunc(x.Settings, func(y analysis.Setting) bool { return !chosen[y.At] }) {
				ids = append(ids, id)
			}
		}
		if len(ids) == 0 {
			return
		}
		alike := func(x analysis.State, at func(analysis.State) string) bool {
			return slices.ContainsFunc(ids, func(id int) bool { return at(s.settings[id]) == at(x) })
		}
		within := 0
		for _, x := range s.settings {
			in := alike(x, func(y analysis.State) string { return string(y.Plug) })
			for i := range x.Settings {
				in = in && alike(x, func(y analysis.State) string { return y.Settings[i].At })
			}
			within += flag(in)
		}
		if got, want := s.whole(ids), within == len(ids); got != want {
			t.Fatalf("whole(%v) = %v, want %v", ids, got, want)
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
func fits(phrase string, x analysis.State) bool {
	if strings.HasPrefix(phrase, "every") {
		return true
	}
	for word := range strings.SplitSeq(strings.ReplaceAll(phrase, "low, ", "low or "), ", ") {
		switch {
		case strings.HasPrefix(word, "plug "):
			if word != "plug "+plugWay(string(x.Plug)) {
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
