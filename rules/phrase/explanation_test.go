package phrase

import (
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/netlist"
)

// TestInFile: what an explanation is in the file is told by what has to be written, with the part's name; of the
// outlet nothing is.
func TestInFile(t *testing.T) {
	set := &netlist.Set{}
	one := func(kind analysis.FaultKind, part string) diagnose.Explanation {
		return diagnose.Explanation{Kind: diagnose.FaultsInSet, Part: part, Faults: []*analysis.Fault{{Part: part, Kind: kind}}}
	}
	for _, c := range []struct {
		e    diagnose.Explanation
		want string
	}{
		{one(analysis.Shorted, "C1"), `write condition = "failed" on C1`},
		{one(analysis.Open, "R1"), "take R1 out of the file until it is replaced"},
		{one(analysis.Open, analysis.SupplyName), ""},
		{diagnose.Explanation{Kind: diagnose.SwitchMoved, Part: "S1"}, "write the ends of S1 as they are wired"},
		{diagnose.Explanation{Kind: diagnose.StatedAbsent, Part: "C1"}, "take the failure or the leakage of C1 out of the file"},
		{diagnose.Explanation{Kind: diagnose.OtherValue, Part: "R1", Unit: netlist.Ohm}, "measure R1 with one end off and write what it is"},
		{diagnose.Explanation{Kind: diagnose.OtherValue, Part: "C1", Unit: netlist.Farad}, "write the value of C1 as it is"},
		{diagnose.Explanation{Kind: diagnose.WeakTube, Part: "V1"}, "try a good V1 in its place"},
	} {
		if got := InFile(set, &c.e); got != c.want && !(c.want != "" && strings.HasPrefix(got, c.want)) {
			t.Errorf("%s of %s: %q, want %q", c.e.Kind, c.e.Part, got, c.want)
		}
	}
}

// TestExplanationInWords: each way in which a set may be other than described is told by what it is of, with a lead's name
// where it has one.
func TestExplanationInWords(t *testing.T) {
	for want, e := range map[string]diagnose.Explanation{
		"R1 is open, or one end of it is off":            {Kind: diagnose.ConnectionOff, Part: "R1", Nodes: [2]string{"a"}},
		"V1 pin 3 is off, at h1":                         {Kind: diagnose.ConnectionOff, Part: "V1", Terminals: []string{"pin 3"}, Nodes: [2]string{"h1"}},
		"a lead of PL1 is off, at line 1":                {Kind: diagnose.ConnectionOff, Part: "PL1", Terminals: []string{"hot"}, Nodes: [2]string{"line 1"}},
		"V1 has pin 3 and pin 4 exchanged":               {Kind: diagnose.EndsSwapped, Part: "V1", Terminals: []string{"pin 3", "pin 4"}},
		"S1 is in the other leg, behind line 2":          {Kind: diagnose.SwitchMoved, Part: "S1", Nodes: [2]string{"line 2"}},
		"C1 does not conduct or leak as the file states": {Kind: diagnose.StatedAbsent, Part: "C1"},
	} {
		if got := Explanation(&e); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}
