package survey

import (
	"testing"

	"coldcheck/netlist/examples"
)

// Of the examples none comes near the bound of a checklist.
func TestChecklistsOfExamplesFit(t *testing.T) {
	for _, e := range examples.Sets() {
		c := exampleSurvey(t, e.Name).Circuit
		if n := checklistWork(c); n > checklistMost/4 || !ChecklistFits(c) {
			t.Errorf("%s is taken for a large set: %d", e.Name, n)
		}
	}
}
