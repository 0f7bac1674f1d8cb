package survey

import (
	"testing"

	"coldcheck/netlist"
)

// Of the examples none comes near the bound of a checklist.
func TestChecklistsOfExamplesFit(t *testing.T) {
	for _, e := range netlist.Examples() {
		c := exampleSurvey(t, e.Name).Circuit
		if n := checklistWork(c); n > checklistMost/4 || !ChecklistFits(c) {
			t.Errorf("%s is taken for a large set: %d", e.Name, n)
		}
	}
}
