// Package settest is what the tests of several packages share: small sets, example sets, sets drawn at
// random for properties, and large sets for timing. Like net/http/httptest it is for tests alone, and
// nothing but tests imports it.
//
//   - settest.go writes and reads small sets, and compares figures;
//   - random.go, random_parts.go and drawer.go draw valid sets of any wiring, check.go runs properties of
//     them;
//   - large.go writes sets of any size, wired as large sets are.
package settest

import (
	"fmt"
	"math"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/setfile"
)

// TB is what *testing.T, *testing.B and *rapid.T have in common.
type TB interface {
	Helper()
	Fatalf(format string, args ...any)
}

// Load reads a set file.
func Load(t TB, text string) *netlist.Set {
	t.Helper()
	set, err := setfile.Load("set.toml", strings.NewReader(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return set
}

// With writes a set file of those parts on 120 V 60 Hz, on a plug from L to N unless a plug is among
// them, with those touch points, all bare.
func With(parts string, touch ...string) string { return WithMains("120 V 60 Hz", parts, touch...) }

// WithMains is With on other mains.
func WithMains(mains, parts string, touch ...string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "[set]\nname = \"a sum\"\nmains = %q\n[nodes]\n", mains)
	for _, node := range touch {
		fmt.Fprintf(&b, "%q = { touch = \"chassis\" }\n", node)
	}
	b.WriteString("[parts]\n")
	if !strings.Contains(parts, `kind = "plug"`) {
		b.WriteString("PL1 = { kind = \"plug\", hot = \"L\", neutral = \"N\" }\n")
	}
	b.WriteString(parts + "\n")
	return b.String()
}

// Example is the text of an example set.
func Example(t TB, name string) string {
	t.Helper()
	e, ok := examples.FindSet(name)
	if !ok {
		t.Fatalf("no example %s", name)
	}
	return e.Text
}

// LargestExample is the example set with the most parts.
func LargestExample(t TB) *netlist.Set {
	t.Helper()
	var largest *netlist.Set
	for _, e := range examples.Sets() {
		if set := Load(t, e.Text); largest == nil || len(set.Parts) > len(largest.Parts) {
			largest = set
		}
	}
	return largest
}

// Replaced puts new for old, pair by pair; each old must be there just once.
func Replaced(t TB, text string, pairs ...string) string {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		if n := strings.Count(text, pairs[i]); n != 1 {
			t.Fatalf("%q is %d times in the text", pairs[i], n)
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	return text
}

// Near fails where got is further from want than that part of it, and than a millionth.
func Near(t TB, what string, got, want, part float64) {
	t.Helper()
	if !(math.Abs(got-want) <= part*math.Abs(want)+1e-6) {
		t.Fatalf("%s: got %.9g, want %.9g", what, got, want)
	}
}

// Below fails where got is not under the limit.
func Below(t TB, what string, got, limit float64) {
	t.Helper()
	if !(math.Abs(got) < limit) {
		t.Fatalf("%s: got %.9g, want less than %g", what, got, limit)
	}
}
