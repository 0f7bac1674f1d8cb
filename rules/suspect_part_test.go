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

// Six suspect sleeves in a row are more than the search for sets of faults tries at once; each is
// still told.
func TestManySuspectPartsInARow(t *testing.T) {
	lines := []string{polarized, switchHot, wireNeut, loadHB}
	nodes := []string{"B-", "a", "b", "c", "d", "e", "chassis"}
	for i := range 6 {
		lines = append(lines, fmt.Sprintf(`I%d = { kind = "insulation", ends = ["%s", "%s"], condition = "suspect" }`, i+1, nodes[i], nodes[i+1]))
	}
	if n := len(findings(check(t, lines...), "suspect-part")); n != 6 {
		t.Errorf("%d of six told", n)
	}
}

// A paper capacitor that no line reaches, and one on a hot chassis, stand between nothing.
func TestPaperCapacitorElsewhere(t *testing.T) {
	silent(t, check(t, polarized, wireHot, `W2 = { kind = "wire", ends = ["line 2", "chassis"] }`,
		`R1 = { kind = "resistor", ends = ["H", "chassis"], value = 800 }`,
		`C1 = { kind = "capacitor", ends = ["H", "chassis"], value = "0.05 uF", type = "paper" }`), "suspect-part")
}
