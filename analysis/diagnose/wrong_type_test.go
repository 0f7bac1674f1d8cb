package diagnose

import (
	"math/rand/v2"
	"slices"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist"
	"coldcheck/netlist/setfile"
)

// Every type that is tried in a socket fits it and lights there, and no two of one socket read alike.
func TestWrongTypesFitTheSocket(t *testing.T) {
	sockets, types := 0, 0
	playingExamples(t, func(set *netlist.Set, _ []WorkingLine) {
		for _, p := range set.Parts {
			all := wrongTypes(set, p)
			if len(all) == 0 {
				continue
			}
			sockets++
			right, told := p.Detail.(*netlist.Tube).Type, map[string]bool{}
			for _, v := range all {
				types++
				wrong, _ := setfile.FindTubeType(v.Type)
				if wrong.Base != right.Base || wrong.Heater.Amps != right.Heater.Amps && wrong.Heater.Volts != right.Heater.Volts {
					t.Errorf("%s in the place of %s", wrong.Name, right.Name)
				}
				if key := reads(wrong); told[key] || key == reads(right) {
					t.Errorf("%s, %s: reads like another", p.Name, wrong.Name)
				} else {
					told[key] = true
				}
			}
		}
	})
	if sockets < 20 || types < 50 {
		t.Errorf("%d types in %d sockets", types, sockets)
	}
}

// A tube of other heater volts in a string is found by the volts of the heaters: its socket comes among the first
// three.
func TestWrongTypeIsFoundByHeaterVolts(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	planted, found := 0, 0
	playingExamples(t, func(set *netlist.Set, _ []WorkingLine) {
		l := Checks(analysistest.New(t, set, analysis.Bench{}))
		var lines []WorkingLine
		for _, h := range l.Heaters {
			lines = append(lines, WorkingLine{Check: h.Check})
		}
		if len(lines) < 3 {
			return
		}
		for i, p := range set.Parts {
			d, ok := p.Detail.(*netlist.Tube)
			if !ok || i%4 != 1 { // every fourth part, for time
				continue
			}
			all := wrongTypes(set, p)
			k := slices.IndexFunc(all, func(v variant) bool {
				wrong, _ := setfile.FindTubeType(v.Type)
				return wrong.Heater.Volts > 2*d.Type.Heater.Volts || wrong.Heater.Volts < d.Type.Heater.Volts/2
			})
			if k < 0 {
				continue
			}
			asPlayed(t, set, all[k].set, lines, r)
			a := Explain(analysistest.New(t, set, analysis.Bench{}))
			set.Readings = nil
			if a.Agree() {
				continue // across a winding of its own volts, it takes other amps alone
			}
			planted++
			place := slices.IndexFunc(a.Explanations, func(e Explanation) bool { return e.Kind == WrongType && e.Part == p.Name })
			if place >= 0 && place < 3 {
				found++
			} else {
				t.Logf("%s: %s in the place of %s is at %d of %s", set.Name, all[k].Type, d.Type.Name, place, names(a.Explanations))
			}
		}
	})
	if planted < 8 || found < planted*9/10 {
		t.Errorf("%d of %d are among the first three", found, planted)
	}
}

// A heater with a tap reads otherwise than one without: a lamp across it tells.
func TestTapIsRead(t *testing.T) {
	tapped, _ := setfile.FindTubeType("35W4")
	if tapped == nil || tapped.Heater.Tap == nil {
		t.Fatal("35W4 has no tap")
	}
	heater, plain := *tapped.Heater, *tapped
	heater.Tap = nil
	plain.Heater = &heater
	if reads(tapped) == reads(&plain) {
		t.Error("the tap makes no difference")
	}
}
