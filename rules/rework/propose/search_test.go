package propose

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/budget"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/setfile"
	"coldcheck/rules"
	"coldcheck/rules/rework"
	"coldcheck/rules/rework/internal/examine"
	"coldcheck/rules/rework/internal/reworktest"
)

// endsWell carries a proposal out as a person would, from its file, and looks what is left.
func endsWell(t *testing.T, text string, found *Proposals, p *Proposal) {
	t.Helper()
	var b strings.Builder
	if err := p.Plan.Write(&b); err != nil {
		t.Fatal(err)
	}
	set, err := reworktest.Plan(t, b.String()).ApplyAll(reworktest.Load(t, text))
	if err != nil {
		t.Fatalf("the plan does not fit: %v\n%s\n%s", err, &b, text)
	}
	for _, f := range examine.Report(set, analysis.DefaultFaults).Findings {
		if f.Signal >= rules.Warning && rework.Match(found.Beyond, f) == nil {
			t.Errorf("the plan leaves %s %s\n%s\n%s", f.Signal, f.Message, &b, text)
		}
	}
	for i := range p.Plan.Steps {
		if p.Plan.Steps[i].Why == "" {
			t.Errorf("step %d does not say why", i+1)
		}
	}
}

// TestExamplesGetPlans searches every third example set. Each gets a plan, and the plans differ in kind.
func TestExamplesGetPlans(t *testing.T) {
	for i, e := range examples.Sets() {
		if i%3 != 0 {
			continue
		}
		set, err := setfile.Load(e.Name, strings.NewReader(e.Text))
		if err != nil {
			t.Fatal(err)
		}
		found := Search(set, budget.Candidates, Wish{})
		worst, _ := found.Report.Worst()
		if worst < rules.Warning {
			if len(found.Plans) > 0 {
				t.Errorf("%s: a plan where there is nothing to cure", e.Name)
			}
			continue
		}
		if len(found.Plans) == 0 || found.Unproved || len(found.Plans) > maxProposals {
			t.Errorf("%s: %d plans, unproved %v", e.Name, len(found.Plans), found.Unproved)
		}
		var kinds []string
		for i := range found.Plans {
			endsWell(t, e.Text, found, &found.Plans[i])
			kinds = append(kinds, found.Plans[i].Kind)
		}
		slices.Sort(kinds)
		if len(slices.Compact(slices.Clone(kinds))) != len(kinds) {
			t.Errorf("%s: plans of one kind twice: %v", e.Name, kinds)
		}
	}
}

// TestBoundIsTold ends the search after one set, and with none let in: it must not say that the first plan
// is the smallest.
func TestBoundIsTold(t *testing.T) {
	for _, limit := range []budget.Count{1, 0, -1} {
		found := Search(reworktest.Load(t, reworktest.Floating), limit, Wish{})
		if !found.Stopped || !found.Unproved {
			t.Errorf("of %g sets: stopped %v, unproved %v", limit, found.Stopped, found.Unproved)
		}
	}
}

// TestBeyond gives a set of which one finding cannot be cured by the list: a capacitor the wrong way
// round. It is told, and the rest is cured.
func TestBeyond(t *testing.T) {
	text := reworktest.Floating + `D1 = { kind = "rectifier", anode = "on", cathode = "B+", type = "silicon" }
C2 = { kind = "capacitor", ends = ["B+", "B-"], value = "40 uF", rating = "450 V", type = "electrolytic", positive = "B-" }
`
	found := Search(reworktest.Load(t, text), budget.Candidates, Wish{})
	if len(found.Beyond) != 1 || found.Beyond[0].Rule.Name != "reversed-electrolytic" {
		t.Errorf("beyond the list: %+v", found.Beyond)
	}
	if len(found.Plans) == 0 || found.Partial {
		t.Fatalf("%d plans, partial %v", len(found.Plans), found.Partial)
	}
	for i := range found.Plans {
		endsWell(t, text, found, &found.Plans[i])
	}
}

// TestPartial gives a set that no remedy of the list makes whole: two blades on bare metal and no way to
// a plan. What is proposed, if anything, is told as partial.
func TestPartial(t *testing.T) {
	text := `[set]
name = "Battery on the case"
[nodes]
case = { touch = "jack" }
plate = { touch = "jack" }
[parts]
PL1 = { kind = "plug", style = "polarized", hot = "line 1", neutral = "line 2" }
S1 = { kind = "switch", ends = ["line 1", "on"] }
R1 = { kind = "resistor", ends = ["on", "line 2"], value = 800 }
B1 = { kind = "battery", positive = "case", negative = "plate", volts = 200 }
`
	found := Search(reworktest.Load(t, text), budget.Candidates, Wish{})
	if worst, _ := found.Report.Worst(); worst < rules.Warning {
		t.Fatalf("200 V between two jacks are told as %s", worst)
	}
	for _, p := range found.Plans {
		if worst, _ := p.Comparison.Worst(); worst >= rules.Warning && !found.Partial {
			t.Errorf("a plan that leaves %s is not told as partial", worst)
		}
	}
}

// TestProposalsAreTheSame searches twice, several sets at a time, and compares to the byte.
func TestProposalsAreTheSame(t *testing.T) {
	tell := func() string {
		var b strings.Builder
		found := Search(reworktest.Load(t, reworktest.Floating), budget.Candidates, Wish{})
		fmt.Fprintln(&b, found.Checked)
		for i := range found.Plans {
			if err := found.Plans[i].Plan.Write(&b); err != nil {
				t.Fatal(err)
			}
		}
		return b.String()
	}
	if a, b := tell(), tell(); a != b {
		t.Errorf("two searches differ:\n%s\n%s", a, b)
	}
}

// stepsOf writes the steps of a plan as text, for looking through.
func stepsOf(p *Proposal) string {
	var b strings.Builder
	for i := range p.Plan.Steps {
		step := &p.Plan.Steps[i]
		fmt.Fprintf(&b, "%s %s %s", step.Do, step.Part, step.Node)
		if step.As != nil {
			for _, e := range step.As.Entries {
				fmt.Fprintf(&b, " %s=%v", e.Key, e.Value.Data)
			}
		}
		b.WriteString("\n")
	}
	return b.String()
}

// TestPlansMakeSense looks for what no one at a bench would do: a fuse taken out that stands where it
// belongs, two plugs fitted one after the other, a cover on sockets, a part at work in the set taken out,
// and a capacitor cut into that is the capacitance of a transformer's own windings.
func TestPlansMakeSense(t *testing.T) {
	propose := func(text string) []string {
		found := Search(reworktest.Load(t, text), budget.Candidates, Wish{})
		if len(found.Plans) == 0 {
			t.Fatalf("no plan for\n%s", text)
		}
		var all []string
		for i := range found.Plans {
			endsWell(t, text, found, &found.Plans[i])
			all = append(all, stepsOf(&found.Plans[i]))
		}
		return all
	}

	switched := strings.NewReplacer(`ends = ["fused", "on"]`, `ends = ["B-", "return"]`, `ends = ["on", "B-"]`, `ends = ["fused", "B-"]`, `neutral = "B-"`, `neutral = "return"`)
	for _, steps := range propose(switched.Replace(reworktest.Floating)) {
		if strings.Contains(steps, "remove F1") || strings.Contains(steps, "replace F1") || strings.Count(steps, "kind=fuse") > strings.Count(steps, "kind=transformer") {
			t.Errorf("a fuse first in the hot leg does not stay:\n%s", steps)
		}
	}

	plain := strings.NewReplacer(`style = "polarized", `, "", "F1 = { kind = \"fuse\", ends = [\"line 1\", \"fused\"], amps = 0.5 }\n", "", `"fused"`, `"line 1"`,
		`type = "film" }`, "type = \"film\" }\nR2 = { kind = \"resistor\", ends = [\"B-\", \"chassis\"], value = \"220k\" }\n")
	for _, steps := range propose(plain.Replace(reworktest.Floating)) {
		if strings.Contains(steps, "grounding") && strings.Contains(steps, "polarized") {
			t.Errorf("two plugs in one plan:\n%s", steps)
		}
	}

	sockets := strings.Replace(reworktest.Floating, `chassis = { touch = "chassis" }`, "chassis = { touch = \"chassis\", guard = \"cabinet\" }\n\"extension sockets\" = { touch = \"speaker\" }", 1) +
		`W1 = { kind = "wire", ends = ["chassis", "extension sockets"] }` + "\n"
	for _, steps := range propose(sockets) {
		if strings.Contains(steps, "mark  extension sockets") {
			t.Errorf("a cover on sockets:\n%s", steps)
		}
	}

	hot := strings.NewReplacer(`neutral = "B-"`, `neutral = "chassis"`, `ends = ["on", "B-"]`, `ends = ["on", "chassis"]`,
		`C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "0.1 uF", rating = "600 V", type = "film" }`, "").Replace(reworktest.Floating)
	for _, steps := range propose(hot) {
		if strings.Contains(steps, "remove R1") || strings.Contains(steps, "replace R1") {
			t.Errorf("the load is taken out:\n%s", steps)
		}
	}

	stray := `[set]
name = "Isolated"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", style = "polarized", hot = "line 1", neutral = "line 2" }
F1 = { kind = "fuse", ends = ["line 1", "fused"], amps = 0.5 }
S1 = { kind = "switch", ends = ["fused", "on"] }
T1 = { kind = "transformer", windings = { primary = ["on", "line 2"], secondary = ["high", "chassis"] }, volts = { primary = 120, secondary = 120 } }
R1 = { kind = "resistor", ends = ["high", "chassis"], value = 800, watts = 25 }
C1 = { kind = "capacitor", ends = ["line 2", "chassis"], value = "150 pF" }
`
	for _, steps := range propose(stray) {
		if strings.Contains(steps, " C1 ") {
			t.Errorf("the capacitance of T1's windings is cut into:\n%s", steps)
		}
	}
}

// TestComparedAtOneFailure: what a plan makes of a large set is looked at for one failure, that of a
// small one for two. Findings of the large one are none the fewer.
func TestComparedAtOneFailure(t *testing.T) {
	if n := examine.OutcomeFaults(examine.Circuit(reworktest.Load(t, reworktest.Rectifiers(2)))); n != analysis.DefaultFaults {
		t.Errorf("a small set is looked at for %d failures", n)
	}
	set := reworktest.Load(t, reworktest.Rectifiers(50))
	found := Search(set, budget.Candidates, Wish{})
	if !found.Stopped || found.Unproved || len(found.Plans) == 0 {
		t.Fatalf("stopped %v, unproved %v, %d plans", found.Stopped, found.Unproved, len(found.Plans))
	}
	p := found.Plans[0]
	if n := p.Comparison.After.Case.Result.Options.Faults; n != examine.OneFailure {
		t.Errorf("the outcome was looked at for %d failures", n)
	}
	after, err := p.Plan.ApplyAll(set)
	if err != nil {
		t.Fatal(err)
	}
	if one, two := reworktest.Names(p.Comparison.After.Findings), reworktest.Names(examine.Report(after, analysis.DefaultFaults).Findings); !slices.Equal(one, two) {
		t.Errorf("at one failure %q, at two %q", one, two)
	}
}

// TestAsItIs: what is open in a set, and what bears on it, is the same by its report at two failures as
// by one at a single failure.
func TestAsItIs(t *testing.T) {
	tell := func(c *candidate) []string {
		var lines []string
		for _, o := range c.open {
			lines = append(lines, reworktest.Names([]rules.Finding{o.finding})[0]+": "+keyOf(o.remedies))
		}
		return lines
	}
	open := 0
	for _, e := range examples.Sets() {
		set, err := setfile.Load(e.Name, strings.NewReader(e.Text))
		if err != nil {
			t.Fatal(err)
		}
		s := newSearch(set, budget.Candidates)
		one, two := tell(s.examine(nil)), tell(s.asItIs(examine.Report(set, analysis.DefaultFaults)))
		if !slices.Equal(one, two) {
			t.Errorf("%s: at one failure %q, at two %q", e.Name, one, two)
		}
		open += len(one)
	}
	if open < 40 {
		t.Errorf("too easy: %d findings", open)
	}
}

// A jack added on the wiper of a control is coupled by a capacitor, alone: no plan moves a B-minus off it.
func TestAJackIsCoupled(t *testing.T) {
	e, _ := examples.FindSet("tape-jack")
	text := e.Text
	found := Search(reworktest.Load(t, text), budget.Candidates, Wish{})
	coupled := false
	for i := range found.Plans {
		endsWell(t, text, found, &found.Plans[i])
		for _, step := range found.Plans[i].Plan.Steps {
			coupled = coupled || step.Do == "move" && step.Part == "R8" && step.To == "jack tip inner"
			if strings.Contains(step.Why, "B-minus") {
				t.Errorf("%s: %s", found.Plans[i].Kind, step.Why)
			}
		}
	}
	if !coupled {
		t.Error("no plan couples the jack")
	}
}

// On mains of which no leg is the neutral no plan speaks of a hot leg and a neutral, and where it puts a switch
// in it puts a fuse in each leg.
func TestPlansWhereBothLegsAreHot(t *testing.T) {
	legs := regexp.MustCompile(`(?i)\b(hot|neutral) (leg|one|side|lead)\b|narrow blade|wide blade|the neutral\b|polarized`)
	hot := strings.NewReplacer(`neutral = "B-"`, `neutral = "chassis"`, `ends = ["on", "B-"]`, `ends = ["on", "chassis"]`,
		`C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "0.1 uF", rating = "600 V", type = "film" }`, "").Replace(reworktest.Floating)
	both := strings.NewReplacer(`F1 = { kind = "fuse", ends = ["line 1", "fused"], amps = 0.5 }`, `F1 = { kind = "fuse", ends = ["line 1", "fused"], amps = 0.5 }
F2 = { kind = "fuse", ends = ["line 2", "B-"], amps = 0.5 }`, `neutral = "B-"`, `neutral = "line 2"`).Replace(reworktest.Floating)
	for _, earthed := range []string{"midpoint", "star", "nowhere"} {
		for name, text := range map[string]string{"floating": reworktest.Floating, "on the line": hot, "two fuses": both} {
			text = strings.Replace(text, "[nodes]", "mains = \"220 V 50 Hz\"\nearthed = \""+earthed+"\"\n[nodes]", 1)
			found := Search(reworktest.Load(t, text), budget.Candidates, Wish{})
			if len(found.Plans) == 0 {
				t.Errorf("%s, %s: no plan", earthed, name)
			}
			switches := 0
			for i := range found.Plans {
				p := &found.Plans[i]
				endsWell(t, text, found, p)
				for _, step := range p.Plan.Steps {
					if words := legs.FindString(step.Why); words != "" {
						t.Errorf("%s, %s: %q: %s", earthed, name, words, step.Why)
					}
				}
				steps := stepsOf(p)
				if !strings.Contains(steps, "kind=switch") {
					continue
				}
				switches++
				for _, f := range p.Comparison.After.Findings {
					if name := f.Rule.Name; name == "fuse-misplaced" || name == "no-fuse" || name == "switch-in-neutral" || name == "no-switch" {
						t.Errorf("%s, %s: the plan leaves %s\n%s", earthed, name, f.Message, steps)
					}
				}
				if name == "two fuses" && strings.Contains(steps, "replace F") {
					t.Errorf("%s: fuses first in their legs do not stay:\n%s", earthed, steps)
				}
			}
			if switches == 0 {
				t.Errorf("%s, %s: no plan puts in a switch", earthed, name)
			}
		}
	}
}

// TestPutTogetherOneByOne: where the bound ends the search for the smallest plan, one of class Y capacitors
// is put together all the same; it ends well, and does not claim to be the smallest.
func TestPutTogetherOneByOne(t *testing.T) {
	e, _ := examples.FindSet("floating-b-minus")
	found := Search(reworktest.Load(t, e.Text), 40, Wish{})
	for i := range found.Plans {
		if p := &found.Plans[i]; p.OneByOne {
			if p.rests != bridging || !found.Stopped {
				t.Errorf("it rests on %s; stopped: %v", p.Kind, found.Stopped)
			}
			endsWell(t, e.Text, found, p)
			return
		}
	}
	t.Errorf("no plan was put together, of %d", len(found.Plans))
}

// TestWishes: one kind of plan alone, and a part that is left alone.
func TestWishes(t *testing.T) {
	set := reworktest.Load(t, reworktest.Floating)
	for _, kind := range Kinds() {
		for _, p := range Search(set, budget.Candidates, Wish{Kind: kind}).Plans {
			if kindWords[p.rests] != kind {
				t.Errorf("asked for %s: a plan of %s", kind, p.Kind)
			}
		}
	}
	if n := len(Search(set, budget.Candidates, Wish{Kind: "transformer"}).Plans); n != 1 {
		t.Errorf("%d plans with a transformer", n)
	}
	for _, p := range Search(set, budget.Candidates, Wish{Keep: []string{"C1"}}).Plans {
		for _, step := range p.Plan.Steps {
			if step.Part == "C1" {
				t.Errorf("C1 is to be left alone: %s", &step)
			}
		}
	}
}
