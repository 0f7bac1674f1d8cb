package live

import (
	"math"
	"net/http"
	"slices"
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/survey"
	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

// circuitIn is a set of its own on a bench of gear, for what the engine says of it.
func circuitIn(t testing.TB, text string, gear analysis.Bench) *analysis.Circuit {
	t.Helper()
	c, err := analysis.New(settest.Load(t, text), gear)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// askedOf is a state as a page asks for it.
func askedOf(c *circuitOf, s analysis.State) asked {
	a := asked{Plug: string(s.Plug), Settings: map[string]string{}}
	for _, x := range slices.Concat(s.Settings, s.Controls) {
		a.Settings[x.Name] = x.At
	}
	for _, f := range s.Faults {
		a.Faults = append(a.Faults, c.faultNames()[f.Index])
	}
	return a
}

// TestStatesAreTheTables: for every state with one failure or none, the bench has the rows of the table of states, and shows at each piece of metal the worst that is read at one of its points in any row that no
// breaker clears.
func TestStatesAreTheTables(t *testing.T) {
	for name, gear := range map[string]analysis.Bench{"line-bypass-leaky": {}, "guitar-amplifier": {}, "three-way-portable": {Earthed: []string{"chassis"}}} {
		t.Run(name, func(t *testing.T) {
			text := exampleText(t, name)
			c := circuitIn(t, text, gear)
			x := open(t, text)
			states := map[string][]analysis.Row{}
			var order []string
			names := &circuitOf{Circuit: c}
			c.EachState(1, analysis.Filter{}, func(row analysis.Row) bool {
				row.Readings, row.State.Faults = slices.Clone(row.Readings), slices.Clone(row.State.Faults)
				at := row.State
				at.Rectifier = ""
				key := phraseKey(names, at)
				if states[key] == nil {
					order = append(order, key)
				}
				states[key] = append(states[key], row)
				return true
			})
			every := 1
			if len(gear.Earthed) > 0 || testing.Short() {
				every = 10 // of two sets all of them, of the third, on a bench, a tenth
			}
			for i, key := range order {
				if i%every != 0 {
					continue
				}
				rows := states[key]
				a := askedOf(names, rows[0].State)
				a.Isolated, a.Earthed = gear.Isolated, gear.Earthed
				got := post[stateAnswer](x, "state", a)
				got.Rows = slices.DeleteFunc(got.Rows, func(r stateRow) bool { return len(r.Blown) > 0 })
				if len(got.Dropped) > 0 || len(got.Rows) != len(rows) {
					t.Fatalf("%s: %+v, want %+v; dropped %q", key, got.Rows, rows, got.Dropped)
				}
				for k, row := range rows {
					if got.Rows[k].Rectifier != row.State.Rectifier || got.Rows[k].Cleared != row.Cleared {
						t.Errorf("%s: row %d is %+v", key, k, got.Rows[k])
					}
					for p, r := range row.Readings {
						if !same(got.Rows[k].Points[p], figuresOf(r)) {
							t.Errorf("%s, %s: %+v, want %+v", key, c.Points[p].Name, got.Rows[k].Points[p], r)
						}
					}
				}
				worstShown(t, key, c, &got, rows)
			}
		})
	}
}

func phraseKey(c *circuitOf, s analysis.State) string {
	a := askedOf(c, s)
	key := a.Plug
	for _, x := range slices.Concat(s.Settings, s.Controls) {
		key += " " + x.Name + "=" + x.At
	}
	for _, f := range a.Faults {
		key += " " + f
	}
	return key
}

func same(a, b pointFigures) bool {
	const none = 1e-6 // V, mA: rounding, where a clip or a short leaves nothing
	near := func(x, y float64) bool { return math.Abs(x-y) <= none+1e-6*math.Abs(y) }
	return near(a.VoltsOpen, b.VoltsOpen) && near(a.VoltsMeter, b.VoltsMeter) && near(a.Milliamps, b.Milliamps) && near(a.VoltsDC, b.VoltsDC) && near(a.MilliampsDC, b.MilliampsDC)
}

// worstShown holds the cards against the rows of the table.
func worstShown(t *testing.T, key string, c *analysis.Circuit, got *stateAnswer, rows []analysis.Row) {
	t.Helper()
	points := 0
	for _, card := range got.Cards {
		points += len(card.Points)
		shown := analysis.Reading{VoltsOpen: card.VoltsOpen, VoltsMeter: card.VoltsMeter, Milliamps: card.Milliamps, VoltsDC: card.VoltsDC, MilliampsDC: card.MilliampsDC}
		for _, name := range card.Points {
			k := slices.IndexFunc(c.Points, func(p analysis.TouchPoint) bool { return netlist.Visible(p.Name) == name })
			if k < 0 {
				t.Fatalf("%s: no point %q", key, name)
			}
			for _, row := range rows {
				r := row.Readings[k]
				if !row.Cleared && !got.Cleared && (r.Class() > shown.Class() || r.Class() == shown.Class() && r.Severity() > 1.02*shown.Severity()) {
					t.Errorf("%s: %s shows %+v, and %s reads %+v", key, card.Name, shown, name, r)
				}
			}
		}
	}
	if points != len(c.Points) {
		t.Errorf("%s: %d points are on cards, of %d", key, points, len(c.Points))
	}
}

// TestDrawnWhatIsLive: in every state with one failure or two of a hot chassis, each piece of metal at which something is
// felt has a way drawn that brings it.
func TestDrawnWhatIsLive(t *testing.T) {
	c, err := newCircuit("", circuitIn(t, exampleText(t, "hot-chassis"), analysis.Bench{}).Set, analysis.Bench{})
	if err != nil {
		t.Fatal(err)
	}
	felt := 0
	for i, f := range c.Faults {
		for k, g := range c.Faults[i:] {
			if (i+k)%31 != 0 || analysis.Contradictory(f, g) {
				continue
			}
			faults := []*analysis.Fault{f}
			if g != f {
				faults = append(faults, g)
			}
			for _, at := range c.NormalAtRest() {
				state := at.WithFaults(faults...)
				var nodes []string
				for _, p := range c.Points {
					nodes = append(nodes, p.Name)
				}
				s := survey.Of(c.Circuit, nodes, state)
				hot, _ := c.Blades(state.Plug)
				for n := range nodes {
					e := s.At(survey.Place{}, n)
					if e.Cleared || e.Class() == analysis.UnderLimit || nodes[n] == hot {
						continue
					}
					if felt++; !slices.Contains(e.Paths, survey.Brings) {
						t.Errorf("%s with %v: at %s %+v, and no way is drawn that brings it", phraseKey(c, state), faults, nodes[n], e.Reading)
					}
				}
			}
		}
	}
	if felt < 50 {
		t.Errorf("something is felt in only %d states", felt)
	}
}

// TestSettable: what a page may ask for, and what it may not.
func TestSettable(t *testing.T) {
	x := open(t, exampleText(t, "hot-chassis"))
	all := post[stateAnswer](x, "state", asked{})
	if len(all.Controls.Faults) < 20 || len(all.Controls.Switches) != 2 || len(all.Controls.Plugs) != 2 || len(all.Controls.Parts) != 39 {
		t.Fatalf("%+v", all.Controls)
	}
	seen := map[string]bool{}
	for _, f := range all.Controls.Faults {
		if seen[f.Value] || f.Group == "" || f.Label == "" {
			t.Errorf("failure %+v", f)
		}
		seen[f.Value] = true
	}
	three := post[stateAnswer](x, "state", asked{Faults: []string{"C3 shorted", "supply neutral-lost", "C2 open", "C3 shorted"}})
	if len(three.Controls.Set.Faults) == 0 || len(three.Controls.Set.Faults)+len(three.Dropped) != 3 {
		t.Errorf("%+v, dropped %q", three.Controls.Set, three.Dropped)
	}
	gone := post[stateAnswer](x, "state", asked{Faults: []string{"C99 shorted"}, Settings: map[string]string{"S1": "sideways", "S7": "off"}, Earthed: []string{"nowhere"}})
	if len(gone.Dropped) != 4 || len(gone.Cards) != len(all.Cards) {
		t.Errorf("dropped %q", gone.Dropped)
	}
	pulled, other := "", ""
	for _, f := range all.Controls.Faults {
		if f.Group == ofTubes {
			pulled = f.Value
		}
	}
	for _, f := range all.Controls.Faults {
		if f.Value != pulled && strings.HasPrefix(f.Value, strings.TrimSuffix(pulled, "pulled")) {
			other = f.Value
		}
	}
	for _, c := range []struct {
		body, words string
	}{
		{`{"faults": ["C1 shorted", "C2 shorted", "C3 shorted", "C4 shorted"]}`, "3 failures at once"},
		{`{"faults": ["` + pulled + `", "` + other + `"]}`, "cannot be together"},
	} {
		x.refused(x.request("state", []byte(c.body)), http.StatusUnprocessableEntity, c.words)
	}
	earthed := post[stateAnswer](x, "state", asked{Plug: "reversed", Earthed: []string{"chassis"}})
	bare := post[stateAnswer](x, "state", asked{Plug: "reversed"})
	if bare.Cards[0].Band != 2 || earthed.Cards[0].Milliamps >= bare.Cards[0].Milliamps && !earthed.Cleared {
		t.Errorf("bare %+v, earthed %+v", bare.Cards[0].pointFigures, earthed.Cards[0].pointFigures)
	}
	if isolated := post[stateAnswer](x, "state", asked{Plug: "reversed", Isolated: true}); isolated.Cards[0].Milliamps >= bare.Cards[0].Milliamps {
		t.Errorf("isolated %+v", isolated.Cards[0].pointFigures)
	}
}

// TestWorstStates: the two buttons lead to states that read as the report says.
func TestWorstStates(t *testing.T) {
	x := open(t, exampleText(t, "hot-chassis"))
	f := post[findingsAnswer](x, "findings", struct{}{})
	if f.Everyday == nil || f.OneFailure == nil || len(f.Tally) == 0 || len(f.Depths) == 0 {
		t.Fatalf("%+v", f)
	}
	everyday, one := post[stateAnswer](x, "state", f.Everyday), post[stateAnswer](x, "state", f.OneFailure)
	most := func(a stateAnswer) (most float64) {
		for _, c := range a.Cards {
			most = max(most, c.Milliamps)
		}
		return most
	}
	if len(everyday.Controls.Set.Faults) != 0 || most(everyday) < 50 {
		t.Errorf("everyday %.3g mA, %+v", most(everyday), everyday.Controls.Set)
	}
	var worst *analysis.Worst
	for _, p := range x.files.now().report().Case.Result.Points {
		if p.OneFault.WorseThan(worst) {
			worst = p.OneFault
		}
	}
	shown := slices.ContainsFunc(one.Cards, func(c card) bool { return same(c.pointFigures, figuresOf(worst.Reading)) })
	if len(one.Controls.Set.Faults) != 1 || !shown {
		t.Errorf("with one failure %+v, the report has %+v; %+v", one.Cards, worst.Reading, one.Controls.Set)
	}
}
