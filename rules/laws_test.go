package rules

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist"
	"coldcheck/netlist/setfile"
	"coldcheck/netlist/settest"
)

// Laws that hold for the findings of every set.

// lawful bounds the sets that the laws are held on.
var lawful = settest.Limits{Parts: [2]int{2, 14}, Switches: 2, Controls: 1, Sections: 2, Failed: true}

// ofTouch reports whether a rule's findings say that metal is live, or one failure from it.
func ofTouch(r *Rule) bool {
	return r.Touch() && (r.Subject == OfMetal || r.Subject == OfEarth && r.Live)
}

// ofLive reports whether they say that metal, and not an earth, is live with nothing failed.
func ofLive(r *Rule) bool { return r.Live && r.Subject == OfMetal }

// loudest is the strongest signal that one of some rules gives a node, -1 for none.
func loudest(r *Report, node string, of func(*Rule) bool) Signal {
	best := Signal(-1)
	for i := range r.Findings {
		f := &r.Findings[i]
		if slices.Contains(f.Nodes, node) && of(f.Rule) {
			best = max(best, f.Signal)
		}
	}
	return best
}

// often demands that what a law is about was met often enough to prove something: least times in so
// many sets, and in proportion where fewer were drawn. Of few sets, as for -short, nothing is demanded: there chance has
// too much of a say.
func often(t *testing.T, what string, met, least, drawn, of int) {
	t.Helper()
	const few = 200
	if drawn >= few && met*of < least*min(drawn, of) {
		t.Errorf("%d %s in %d sets prove little", met, what, drawn)
	}
}

// onlyGuard reports whether a fault set is empty but for a guard on which no one can count.
func onlyGuard(set analysis.FaultSet) bool {
	return set.Cost == 0 && !slices.ContainsFunc(set.Faults, func(f *analysis.Fault) bool { return f.Kind != analysis.GuardOff })
}

// mildest is the weakest signal that a touch point of depth 0 or 1 may be told by.
func mildest(c *analysis.Circuit, p *analysis.PointResult) Signal {
	mild := true
	for _, set := range p.FaultSets {
		if onlyGuard(set) {
			return Danger
		}
		if set.Cost > 1 {
			continue
		}
		// Good basic insulation of a winding or a frame is all that has to fail.
		faults := slices.DeleteFunc(slices.Clone(set.Faults), func(f *analysis.Fault) bool { return f.Cost == 0 })
		good := len(faults) == 1 && faults[0].Kind == analysis.InsulationOut && faults[0].Cost == 1 && faults[0].Between != nil &&
			c.Set.Part(faults[0].Part).Condition == netlist.Good
		mild = mild && good
	}
	if mild {
		return Caution
	}
	return Warning
}

// TestNoHazardIsUntold: no point that is live, or one failure from it, is without a finding of
// WARNING or more: DANGER where nothing at all has to fail, CAUTION at least where all that stands is
// good basic insulation of windings or frames.
func TestNoHazardIsUntold(t *testing.T) {
	seen, sets := map[Signal]int{}, 0
	settest.Check(t, 400, func(t *rapid.T) {
		sets++
		text := settest.Draw(t, lawful).Text()
		set := settest.Load(t, text)
		c := analysistest.New(t, set, analysis.Bench(settest.DrawBench(t, set)))
		r := Check(c, analysis.Options{Faults: rapid.IntRange(1, 2).Draw(t, "K")})
		for _, p := range r.Case.Result.Points {
			if p.Depth != 0 && p.Depth != 1 {
				continue
			}
			want := mildest(c, p)
			seen[want]++
			if got := loudest(r, p.Name, ofTouch); got < want {
				t.Fatalf("%s of depth %d by %v is told by signal %d, want %d at least, on %+v\n%s\n%s", p.Name, p.Depth, p.FaultSets[0], got, want, c.Bench, tellAll(r), text)
			}
		}
	})
	for _, s := range []Signal{Danger, Warning} {
		often(t, fmt.Sprintf("points told by %v", s), seen[s], 10, sets, 400)
	}
}

// mildestPair is the weakest signal that a fault set of cost 1 or less of two pieces of metal may be
// told by.
func mildestPair(c *analysis.Circuit, set analysis.FaultSet) Signal {
	return mildest(c, &analysis.PointResult{FaultSets: []analysis.FaultSet{set}})
}

// TestNoHazardHandToHandIsUntold: no two pieces of metal that are live hand to hand, or one failure
// from it, are without a finding: of the two, or of either for whatever makes that one live to earth.
func TestNoHazardHandToHandIsUntold(t *testing.T) {
	seen, sets := map[Signal]int{}, 0
	settest.Check(t, 400, func(t *rapid.T) {
		sets++
		text := settest.Draw(t, lawful).Text()
		set := settest.Load(t, text)
		c := analysistest.New(t, set, analysis.Bench(settest.DrawBench(t, set)))
		r := Check(c, analysis.Options{Faults: rapid.IntRange(1, 2).Draw(t, "K")})
		for _, pair := range r.Case.Result.Between {
			for _, set := range pair.FaultSets {
				if set.Cost > 1 || ownSet(r, pair, set) {
					continue // TestNoHazardIsUntold has those of either metal
				}
				want := mildestPair(c, set)
				seen[want]++
				if got := loudestPair(r, pair); got < want {
					t.Fatalf("%s to %s by %v is told by signal %d, want %d at least, on %+v\n%s\n%s", pair.A.Name, pair.B.Name, set, got, want, c.Bench, tellAll(r), text)
				}
			}
		}
	})
	often(t, "pairs that one failure makes live", seen[Warning], 10, sets, 400)
}

// ownSet reports whether a fault set of a pair holds one of a point of either metal.
func ownSet(r *Report, pair *analysis.PairResult, set analysis.FaultSet) bool {
	for _, m := range r.Case.Metals {
		if nodes := m.Nodes(); !slices.Contains(nodes, pair.A.Name) && !slices.Contains(nodes, pair.B.Name) {
			continue
		}
		for _, p := range m.Points {
			for _, own := range p.FaultSets {
				if !slices.ContainsFunc(own.Faults, func(f *analysis.Fault) bool { return !slices.Contains(set.Faults, f) }) {
					return true
				}
			}
		}
	}
	return false
}

// loudestPair is the strongest signal of a finding that speaks of both metals, -1 for none.
func loudestPair(r *Report, pair *analysis.PairResult) Signal {
	best := Signal(-1)
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Rule == LiveBetween && slices.Contains(f.Nodes, pair.A.Name) && slices.Contains(f.Nodes, pair.B.Name) {
			best = max(best, f.Signal)
		}
	}
	return best
}

func tellAll(r *Report) string {
	var b strings.Builder
	for i := range r.Findings {
		f := &r.Findings[i]
		fmt.Fprintf(&b, "%v %s %v %s\n", f.Signal, f.Rule.Name, f.Nodes, f.Message)
	}
	return b.String()
}

// demanded is the signal that live metal must have: DANGER, behind a guard that holds, or where the
// building earths nothing, WARNING.
func demanded(c *analysis.Circuit, node string) Signal {
	if c.Set.Earthed == netlist.EarthedNowhere {
		return Warning
	}
	for k := range c.Points {
		if p := &c.Points[k]; p.Name == node && p.GuardFault != nil && p.GuardFault.Cost > 0 {
			return Warning
		}
	}
	return Danger
}

// TestWireFromTheLineIsDanger: a wire from a line conductor to any touch point of any set is DANGER,
// behind a guard, or where the building earths nothing, WARNING, also where it shorts the line.
func TestWireFromTheLineIsDanger(t *testing.T) {
	settest.Check(t, 400, func(t *rapid.T) {
		drawn := settest.Draw(t, lawful)
		d := settest.NewDrawer(t)
		blade, point := settest.OneOf(d, "line 1", "line 2"), settest.OneOf(d, drawn.Points...)
		drawn.Parts = append(drawn.Parts, settest.Part{Name: "W99", Kind: "wire", Keys: "ends = " + settest.Nodes(blade, point.Name)})
		text := drawn.Text()
		set := settest.Load(t, text)
		c := analysistest.New(t, set, analysis.Bench(settest.DrawBench(t, set)))
		r := Check(c, analysis.Options{Faults: 1})
		want := demanded(c, point.Name)
		if got := loudest(r, point.Name, ofLive); got < want {
			t.Fatalf("a wire from %s to %s is told by signal %d, want %d, on %+v\n%s\n%s", blade, point.Name, got, want, c.Bench, tellAll(r), text)
		}
	})
}

// TestShortedSafeguardIsDanger: where one safeguard is all that stands, a wire across it is DANGER,
// behind a guard WARNING.
func TestShortedSafeguardIsDanger(t *testing.T) {
	shorted, sets := 0, 0
	settest.Check(t, 400, func(t *rapid.T) {
		sets++
		drawn := settest.Draw(t, settest.Limits{Parts: [2]int{2, 10}, Switches: 1, Controls: 1, Sections: 1})
		c := analysistest.New(t, settest.Load(t, drawn.Text()), analysis.Bench{})
		for _, p := range c.Examine(analysis.Options{Faults: 2}).Points {
			for _, set := range p.FaultSets {
				faults := unguarded(set)
				if len(faults) != 1 || faults[0].Cost != 1 || !c.Safeguard(faults[0]) || faults[0].Kind == analysis.Stuck {
					continue
				}
				shorted++
				with := *drawn
				with.Parts = append(slices.Clone(drawn.Parts), settest.Part{Name: "W99", Kind: "wire", Keys: "ends = " + settest.Nodes(faults[0].Nodes[0], faults[0].Nodes[1])})
				text := with.Text()
				short := analysistest.New(t, settest.Load(t, text), analysis.Bench{})
				r := Check(short, analysis.Options{Faults: 1})
				if got, want := loudest(r, p.Name, ofTouch), demanded(short, p.Name); got < want {
					t.Fatalf("%s with a wire across %v is told by signal %d, want %d\n%s\n%s", p.Name, faults[0], got, want, tellAll(r), text)
				}
				break
			}
		}
	})
	often(t, "safeguards that are all that stands", shorted, 50, sets, 400)
}

// fewestSafeguards is the least count of safeguards on any way from either blade to a node, over all
// normal states; -1 where there is no way.
func fewestSafeguards(c *analysis.Circuit, node string) int {
	least := -1
	for _, state := range c.Normal() {
		w := c.Wiring(state)
		hot, _ := c.Blades(state.Plug)
		if p, ok := w.Shortest(hot, node, analysis.Query{}); ok && (least < 0 || p.Cost() < least) {
			least = p.Cost()
		}
	}
	return least
}

// TestSafeguardInSeriesLowersNothing: a safeguard put in series with one end of any part never
// lowers the count of safeguards between the line and any touch point.
func TestSafeguardInSeriesLowersNothing(t *testing.T) {
	raised, sets := 0, 0
	settest.Check(t, 200, func(t *rapid.T) {
		sets++
		drawn := settest.Draw(t, lawful)
		before := analysistest.New(t, settest.Load(t, drawn.Text()), analysis.Bench{})
		d := settest.NewDrawer(t)
		k := 1 + d.N(len(drawn.Parts)-1)
		nodes := regexp.MustCompile(`‹[^›]*›`).FindAllStringIndex(drawn.Parts[k].Keys, -1)
		at := settest.OneOf(d, nodes...)
		keys := drawn.Parts[k].Keys
		node := strings.Trim(keys[at[0]:at[1]], "‹›")
		with := *drawn
		with.Parts = slices.Clone(drawn.Parts)
		with.Parts[k].Keys = keys[:at[0]] + "‹between›" + keys[at[1]:]
		with.Parts = append(with.Parts, settest.Part{Name: "C99", Kind: "capacitor", Keys: "ends = " + settest.Nodes("between", node) + `, value = "1 nF", class = "Y2", type = "ceramic"`})
		set, err := setfile.Load("set.toml", strings.NewReader(with.Text()))
		if err != nil {
			t.Skip("positive of a capacitor stays behind, or a touch point has no part left")
		}
		after := analysistest.New(t, set, analysis.Bench{})
		for _, p := range before.Points {
			was, is := fewestSafeguards(before, p.Name), fewestSafeguards(after, p.Name)
			if is >= 0 && (was < 0 || is < was) {
				t.Fatalf("%s had %d safeguards and has %d with C99 in series with %s\n%s", p.Name, was, is, drawn.Parts[k].Name, with.Text())
			}
			if is > was || is < 0 && was >= 0 {
				raised++
			}
		}
	})
	often(t, "counts that rose", raised, 5, sets, 200)
}

// promise is what no text may say of a set or of anything.
var promise = regexp.MustCompile(`(?i)\bsafe(ly)?\b`)

// words are all texts of a finding.
func (f *Finding) words() string {
	return strings.Join(append([]string{f.Message, f.Figures, f.FiguresAgain, f.Meaning, f.Between, f.Remedy, f.Caution}, f.Notes...), "\n")
}

// TestFindingsRepeat: the same file always gives the same findings, each with its texts in full, one
// for a rule, a part and a point, none that promises.
func TestFindingsRepeat(t *testing.T) {
	settest.Check(t, 150, func(t *rapid.T) {
		text := settest.Draw(t, lawful).Text()
		set := settest.Load(t, text)
		bench := analysis.Bench(settest.DrawBench(t, set))
		print := func() string {
			r := Check(analysistest.New(t, settest.Load(t, text), bench), analysis.Options{Faults: 2})
			var b strings.Builder
			for i := range r.Findings {
				f := &r.Findings[i]
				fmt.Fprintf(&b, "%v %s %q %q %v %+v\n%s\n", f.Signal, f.Rule.Name, f.Nodes, f.Parts, f.Path, f.Worst, f.words())
				if f.Message == "" || f.Remedy == "" || f.Caution == "" {
					t.Fatalf("%s is not told in full: %+v\n%s", f.Rule.Name, f, text)
				}
				if m := promise.FindString(f.words()); m != "" {
					t.Fatalf("%s says %q: %s\n%s", f.Rule.Name, m, f.words(), text)
				}
				if i > 0 && f.Signal > r.Findings[i-1].Signal {
					t.Fatalf("%s stands below a weaker one\n%s", f.Rule.Name, tellAll(r))
				}
			}
			return b.String()
		}
		// pointers differ from run to run, what they point at must not
		first := regexp.MustCompile(`0x[0-9a-f]+`).ReplaceAllString(print(), "")
		for range 3 {
			if again := regexp.MustCompile(`0x[0-9a-f]+`).ReplaceAllString(print(), ""); again != first {
				t.Fatalf("two runs differ:\n%s\n%s\n%s", first, again, text)
			}
		}
	})
}

// TestRulesPromiseNothing: nor do the texts of the rules.
func TestRulesPromiseNothing(t *testing.T) {
	for _, r := range All {
		for _, text := range []string{r.Looks, r.Why, r.Blind, r.Source, r.Remedy, r.Caution, r.Signals} {
			if m := promise.FindString(text); m != "" {
				t.Errorf("%s says %q: %s", r.Name, m, text)
			}
		}
	}
}

// A failed capacitor that joins two pieces of metal is no wire: where it is what shorts the line, the
// set is judged without its short, and then the one metal is live while the other is on the earth.
func TestFailedPartJoinsNoMetal(t *testing.T) {
	r := check(t, `PL1 = { kind = "plug", style = "grounding", hot = "line 1", neutral = "line 2", earth = "chassis" }`,
		`R1 = { kind = "resistor", ends = ["line 1", "shaft"], value = "5" }`,
		`C1 = { kind = "capacitor", ends = ["chassis", "shaft"], value = "100 pF", condition = "failed" }`, "[nodes.shaft]", `touch = "control"`)
	if got := loudest(r, "shaft", ofTouch); got != Danger {
		t.Errorf("the shaft behind 5 Ω is told by signal %d:\n%s", got, tellAll(r))
	}
	for _, m := range r.Case.Metals {
		if len(m.Points) > 1 {
			t.Errorf("one piece of metal: %s and %s", m.Points[0].Name, m.Points[1].Name)
		}
	}
}
