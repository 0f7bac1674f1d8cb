package rules

import (
	"fmt"
	"slices"
	"testing"
)

// A suspect sleeve between the chassis and B-minus alone makes the chassis live: the stronger rule
// tells it, and this one keeps quiet.
func TestSuspectPartToldByTheStrongerRule(t *testing.T) {
	r := check(t, polarized, switchHot, wireNeut, loadHB,
		`I1 = { kind = "insulation", ends = ["B-", "chassis"], condition = "suspect" }`)
	if len(findings(r, "one-insulation")) == 0 {
		t.Fatalf("the stronger rule is silent:\n%s", messages(r))
	}
	silent(t, r, "suspect-part")
}

// In series with a double layer it is no single failure; it is still told that it cannot be
// counted on.
func TestSuspectPartInSeriesWithAGoodOne(t *testing.T) {
	with := func(condition string) *Report {
		return check(t, polarized, switchHot, wireNeut, loadHB,
			`I1 = { kind = "insulation", ends = ["B-", "bracket"], condition = "`+condition+`" }`,
			`I2 = { kind = "insulation", ends = ["bracket", "chassis"], grade = "double" }`)
	}
	f := one(t, with("suspect"), "suspect-part", Caution, "I1", "suspect", "chassis")
	if !slices.Equal(f.Nodes, []string{"chassis"}) {
		t.Errorf("it speaks of %v", f.Nodes)
	}
	silent(t, with("good"), "suspect-part")
}

// Six suspect sleeves in a row are no more than one: they are told together as what makes the chassis
// live. With two good layers behind them each is still told.
func TestManySuspectPartsInARow(t *testing.T) {
	lines := []string{polarized, switchHot, wireNeut, loadHB}
	nodes := []string{"B-", "a", "b", "c", "d", "e", "chassis"}
	for i := range 6 {
		lines = append(lines, fmt.Sprintf(`I%d = { kind = "insulation", ends = ["%s", "%s"], condition = "suspect" }`, i+1, nodes[i], nodes[i+1]))
	}
	r := check(t, lines...)
	f := one(t, r, "one-insulation", Warning, "no one vouches for them")
	if got := f.Parts[:6]; !slices.Equal(slices.Sorted(slices.Values(got)), []string{"I1", "I2", "I3", "I4", "I5", "I6"}) {
		t.Errorf("it names %v", f.Parts)
	}
	silent(t, r, "suspect-part")
	r = check(t, append(lines[:len(lines)-1], `I6 = { kind = "insulation", ends = ["e", "chassis"], grade = "double" }`)...)
	if n := len(findings(r, "suspect-part")); n != 5 {
		t.Errorf("%d of five told:\n%s", n, messages(r))
	}
}

// A paper capacitor that no line reaches, and one on a hot chassis, stand between nothing.
func TestPaperCapacitorElsewhere(t *testing.T) {
	silent(t, check(t, polarized, wireHot, `W2 = { kind = "wire", ends = ["line 2", "chassis"] }`,
		`R1 = { kind = "resistor", ends = ["H", "chassis"], value = 800 }`,
		`C1 = { kind = "capacitor", ends = ["H", "chassis"], value = "0.05 uF", type = "paper" }`), "suspect-part")
}
