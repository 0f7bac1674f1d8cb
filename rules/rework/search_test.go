package rework

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/setfile"
	"coldcheck/rules"
)

// smallSet draws a set of a dozen parts at most, wired in one of the usual ways or a careless one.
var smallSet = rapid.Custom(func(t *rapid.T) string {
	pick := func(what string, words ...string) string { return rapid.SampledFrom(words).Draw(t, what) }
	yes := func(what string) bool { return rapid.Bool().Draw(t, what) }
	bus := pick("bus", "B-", "chassis")
	var nodes, parts []string
	nodes = append(nodes, `chassis = { touch = "chassis" }`)
	add := func(format string, args ...any) { parts = append(parts, fmt.Sprintf(format, args...)) }
	add(`PL1 = { kind = "plug", style = %q, hot = "line 1", neutral = "line 2" }`, pick("style", "plain", "polarized"))
	frame := pick("frame", "", `, frame = "chassis"`, `, frame = "chassis", condition = "suspect"`)
	switch pick("switch", "neutral", "hot", "none") {
	case "neutral":
		add(`S1 = { kind = "switch", ends = ["line 2", %q]%s }`, bus, frame)
		add(`R1 = { kind = "resistor", ends = ["line 1", %q], value = 800 }`, bus)
	case "hot":
		add(`S1 = { kind = "switch", ends = ["line 1", "line on"]%s }`, frame)
		add(`R1 = { kind = "resistor", ends = ["line on", %q], value = 800 }`, bus)
		add(`W1 = { kind = "wire", ends = ["line 2", %q] }`, bus)
	default:
		add(`R1 = { kind = "resistor", ends = ["line 1", %q], value = 800 }`, bus)
		add(`W1 = { kind = "wire", ends = ["line 2", %q] }`, bus)
	}
	if bus == "B-" {
		add(`C1 = { kind = "capacitor", ends = ["B-", "chassis"], %s }`, pick("joint",
			`value = "0.1 uF", type = "paper"`, `value = "4.7 nF", class = "Y2"`, `value = "10 nF", rating = "600 V", type = "film"`, `value = "60 pF"`))
		if yes("resistor") {
			add(`R2 = { kind = "resistor", ends = ["B-", "chassis"], value = "220k" }`)
		}
	}
	if yes("bypass") {
		add(`C2 = { kind = "capacitor", ends = ["line 1", "chassis"], value = "10 nF", rating = "600 V", type = "paper" }`)
	}
	if yes("screws") {
		nodes = append(nodes, `screws = { touch = "fastener"`+pick("guard", "", `, guard = "cover"`, `, guard = "cover", guard_condition = "suspect"`)+" }")
		add(`W2 = { kind = "wire", ends = ["chassis", "screws"] }`)
	}
	if yes("antenna") {
		nodes = append(nodes, `aerial = { touch = "antenna" }`)
		add(`C3 = { kind = "capacitor", ends = ["aerial", %q], value = "250 pF", type = "mica", rating = "500 V" }`, pick("coupled to", "chassis", bus))
		if yes("strip") {
			add(`I1 = { kind = "insulation", ends = ["aerial", "chassis"], grade = %q }`, pick("grade", "functional", "basic"))
		}
	}
	return "[set]\nname = \"Small\"\n[nodes]\n" + strings.Join(nodes, "\n") + "\n[parts]\n" + strings.Join(parts, "\n") + "\n"
})

// bruteCases is how many small sets are searched by brute force, and bruteEdits up to how many edits.
const (
	bruteCases = 24
	bruteEdits = 3
)

// TestNoSmallerPlan tries, for small sets, every set of the list's edits that has fewer than the
// first plan: none may end well. The larger measures are banned one after the other, as for plans of
// another kind, so that plans need more edits.
func TestNoSmallerPlan(t *testing.T) {
	sizes := make([]int, maxEdits+1)
	tried := 0
	for i := range bruteCases {
		text := smallSet.Example(i)
		s := newSearch(load(t, text), DefaultCandidates)
		for _, ban := range []measure{switching, isolating, earthing, guarding} {
			if ban != switching { // which is never banned, and stands for none
				s.banned[ban] = true
			}
			found := s.best()
			if s.stopped {
				t.Fatalf("the bound ended the search for\n%s", text)
			}
			least := bruteEdits + 1
			if len(found) > 0 {
				least = len(found[0].edits)
				sizes[least]++
			}
			n, c := bruteForce(s, min(least, bruteEdits+1))
			tried += n
			if c != nil {
				t.Errorf("%d edits end well: %q, and the search found %d plans of %d, for\n%s", len(c.edits), keyOf(c.edits), len(found), least, text)
			}
		}
	}
	if sizes[2] < 5 || sizes[3] < 3 || tried < 500 {
		t.Errorf("too easy: plans by size %v, %d altered sets tried", sizes, tried)
	}
}

// bruteForce tries every set of fewer edits and gives one that ends well, nil where none does, and how
// many it tried.
func bruteForce(s *search, fewer int) (tried int, well *candidate) {
	level := s.getAll([][]*Edit{nil})
	seen := map[string]bool{}
	for n := 0; n < fewer; n++ {
		var next [][]*Edit
		for _, c := range level {
			switch {
			case c.invalid:
				continue
			case len(c.open) == 0:
				return tried, c
			}
			for _, e := range s.allowed(c, c.all) {
				if edits := with(c.edits, e); !seen[keyOf(edits)] {
					seen[keyOf(edits)] = true
					next = append(next, edits)
				}
			}
		}
		if n+1 < fewer {
			tried += len(next)
			level = s.getAll(next)
		}
	}
	return tried, nil
}

// getAll is get without the bounds.
func (s *search) getAll(all [][]*Edit) []*candidate {
	used, limit, spent := s.used, s.limit, s.spent
	s.used, s.limit = 0, len(all)
	out := make([]*candidate, 0, len(all))
	for now := range slices.Chunk(all, together) {
		s.spent = 0
		out = append(out, s.get(now)...)
	}
	s.used, s.limit, s.spent = used, limit, spent
	return out
}

// endsWell carries a proposal out as a person would, from its file, and looks what is left.
func endsWell(t *testing.T, text string, found *Proposals, p *Proposal) {
	t.Helper()
	var b strings.Builder
	if err := p.Plan.Write(&b); err != nil {
		t.Fatal(err)
	}
	set, err := readPlan(t, b.String()).ApplyAll(load(t, text))
	if err != nil {
		t.Fatalf("the plan does not fit: %v\n%s\n%s", err, &b, text)
	}
	for _, f := range check(set, analysis.DefaultFaults).Findings {
		if f.Signal >= rules.Warning && match(found.Beyond, f) == nil {
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
		found := Propose(set, DefaultCandidates, nil)
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

// TestBoundIsTold ends the search after one set: it must not say that the first plan is the smallest.
func TestBoundIsTold(t *testing.T) {
	found := Propose(load(t, floating), 1, nil)
	if !found.Stopped || !found.Unproved {
		t.Errorf("stopped %v, unproved %v", found.Stopped, found.Unproved)
	}
}

// TestBeyond gives a set of which one finding cannot be cured by the list: a capacitor the wrong way
// round. It is told, and the rest is cured.
func TestBeyond(t *testing.T) {
	text := floating + `D1 = { kind = "rectifier", anode = "on", cathode = "B+", type = "silicon" }
C2 = { kind = "capacitor", ends = ["B+", "B-"], value = "40 uF", rating = "450 V", type = "electrolytic", positive = "B-" }
`
	found := Propose(load(t, text), DefaultCandidates, nil)
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

// TestPartial gives a set that no edit of the list makes whole: two blades on bare metal and no way to
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
	found := Propose(load(t, text), DefaultCandidates, nil)
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
		found := Propose(load(t, floating), DefaultCandidates, nil)
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
		found := Propose(load(t, text), DefaultCandidates, nil)
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
	for _, steps := range propose(switched.Replace(floating)) {
		if strings.Contains(steps, "remove F1") || strings.Contains(steps, "replace F1") || strings.Count(steps, "kind=fuse") > strings.Count(steps, "kind=transformer") {
			t.Errorf("a fuse first in the hot leg does not stay:\n%s", steps)
		}
	}

	plain := strings.NewReplacer(`style = "polarized", `, "", "F1 = { kind = \"fuse\", ends = [\"line 1\", \"fused\"], amps = 0.5 }\n", "", `"fused"`, `"line 1"`,
		`type = "film" }`, "type = \"film\" }\nR2 = { kind = \"resistor\", ends = [\"B-\", \"chassis\"], value = \"220k\" }\n")
	for _, steps := range propose(plain.Replace(floating)) {
		if strings.Contains(steps, "grounding") && strings.Contains(steps, "polarized") {
			t.Errorf("two plugs in one plan:\n%s", steps)
		}
	}

	sockets := strings.Replace(floating, `chassis = { touch = "chassis" }`, "chassis = { touch = \"chassis\", guard = \"cabinet\" }\n\"extension sockets\" = { touch = \"speaker\" }", 1) +
		`W1 = { kind = "wire", ends = ["chassis", "extension sockets"] }` + "\n"
	for _, steps := range propose(sockets) {
		if strings.Contains(steps, "mark  extension sockets") {
			t.Errorf("a cover on sockets:\n%s", steps)
		}
	}

	hot := strings.NewReplacer(`neutral = "B-"`, `neutral = "chassis"`, `ends = ["on", "B-"]`, `ends = ["on", "chassis"]`,
		`C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "0.1 uF", rating = "600 V", type = "film" }`, "").Replace(floating)
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
