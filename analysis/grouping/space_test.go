package grouping

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
)

func spaceOf(t *testing.T, file string) *Space {
	c := analysistest.Of(t, file)
	s := NewSpace(c)
	for _, x := range c.Normal() {
		s.Add(x)
	}
	return s
}

// TestProducts: settings are parted into as few products as their axes allow.
func TestProducts(t *testing.T) {
	s := spaceOf(t, analysistest.TwoSwitches)
	for _, c := range []struct {
		name string
		keep func(analysis.State) bool
		want []string // of each product, the values that it has on the axes on which it lacks any
	}{
		{"all", func(analysis.State) bool { return true }, []string{""}},
		{"one-axis", func(x analysis.State) bool { return x.At("S1") == "on" }, []string{"on"}},
		{"two-axes", func(x analysis.State) bool { return x.At("S1") == "on" && x.Plug == analysis.Reversed }, []string{"reversed, on"}},
		{"some-positions", func(x analysis.State) bool { return x.At("SL1") != "rest" }, []string{"low or high"}},
		{"crosswise", func(x analysis.State) bool { return (x.At("S1") == "on") == (x.Plug == analysis.Reversed) },
			[]string{"as-marked, off", "reversed, on"}},
		{"along the axis that leaves fewest", func(x analysis.State) bool {
			return x.At("S1") == "on" || x.Plug == analysis.Reversed && x.At("SL1") == "low"
		}, []string{"on", "reversed, off, low"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var numbers []int
			for n, x := range s.settings {
				if c.keep(x) {
					numbers = append(numbers, n)
				}
			}
			var got []string
			for _, product := range s.Products(numbers) {
				var words []string
				for _, v := range s.Values(product) {
					if len(v.Lacks) > 0 {
						words = append(words, strings.Join(v.Has, " or "))
					}
				}
				got = append(got, strings.Join(words, ", "))
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// TestProductsAreExact: the products of any set of settings hold these, each once, and no others, by
// the values that they are said to have.
func TestProductsAreExact(t *testing.T) {
	s := spaceOf(t, analysistest.TwoSwitches)
	rapid.Check(t, func(t *rapid.T) {
		var numbers []int
		for n := range s.settings {
			if rapid.Bool().Draw(t, fmt.Sprint(n)) {
				numbers = append(numbers, n)
			}
		}
		if len(numbers) == 0 {
			return
		}
		products := s.Products(numbers)
		for n, x := range s.settings {
			within := 0
			for _, product := range products {
				within += flag(has(s, product, x))
			}
			if want := flag(slices.Contains(numbers, n)); within != want {
				t.Fatalf("%v hold %v %d times, want %d", products, x, within, want)
			}
		}
	})
}

// has reports whether a setting has the values of a product on every axis.
func has(s *Space, product []int, x analysis.State) bool {
	for i, v := range s.Values(product) {
		if !slices.Contains(v.Has, s.axes[i].of(x)) {
			return false
		}
	}
	return true
}

// TestWhole: settings are whole where no other has on every axis a value that one of them has there.
func TestWhole(t *testing.T) {
	s := spaceOf(t, analysistest.TwoSwitches)
	rapid.Check(t, func(t *rapid.T) {
		var ids []int
		chosen := map[string]bool{}
		for _, a := range s.axes {
			for _, at := range a.values {
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
