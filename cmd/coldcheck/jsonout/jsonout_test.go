package jsonout

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist"
	"coldcheck/netlist/plan"
	"coldcheck/rules"
	"coldcheck/rules/rework"
	"coldcheck/rules/rework/propose"
)

func TestRound(t *testing.T) {
	for _, c := range []struct{ x, want float64 }{
		{0, 0}, {60.42263719, 60.4226}, {-120.0000001, -120}, {1e-10, 0}, {1.23456789e-6, 1.23457e-6}, {123456789, 123457000},
	} {
		if got := round(c.x); got != c.want {
			t.Errorf("round(%g) = %g, want %g", c.x, got, c.want)
		}
	}
}

// TestNoNumber: what is no number is refused, never written as one.
func TestNoNumber(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if err := Write(&bytes.Buffer{}, Worst{Milliamps: rounded(x)}); err == nil {
			t.Errorf("%g was written", x)
		}
		table := &States{w: &bytes.Buffer{}, points: []statesPoint{{}}, words: map[string][]byte{}}
		if err := table.Row(analysis.Row{Readings: []analysis.Reading{{Milliamps: x}}}); err == nil {
			t.Errorf("%g was written in a row", x)
		}
	}
	if finite(math.Inf(1)) != nil {
		t.Error("what never ends is not null")
	}
}

// TestShowAll: what a terminal would act upon is spelt out, and reads back as it was.
func TestShowAll(t *testing.T) {
	for _, s := range []string{"B+ µΩ", "a\u009bb", "\u202eab", "\u200b", "<&>", "\U000e0101"} {
		got := quote(s)
		var back string
		if err := json.Unmarshal(got, &back); err != nil || back != s {
			t.Errorf("quote(%q) = %s reads back as %q, %v", s, got, back, err)
		}
		if text := string(got); netlist.Visible(text) != text {
			t.Errorf("quote(%q) = %q has what does not show", s, text)
		}
	}
	if got := string(quote("<&>")); got != `"<&>"` {
		t.Errorf("quote(<&>) = %s", got)
	}
}

// TestStatesIsWhole: the rows written one by one make one JSON document with the keys of a row,
// also where there is no row.
func TestStatesIsWhole(t *testing.T) {
	c := analysistest.Of(t, `
[set]
name = "Test \"set\""
[nodes]
"chassis é" = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
S1 = { kind = "switch", poles = [["line 1", "a"], ["line 2", "b"]] }
R1 = { kind = "resistor", ends = ["a", "chassis é"], value = "100k" }
R2 = { kind = "resistor", ends = ["b", "chassis é"], value = "100k" }
`)
	for _, stop := range []int{0, 1, -1} {
		var b bytes.Buffer
		table, err := NewStates(&b, c, "mains", []int{0})
		if err != nil {
			t.Fatal(err)
		}
		rows := 0
		c.EachState(1, analysis.Filter{}, func(row analysis.Row) bool {
			if rows == stop {
				return false
			}
			rows++
			return table.Row(row) == nil
		})
		if err := table.Close(); err != nil {
			t.Fatal(err)
		}
		checkStates(t, &b, rows, stop < 0)
	}
}

// checkStates holds a table of states to be whole, of so many rows; all of them have a stuck pole.
func checkStates(t *testing.T, b *bytes.Buffer, rows int, all bool) {
	t.Helper()
	var got struct {
		Format int
		Set    Set
		States []struct {
			Plug      string
			Switches  map[string]string
			Rectifier *string
			Faults    []Fault
			Cleared   *bool
			Points    []struct {
				Node       string
				Volts_open *float64
			}
		}
	}
	if err := json.NewDecoder(b).Decode(&got); err != nil {
		t.Fatal(err)
	}
	if got.Format != Format || got.Set.Name != `Test "set"` || got.Set.Supply != "mains" || len(got.States) != rows {
		t.Errorf("got %+v, want %d rows", got, rows)
	}
	stuck := false
	for _, s := range got.States {
		if s.Plug == "" || s.Switches["S1"] == "" || s.Rectifier == nil || s.Cleared == nil || len(s.Points) != 1 || s.Points[0].Volts_open == nil {
			t.Fatalf("row %+v lacks something", s)
		}
		for _, f := range s.Faults {
			stuck = stuck || f.Fault == "stuck" && len(f.Between) == 2
		}
	}
	if all && !stuck {
		t.Error("no stuck pole with its two nodes")
	}
}

// TestReworkSaysHowFar: JSON of a change says up to how many failures at once its outcome was looked
// at, and from which step on the stages were not, where some were not.
func TestReworkSaysHowFar(t *testing.T) {
	c := analysistest.Of(t, `
[set]
name = "Test set"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
R1 = { kind = "resistor", ends = ["line 1", "line 2"], value = "1k" }
C1 = { kind = "capacitor", ends = ["line 2", "chassis"], value = "0.1 uF", type = "film" }
`)
	report := func(faults int) *rules.Report { return rules.Check(c, analysis.Options{Faults: faults}) }
	for _, faults := range []int{1, 2} {
		change := rework.Compare(report(3-faults), report(faults))
		got := OfRework(change)
		if got.Searched != faults {
			t.Errorf("searched %d, want %d", got.Searched, faults)
		}
		proposals := OfProposals(&propose.Proposals{Report: report(2), Plans: []propose.Proposal{{Plan: &plan.Plan{}, Comparison: change}}})
		if len(proposals.Proposals) != 1 || proposals.Proposals[0].Searched != faults {
			t.Errorf("proposals %+v, want one with searched %d", proposals.Proposals, faults)
		}
		for _, from := range []int{0, 3} {
			change.Unexamined = from
			var b bytes.Buffer
			if err := Write(&b, OfRework(change)); err != nil {
				t.Fatal(err)
			}
			if told := strings.Contains(b.String(), `"unlooked_from": 3`); told != (from == 3) || strings.Contains(b.String(), "unlooked_from") != told {
				t.Errorf("not looked at from step %d on: %s", from, &b)
			}
		}
	}
}
