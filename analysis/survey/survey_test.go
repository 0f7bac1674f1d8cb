package survey

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/settest"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
)

// A path is said to bring current only where it is closed, current startles, and no breaker opens; and
// wherever a hand feels something, some path that is drawn brings most of any to it.
func TestPathsAgreeWithFigures(t *testing.T) {
	brought := 0
	eachTarget(t, func(name string, s *Survey, target int) {
		for c := range s.FaultSets {
			for n := range s.States {
				p := Place{c, n}
				e := s.At(p, target)
				any := slices.Contains(e.Paths, Brings)
				switch {
				case any && (e.Cleared || e.Severity() < leastBrought):
					t.Errorf("%s, %s: a path brings nothing", name, s.stateName(p))
				case !any && !e.Cleared && e.Class() > analysis.UnderLimit && !s.onHot(target, e):
					t.Errorf("%s, %s: %.3g mA and no path", name, s.stateName(p), e.Milliamps)
				case e.Unexplained:
					t.Errorf("%s, %s: by a way that is not drawn", name, s.stateName(p))
				}
				for k, state := range e.Paths {
					if state != Brings {
						continue
					}
					brought++
					for _, i := range s.Targets[target].Paths[k].Branches {
						if e.Levels[i] == NoCurrent || e.Branches[i] == Open {
							t.Errorf("%s, %s: %v is in a path that brings current, at level %d", name, s.stateName(p), s.Targets[target].Branches[i].Parts, e.Levels[i])
						}
					}
				}
			}
		}
	})
	if brought == 0 {
		t.Error("no path brings anything")
	}
}

// onHot reports whether a target is the hot blade itself.
func (s *Survey) onHot(target int, e *Evaluation) bool {
	hot, _ := s.Circuit.Blades(e.State.Plug)
	return s.Targets[target].Node == hot
}

// What is drawn of a hand's current obeys Kirchhoff's law at every node, and never comes to more than the
// whole.
func TestCurrentIsConserved(t *testing.T) {
	nodes := 0
	eachTarget(t, func(name string, s *Survey, target int) {
		nodes += conserved(t, name, s, target)
	})
	if nodes < 1000 {
		t.Errorf("%d nodes looked at", nodes)
	}
}

func conserved(t *testing.T, name string, s *Survey, target int) (nodes int) {
	t.Helper()
	x := s.Targets[target]
	for c := range s.FaultSets {
		for n := range s.States {
			e := s.At(Place{c, n}, target)
			carried := make([]float64, len(x.Branches))
			net, ends, sum := map[string]float64{}, map[string]float64{}, 0.0
			for k, p := range x.Paths {
				sum += e.Shares[k]
				ends[p.From] += e.Shares[k]
				ends[x.Node] -= e.Shares[k]
				for j, i := range p.Branches {
					carried[i] += e.Shares[k]
					net[p.Nodes[j]] += e.Shares[k]
					net[p.Nodes[j+1]] -= e.Shares[k]
				}
			}
			if sum > 1+1e-6 {
				t.Errorf("%s, %s: %g of the hand's current is drawn", name, s.stateName(Place{c, n}), sum)
			}
			for node, out := range net {
				nodes++
				if math.Abs(out-ends[node]) > 1e-9 {
					t.Errorf("%s, %s: at %s %g is left over", name, s.stateName(Place{c, n}), node, out-ends[node])
				}
			}
			for i, share := range carried {
				if e.Levels[i] != levelOf(share) {
					t.Errorf("%s, %s: %v carries %g and is drawn at %d", name, s.stateName(Place{c, n}), x.Branches[i].Parts, share, e.Levels[i])
				}
			}
			for k, blade := range x.Blades() {
				if blade != x.Node && e.Blades[k] != levelOf(ends[blade]) {
					t.Errorf("%s, %s: from %s comes %g and it is drawn at %d", name, s.stateName(Place{c, n}), blade, ends[blade], e.Blades[k])
				}
			}
		}
	}
	return nodes
}

// A set of too many states keeps the supply's faults, and says how many are left out.
func TestTooManyStates(t *testing.T) {
	var b strings.Builder
	b.WriteString("format = 1\n[set]\nname = \"switches\"\n[nodes]\nchassis = { touch = \"chassis\" }\nantenna = { touch = \"antenna\" }\n[parts]\nPL1 = { kind = \"plug\", ends = [\"line 1\", \"line 2\"] }\n")
	last := "line 1"
	for i := range 10 {
		name := string(rune('a' + i))
		b.WriteString("S" + name + " = { kind = \"switch\", ends = [\"" + last + "\", \"n" + name + "\"] }\n")
		b.WriteString("R" + name + " = { kind = \"resistor\", ends = [\"n" + name + "\", \"line 2\"], value = \"20k\" }\n")
		last = "n" + name
	}
	b.WriteString("C1 = { kind = \"capacitor\", ends = [\"" + last + "\", \"chassis\"], value = \"0.01 uF\", rating = \"400 V\" }\nC2 = { kind = \"capacitor\", ends = [\"chassis\", \"antenna\"], value = \"0.01 uF\", rating = \"400 V\" }\n")
	s := surveyOf(t, b.String())
	if s.Dropped == 0 {
		t.Fatal("nothing was left out")
	}
	lost := slices.ContainsFunc(s.FaultSets, func(f Faults) bool { return f.Has(analysis.NeutralLost) })
	if !lost {
		t.Error("the lost neutral was left out")
	}
	if n := len(s.FaultSets) * len(s.States) * len(s.Targets); n > entriesMost {
		t.Errorf("%d entries", n)
	}
}

// A fuse that the line's short opens leaves the set on the other leg: what is felt then is what the
// state comes to, and not that a breaker opens.
func TestBlownFuseLeavesMetalLive(t *testing.T) {
	s := surveyOf(t, `
[set]
name = "fuse in one leg"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", style = "polarized", hot = "hot", neutral = "neutral" }
F1 = { kind = "fuse", ends = ["neutral", "chassis"], amps = 1 }
R1 = { kind = "resistor", ends = ["hot", "chassis"], value = 800 }
C1 = { kind = "capacitor", ends = ["hot", "chassis"], value = "0.1 uF", type = "film" }
`)
	n := slices.IndexFunc(s.FaultSets, func(f Faults) bool { return len(f) == 1 && f[0].Part == "C1" })
	e := s.At(Place{Faults: n}, 0)
	if e.Cleared || !slices.Equal(e.State.Blown, []string{"F1"}) || math.Abs(e.Milliamps-60.4) > 0.1 {
		t.Errorf("with C1 shorted and F1 blown: cleared %v, blown %v, %g mA", e.Cleared, e.State.Blown, e.Milliamps)
	}
}

// The same holds of sets that are drawn at random: wherever something is felt a way that brings it is drawn,
// and what is drawn is conserved.
func TestRandomSetsAreExplained(t *testing.T) {
	felt := 0
	settest.Check(t, 25, func(rt *rapid.T) {
		text := settest.Draw(rt, settest.Limits{Parts: [2]int{4, 12}, Switches: 1, Controls: 1, Sections: 1, Failed: true}).Text()
		c, err := analysis.New(settest.Load(rt, text), analysis.Bench{})
		if err != nil {
			rt.Fatal(err)
		}
		r := rules.Check(c, analysis.Options{Faults: 1})
		var nodes []string
		for _, m := range r.Case.Metals {
			nodes = append(nodes, m.Node())
		}
		s := New(c, r.Case.Result, nodes)
		for target := range s.Targets {
			for f := range s.FaultSets {
				for n := range s.States {
					e := s.At(Place{f, n}, target)
					if e.Class() > analysis.UnderLimit && !e.Cleared {
						felt++
					}
					if e.Unexplained {
						rt.Errorf("%s, %s: by a way that is not drawn\n%s", s.Targets[target].Node, s.stateName(Place{f, n}), text)
					}
				}
			}
			conserved(t, "random", s, target)
		}
	})
	if felt == 0 {
		t.Error("nothing is ever felt")
	}
}

// With a control turned away from rest a survey reads, in every state, what the engine's table has for that state, and
// the survey of that state alone; and each control of the examples is turned everywhere it can stand.
func TestTurnedControls(t *testing.T) {
	states := 0
	for _, e := range examples.Sets() {
		s := exampleSurvey(t, e.Name)
		places := 0
		for _, control := range s.Circuit.Controls {
			places += len(control.Positions) - 1
		}
		if len(s.Turned) != places {
			t.Errorf("%s: %d places away from rest, want %d", e.Name, len(s.Turned), places)
		}
		var nodes []string
		for _, target := range s.Targets {
			nodes = append(nodes, target.Node)
		}
		for n := s.FirstTurned(); n < len(s.FaultSets); n++ {
			for i := range s.States {
				p := Place{n, i}
				state := s.State(p)
				if got := len(phrase.TurnedAway(state.Controls)); got != 1 || state.Plug != s.States[i].Plug || !slices.Equal(state.Settings, s.States[i].Settings) {
					t.Fatalf("%s: %s turns %d controls", e.Name, s.stateName(p), got)
				}
				alone := Of(s.Circuit, nodes, state)
				rows := s.Circuit.JudgedAt([]int{state.Position})
				for k, point := range s.points() {
					states++
					got := s.At(p, k)
					if want := alone.At(Place{}, k); got.Reading != want.Reading || got.Cleared != want.Cleared {
						t.Errorf("%s, %s, %s: %v, alone %v", e.Name, nodes[k], s.stateName(p), got.Reading, want.Reading)
					}
					most := 0.0
					for _, row := range rows {
						if row.State.Plug == state.Plug {
							most = max(most, row.Readings[point].Severity())
						}
					}
					if math.Abs(got.Severity()-most) > 1e-9*most {
						t.Errorf("%s, %s, %s: %g of what startles, in the table %g", e.Name, nodes[k], s.stateName(p), got.Severity(), most)
					}
				}
			}
		}
	}
	if states < 100 {
		t.Errorf("%d states", states)
	}
}

// A volume control whose wiper goes to a jack: turned down it brings the line there, and the way by which it does is told.
func TestTurnedDownBringsTheLine(t *testing.T) {
	s := exampleSurvey(t, "tape-jack")
	tip := slices.IndexFunc(s.Targets, func(x *Target) bool { return x.Node == "jack tip" })
	p, found := s.WorstNormally()
	e := s.At(p, tip)
	if !found || !s.Sound(p.Faults) || e.Class() != analysis.Live || s.At(Place{0, p.State}, tip).Class() == analysis.Live {
		t.Fatalf("worst with nothing failed: %s, %v", s.stateName(p), e.Reading)
	}
	by := slices.IndexFunc(s.Targets[tip].Paths, func(x *Path) bool {
		return len(x.Branches) == 1 && slices.Equal(s.Targets[tip].Branches[x.Branches[0]].Parts, []string{"R8"})
	})
	if by < 0 || e.Paths[by] != Brings {
		t.Errorf("the way by R8 is %d of %v", by, e.Paths)
	}
}

// byWinding reports whether a path leads by the winding of a transformer, which gives volts of its own.
func (t *Target) byWinding(p *Path) bool {
	return slices.ContainsFunc(p.Branches, func(b int) bool {
		return t.circuit.Set.Part(t.Branches[b].Parts[0]).Kind == netlist.KindTransformer
	})
}

// With alternating current alone, what is felt comes from a side of the supply that has volts to earth, never from the one
// that is at earth: not where a coil's current goes round with a capacitor's either.
func TestCurrentComesFromTheHotSide(t *testing.T) {
	brought := 0
	hold := func(name string, s *Survey) {
		if s.Circuit.Floating() || s.Circuit.BothHot() {
			return
		}
		for n := range s.FaultSets {
			for i := range s.States {
				p := Place{n, i}
				for k, target := range s.Targets {
					e := s.At(p, k)
					if e.MilliampsDC > leastDirect/4*e.Milliamps {
						continue
					}
					hot, _ := s.Circuit.Blades(e.State.Plug)
					for w, does := range e.Paths {
						if does != Brings {
							continue
						}
						brought++
						if from := target.Paths[w].From; from != hot && !target.byWinding(target.Paths[w]) {
							t.Errorf("%s, %s, %s: brought from %s, and hot is %s", name, target.Node, s.stateName(p), from, hot)
						}
					}
				}
			}
		}
	}
	for _, e := range examples.Sets() {
		hold(e.Name, exampleSurvey(t, e.Name))
	}
	if brought < 1000 {
		t.Errorf("%d ways", brought)
	}
}

// A coil's current goes round with that of a capacitor to the metal: the way to the metal is by the capacitor alone.
func TestWayPastACoil(t *testing.T) {
	s := surveyOf(t, settest.With(`PL1 = { kind = "plug", ends = ["line 1", "line 2"] }
L1 = { kind = "coil", ends = ["line 1", "line 2"], ohms = 20, henries = 0.4 }
C1 = { kind = "capacitor", ends = ["line 2", "chassis"], value = "10 nF" }`, "chassis"))
	for i, state := range s.States {
		if state.Plug == analysis.AsMarked {
			continue
		}
		e := s.At(Place{0, i}, 0)
		for k, does := range e.Paths {
			var parts []string
			for _, b := range s.Targets[0].Paths[k].Branches {
				parts = append(parts, s.Targets[0].Branches[b].Parts...)
			}
			if by := slices.Equal(parts, []string{"C1"}); by != (does == Brings) {
				t.Errorf("%v: %d", parts, does)
			}
		}
	}
}

// TestReservoirHoldsNothingBack: a reservoir holds its voltage while a rectifier conducts. A way in which nothing else
// stands is not told as held back then, and where none conducts it is.
func TestReservoirHoldsNothingBack(t *testing.T) {
	conducting, blocking := 0, 0
	eachTarget(t, func(name string, s *Survey, target int) {
		at := s.Targets[target]
		for place := range len(s.FaultSets) * len(s.States) {
			p := Place{place / len(s.States), place % len(s.States)}
			e := s.At(p, target)
			for i, way := range at.Paths {
				reservoirs, others := 0, 0
				for _, k := range way.Branches {
					b := at.Branches[k]
					if !b.Safeguard() || e.Branches[k] == Broken {
						continue
					}
					if d, is := s.Circuit.Set.Part(b.Parts[0]).Detail.(*netlist.Capacitor); is && d.Farads >= 5e-6 {
						reservoirs++
					} else {
						others++
					}
				}
				if reservoirs == 0 || others > 0 || e.Paths[i] != HeldBack && e.Paths[i] != Idle {
					continue
				}
				conducts := e.Drawn.Rectifier != ""
				if held := e.Paths[i] == HeldBack; held == conducts {
					t.Errorf("%s, %s: way %d is held back %v by a reservoir alone, %q conducting", name, s.stateName(p), i+1, held, e.Drawn.Rectifier)
				}
				if conducts {
					conducting++
				} else {
					blocking++
				}
			}
		}
	})
	if conducting == 0 || blocking == 0 {
		t.Errorf("%d ways with a rectifier conducting, %d with none", conducting, blocking)
	}
}

// TestWeightOf: to explain a state that is live matters ten times as much as one that startles, beside what more
// current does, each safeguard that has to fail makes it matter a tenth, and so does it that anything has to.
func TestWeightOf(t *testing.T) {
	at := func(milliamps float64) *Evaluation {
		return &Evaluation{Reading: analysis.Reading{VoltsOpen: 120, VoltsMeter: 120, Milliamps: milliamps}}
	}
	if live := at(5.5); live.Class() != analysis.Live || at(4.5).Class() != analysis.Startles {
		t.Fatalf("5.5 mA is of class %v, 4.5 mA %v", live.Class(), at(4.5).Class())
	}
	settest.Near(t, "live over startling", weightOf(at(5.5), nil)/weightOf(at(4.5), nil), 10*(1+5.5/5)/(1+4.5/5), 1e-9)
	failed := Faults{{Part: "C1", Kind: analysis.Shorted, Cost: 1}}
	settest.Near(t, "nothing failed over one safeguard", weightOf(at(5.5), nil)/weightOf(at(5.5), failed), 100, 1e-9)
}

// TestFailuresTogether: two failures that make metal live together are among what a page shows, without the knob that
// has to be off besides.
func TestFailuresTogether(t *testing.T) {
	s := surveyOf(t, "[set]\nname = \"a sum\"\n[nodes]\nshaft = { touch = \"control\", guard = \"knob\" }\n[parts]\nPL1 = { kind = \"plug\", hot = \"L\", neutral = \"N\" }\n"+
		`I1 = { kind = "insulation", ends = ["L", "bracket"], grade = "functional" }
I2 = { kind = "insulation", ends = ["bracket", "shaft"], grade = "basic" }
`)
	pairs := 0
	for _, faults := range s.FaultSets {
		if faults.Has(analysis.GuardOff) {
			t.Errorf("%v takes a knob off", faults)
		}
		if len(faults) == 2 && faults[0].Part == "I1" && faults[1].Part == "I2" {
			pairs++
		}
	}
	if pairs != 1 {
		t.Errorf("I1 and I2 fail together %d times", pairs)
	}
	// The walk ends with them.
	steps := s.Walk(0)
	last := steps[len(steps)-1]
	if last.Kind != SeveralFailed || len(s.FaultSets[last.At.Faults]) != 2 || s.At(last.At, 0).Class() != analysis.Live {
		t.Errorf("the last of %d steps is %+v", len(steps), last)
	}
}
