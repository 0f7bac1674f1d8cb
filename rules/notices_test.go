package rules

import (
	"slices"
	"strings"
	"testing"

	"coldcheck/analysis"
)

// What the file has that is odd comes with its place.
func TestFileNotices(t *testing.T) {
	set := load(t, polarized, switchHot, wireNeut, loadHB, toChassis, `R9 = { kind = "resistor", ends = ["B-", "lone"], value = 100 }`)
	if len(set.Notices) == 0 {
		t.Fatal("a point that one terminal alone uses gets no notice")
	}
	found := findings(checkSet(t, set, mainsBench), "file-notice")
	if len(found) != len(set.Notices) {
		t.Errorf("%d of %d notices told", len(found), len(set.Notices))
	}
	for i, f := range found {
		if f.Signal != Notice || !strings.HasPrefix(f.Message, "set.toml:") {
			t.Errorf("%d: %s %s", i, f.Signal, f.Message)
		}
	}
	silent(t, check(t, polarized, switchHot, wireNeut, loadHB, toChassis), "file-notice")
}

// A report on a set with parts on building earth says which.
func TestPartsOnBuildingEarthAreNamed(t *testing.T) {
	r := check(t, polarized, switchHot, wireNeut, loadHB, toChassis, `W3 = { kind = "wire", ends = ["chassis", "building earth"] }`,
		`C7 = { kind = "capacitor", ends = ["B-", "building earth"], value = "1 nF", class = "Y2" }`)
	found := false
	for _, f := range findings(r, "file-notice") {
		found = found || strings.Contains(f.Message, "W3 and C7 are on building earth")
	}
	if !found {
		t.Errorf("they are not named:\n%s", messages(r))
	}
}

func TestBenchSupply(t *testing.T) {
	lines := []string{polarized, switchHot, wireNeut, loadHB, toChassis}
	silent(t, check(t, lines...), "bench-supply")
	one(t, checkOn(t, analysis.Bench{Isolated: true}, lines...), "bench-supply", Notice, "the bench's, not the set's")
	one(t, checkOn(t, analysis.Bench{Earthed: []string{"B-"}}, lines...), "bench-supply", Notice, "B-", "earthed")
	both := findings(checkOn(t, analysis.Bench{Isolated: true, Earthed: []string{"B-"}}, lines...), "bench-supply")
	if len(both) != 2 {
		t.Errorf("%d findings for an isolated supply with an earthed clip", len(both))
	}
}

// A set that hangs on the cord by one lead, or by none, is told to be off the line, for little is
// found in it; one with a load on both is not.
func TestSetOffTheLineIsTold(t *testing.T) {
	told := func(r *Report) bool {
		return slices.ContainsFunc(findings(r, "file-notice"), func(f Finding) bool { return strings.Contains(f.Message, "off the line") })
	}
	off := check(t, polarized, wireHot, loadHB, toChassis)
	if !told(off) {
		t.Errorf("not told:\n%s", messages(off))
	}
	for _, lines := range [][]string{
		{polarized, switchHot, wireNeut, loadHB, toChassis},
		{polarized, switchHot, wireNeut, toChassis, `C1 = { kind = "capacitor", ends = ["H", "B-"], value = "0.1 uF" }`},
	} {
		if r := check(t, lines...); told(r) {
			t.Errorf("told of a set on the line:\n%s", messages(r))
		}
	}
}
