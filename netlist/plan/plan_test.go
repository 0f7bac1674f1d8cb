package plan

import (
	"bytes"
	"errors"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
	"coldcheck/netlist/setfile"
)

const planSet = `[set]
name = "Bench set"
[nodes]
chassis = { touch = "chassis" }
"inner" = { note = "a lug" }
[parts]
PL1 = { kind = "plug", ends = ["line 1", "line 2"] }
S1 = { kind = "switch", ends = ["line 2", "B-"], frame = "chassis" }
C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "0.1 uF", type = "paper" }
C2 = { kind = "capacitor", ends = ["B+", "B-"], value = "40 uF", type = "electrolytic", positive = "B+" }
R1 = { kind = "resistor", ends = ["line 1", "B-"], bands = "brown black orange" }
R2 = { kind = "resistor", ends = ["B+", "inner"], value = 100 }
R3 = { kind = "resistor", ends = ["inner", "line 1"], value = 100 }
SL1 = { kind = "selector", common = "line 1", throws = ["hi", "lo"] }
R4 = { kind = "resistor", ends = ["hi", "lo"], value = 100 }
V1 = { kind = "tube", type = "12AV6", pins = { 2 = "B-", 3 = "h", 4 = "B-" } }
R5 = { kind = "resistor", ends = ["h", "line 1"], value = 500 }
[[readings]]
at = ["chassis", "building earth"]
volts = 60
`

func planFile(steps ...string) []byte {
	return []byte("plan = \"try\"\n[[steps]]\n" + strings.Join(steps, "\n[[steps]]\n") + "\n")
}

func loadPlanSet(t *testing.T) *netlist.Set {
	t.Helper()
	set, err := setfile.Load("set.toml", strings.NewReader(planSet))
	if err != nil {
		t.Fatal(err)
	}
	return set
}

func applied(t *testing.T, steps ...string) []Stage {
	t.Helper()
	plan, err := Parse("plan.toml", planFile(steps...))
	if err != nil {
		t.Fatal(err)
	}
	stages, err := plan.Apply(loadPlanSet(t))
	if err != nil {
		t.Fatal(err)
	}
	return stages
}

// everyVerb is a plan in which each verb stands once at least.
var everyVerb = []string{
	`do = "replace"
part = "C1"
as = { kind = "capacitor", ends = ["B-", "chassis"], value = "4.7 nF", class = "Y1" }`,
	`do = "move"
part = "S1"
from = "line 2"
to = "line 3"`,
	`do = "fit"
part = "F1"
as = { kind = "fuse", ends = ["line 2", "line 3"], amps = 1 }`,
	`do = "change"
part = "PL1"
as = { style = "polarized", hot = "line 1", neutral = "line 2" }`,
	`do = "change"
part = "R1"
as = { value = "22k" }`,
	`do = "mark"
node = "chassis"
as = { guard = "cabinet" }`,
	`do = "move"
part = "C2"
from = "B+"
to = "B+ 2"`,
	`do = "remove"
part = "R2"`,
}

// TestPlanVerbs carries out every verb once and looks at the set that comes out.
func TestPlanVerbs(t *testing.T) {
	stages := applied(t, everyVerb...)
	if len(stages) != 9 || stages[0].Step != 0 || stages[8].Step != 8 {
		t.Fatalf("%d stages", len(stages))
	}
	set := stages[8].Set
	if c := set.Part("C1").Detail.(*netlist.Capacitor); c.Class != "Y1" || set.Part("C1").Condition != netlist.Good {
		t.Errorf("C1 is %+v", c)
	}
	if s := set.Part("S1").Detail.(*netlist.Switch); s.Poles[0] != (netlist.Ends{"line 3", "B-"}) {
		t.Errorf("S1 is on %v", s.Poles)
	}
	if p := set.Part("PL1").Detail.(*netlist.Plug); p.Style != "polarized" || p.Hot != "line 1" {
		t.Errorf("PL1 is %+v", p)
	}
	if r := set.Part("R1").Detail.(*netlist.Resistor); r.Ohms != 22000 {
		t.Errorf("R1 has %g ohms", r.Ohms)
	}
	if n := set.Node("chassis"); n.Guard != "cabinet" || n.Touch != "chassis" {
		t.Errorf("chassis is %+v", n)
	}
	if c := set.Part("C2").Detail.(*netlist.Capacitor); c.Positive != "B+ 2" {
		t.Errorf("the mark for plus of C2 stayed behind on %s", c.Positive)
	}
	if set.Part("R2") != nil || set.Part("F1") == nil || len(set.Readings) != 0 {
		t.Error("R2 is there, or F1 is not, or a reading of the old set is kept")
	}
	if stages[0].Set.Part("F1") != nil || len(stages[0].Set.Readings) != 1 {
		t.Error("the set as it was has changed")
	}
	var b bytes.Buffer
	if err := setfile.Write(&b, stages[8].Document); err != nil {
		t.Fatal(err)
	}
	if _, err := setfile.Load("out.toml", &b); err != nil {
		t.Errorf("what is written cannot be read back: %v", err)
	}
}

// TestPlanDropsUnusedNodes takes the last part off a point that no one touches: its line in [nodes]
// goes with it.
func TestPlanDropsUnusedNodes(t *testing.T) {
	stages := applied(t, "do = \"remove\"\npart = \"R2\"", "do = \"remove\"\npart = \"R3\"")
	if stages[2].Set == nil || stages[2].Set.Node("inner") != nil {
		t.Errorf("inner is still there: %v", stages[2].Problems)
	}
}

// TestPlanBetweenSets takes the plug away and brings another: in between there is no set.
func TestPlanBetweenSets(t *testing.T) {
	stages := applied(t, "do = \"remove\"\npart = \"PL1\"",
		"do = \"fit\"\npart = \"PL2\"\nas = { kind = \"plug\", ends = [\"line 1\", \"line 2\"] }")
	if stages[1].Set != nil || len(stages[1].Problems) == 0 || stages[2].Set == nil {
		t.Errorf("stages: %v, %v", stages[1].Set, stages[2].Problems)
	}
}

// TestPlanMisfits holds what a person is told where a step does not fit, or the plan is no plan.
func TestPlanMisfits(t *testing.T) {
	step := func(s string) string { return string(planFile(s)) }
	for _, c := range []struct{ name, plan, want string }{
		{"empty", "", "plan.toml:1:1: the plan is empty; begin it with"},
		{"blank", " \n# later\n", "the plan has no steps"},
		{"no name", "[[steps]]\ndo = \"remove\"\npart = \"R1\"\n", "plan.toml:1:1: the plan has no name"},
		{"no steps", "plan = \"x\"\nsteps = []\n", "plan.toml:2:9: the plan has no steps"},
		{"one bracket", "plan = \"x\"\n[steps]\ndo = \"remove\"\n", "write [[steps]], with two brackets"},
		{"slip", "plan = \"x\"\n[[stps]]\ndo = \"remove\"\n", "did you mean steps?"},
		{"a set", "plan = \"x\"\n[set]\nname = \"y\"\n[[steps]]\ndo = \"remove\"\npart = \"R1\"\n", "[set] belongs to a set file"},
		{"stray key", "plan = \"x\"\npart = \"R1\"\n[[steps]]\ndo = \"remove\"\n", "plan.toml:2:1: part stands before the first step; put a line [[steps]] above it"},
		{"unknown key", "plan = \"x\"\nweather = 1\n[[steps]]\ndo = \"remove\"\npart = \"R1\"\n", `"weather" is not a key of a plan; it has plan, format and steps`},
		{"misspelt key of a step", step("do = \"remove\"\npart = \"R1\"\nterminals = \"end 1\""), `step 1 has no key "terminals"; did you mean terminal?`},
		{"unknown key of a step", step("do = \"remove\"\npart = \"R1\"\nweather = 1"), `step 1 has no key "weather"; a step takes do, part, node, as, from, to or terminal`},
		{"format", "format = 2\nplan = \"x\"\n[[steps]]\ndo = \"remove\"\npart = \"R1\"\n", "plan.toml:1:10: format is 1 and no other"},
		{"verb", step(`do = "swap"`), `plan.toml:3:6: step 1: do = "swap" is not known; did you mean "replace"?`},
		{"no verb", step(`part = "R1"`), "step 1 does not say what is done"},
		{"lacks", step(`do = "move"` + "\npart = \"R1\""), "step 1: move has no from"},
		{"too much", step("do = \"remove\"\npart = \"R1\"\nfrom = \"x\""), "step 1: remove takes no from"},
		{"key of a part", step("do = \"change\"\npart = \"R1\"\nvalue = \"1k\""), "value is a key of a part; put it between the braces"},
		{"no kind", step("do = \"fit\"\npart = \"R9\"\nas = { value = \"1k\" }"), "as says no kind"},
		{"kind changed", step("do = \"change\"\npart = \"R1\"\nas = { kind = \"coil\" }"), "change leaves a part what it is"},
		{"empty as", step("do = \"change\"\npart = \"R1\"\nas = {}"), "as is empty"},
		{"not there", step("do = \"remove\"\npart = \"C11\""), `plan.toml:4:8: step 1: the set has no part "C11" at this point; did you mean "C1"?`},
		{"replaced, not there", step("do = \"replace\"\npart = \"C11\"\nas = { kind = \"wire\", ends = [\"a\", \"b\"] }"), `plan.toml:4:8: step 1: the set has no part "C11" at this point; did you mean "C1"?`},
		{"changed, not there", step("do = \"change\"\npart = \"C11\"\nas = { value = \"1 nF\" }"), `plan.toml:4:8: step 1: the set has no part "C11" at this point; did you mean "C1"?`},
		{"moved, not there", step("do = \"move\"\npart = \"C11\"\nfrom = \"chassis\"\nto = \"inner\""), `plan.toml:4:8: step 1: the set has no part "C11" at this point; did you mean "C1"?`},
		{"there already", step("do = \"fit\"\npart = \"R1\"\nas = { kind = \"wire\", ends = [\"a\", \"b\"] }"),
			`step 1: "R1" is there already (a resistor); write do = "replace", or give the new part a name of its own, like R6`},
		{"nothing like it", step("do = \"remove\"\npart = \"XYZ123\""), `step 1: the set has no part "XYZ123" at this point; it has PL1, S1, C1, C2, R1, R2, R3, SL1, R4, V1, R5`},
		{"removed before", step("do = \"remove\"\npart = \"R1\"\n[[steps]]\ndo = \"change\"\npart = \"R1\"\nas = { value = \"1k\" }"),
			`step 2: "R1" is not there any more: step 1 removed it`},
		{"no such point", step("do = \"move\"\npart = \"S1\"\nfrom = \"line2\"\nto = \"line 1\""), `step 1: "S1" has no end on "line2" here; did you mean "line 2"?`},
		{"two ends", step("do = \"move\"\npart = \"V1\"\nfrom = \"B-\"\nto = \"chassis\""), `pin 2 and pin 4 of "V1" are on "B-"; say which one moves, like terminal = "pin 2"`},
		{"no terminal", step("do = \"move\"\npart = \"V1\"\nterminal = \"pin 22\"\nfrom = \"B-\"\nto = \"chassis\""), `did you mean "pin 2"?`},
		{"other terminal", step("do = \"move\"\npart = \"V1\"\nterminal = \"pin 3\"\nfrom = \"B-\"\nto = \"chassis\""), `pin 3 of "V1" is on "h" here, not on "B-"`},
		{"nowhere", step("do = \"move\"\npart = \"S1\"\nfrom = \"B-\"\nto = \"B-\""), "from and to are both"},
		{"frame", step("do = \"move\"\npart = \"S1\"\nfrom = \"chassis\"\nto = \"B-\""), `add terminal = "frame" if the metal is what moves`},
		{"no such node", step("do = \"mark\"\nnode = \"chasis\"\nas = { guard = \"knob\" }"), `step 1: no part is on the point "chasis" here; did you mean "chassis"?`},
		{"no plug left", step("do = \"remove\"\npart = \"PL1\""), "plan.toml:2:3: step 1 (remove PL1) leaves what is no set: the set has no plug"},
		{"two plugs", step("do = \"fit\"\npart = \"PL2\"\nas = { kind = \"plug\", ends = [\"line 1\", \"line 2\"] }"), `step 1 (fit PL2) leaves what is no set: "PL2" is a second plug`},
		{"bare metal left", step("do = \"move\"\npart = \"C1\"\nfrom = \"chassis\"\nto = \"inner\"\n[[steps]]\ndo = \"move\"\npart = \"S1\"\nterminal = \"frame\"\nfrom = \"chassis\"\nto = \"inner\""),
			`leaves what is no set: no part uses the point "chassis"`},
		{"wrong value", step("do = \"change\"\npart = \"R1\"\nas = { value = \"lots\" }"), "plan.toml:5:16: step 1 (change R1) leaves what is no set: value of R1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			plan, err := Parse("plan.toml", []byte(c.plan))
			if err == nil {
				_, err = plan.Apply(loadPlanSet(t))
			}
			var problems netlist.Problems
			if !errors.As(err, &problems) {
				t.Fatalf("error %v, want problems", err)
			}
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("told:\n%v\nwant:\n%s", err, c.want)
			}
		})
	}
}

// TestPlanTellsAll finds the faults of several steps in one go, and nothing that only follows.
func TestPlanTellsAll(t *testing.T) {
	plan, err := Parse("plan.toml", planFile("do = \"remove\"\npart = \"R11\"", "do = \"change\"\npart = \"R11\"\nas = { value = 1 }",
		"do = \"move\"\npart = \"R1\"\nfrom = \"x\"\nto = \"y\""))
	if err != nil {
		t.Fatal(err)
	}
	_, err = plan.Apply(loadPlanSet(t))
	if n := strings.Count(err.Error(), "\n") + 1; n != 2 || strings.Contains(err.Error(), "step 2") {
		t.Errorf("told:\n%v", err)
	}
}

// TestSlotsAreTerminals holds the places of points in a part as written against the terminals that
// building makes of it, over all examples.
func TestSlotsAreTerminals(t *testing.T) {
	seen := 0
	sets := map[string]*netlist.Set{"the bench": loadPlanSet(t)}
	for _, file := range slices.Concat(filetest.Fixtures(t, "../examples/*.toml"), filetest.Fixtures(t, "../setfile/testdata/valid/*.toml")) {
		set, err := setfile.LoadFile(file, nil)
		if err != nil {
			t.Fatal(err)
		}
		sets[file] = set
	}
	for file, set := range sets {
		doc := set.Document()
		for i := range doc.Parts {
			w := &doc.Parts[i]
			p := set.Part(w.Name)
			want := map[netlist.Terminal]bool{}
			for _, x := range p.Terminals {
				want[x] = true
			}
			got := 0
			for _, s := range slotsOf(w) {
				if s.terminal == "frame" {
					if s.node() != p.Frame {
						t.Errorf("%s: frame of %s is %q, not %q", file, w.Name, s.node(), p.Frame)
					}
					continue
				}
				if got++; !want[netlist.Terminal{Name: s.terminal, Node: s.node()}] {
					t.Errorf("%s: %s of %s on %q is no terminal", file, s.terminal, w.Name, s.node())
				}
			}
			if got != len(p.Terminals) {
				t.Errorf("%s: %s has %d places and %d terminals", file, w.Name, got, len(p.Terminals))
			}
			seen += got
		}
	}
	if seen < 1000 {
		t.Errorf("only %d terminals seen", seen)
	}
}

// TestPlanWrite reads back what is written.
func TestPlanWrite(t *testing.T) {
	for _, file := range filetest.Fixtures(t, "../examples/plans/*.toml") {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		plan, err := Parse(file, text)
		if err != nil {
			t.Fatal(err)
		}
		plan.Steps[0].Why = strings.Repeat("words ", 40)
		var b bytes.Buffer
		if err := plan.Write(&b); err != nil {
			t.Fatal(err)
		}
		again, err := Parse(file, b.Bytes())
		if err != nil {
			t.Fatalf("%v\n%s", err, &b)
		}
		if len(again.Steps) != len(plan.Steps) || again.Name != plan.Name {
			t.Fatalf("%s: %d steps of %d", file, len(again.Steps), len(plan.Steps))
		}
		for i := range plan.Steps {
			if again.Steps[i].String() != plan.Steps[i].String() {
				t.Errorf("%s: step %d reads back as %s", file, i+1, &again.Steps[i])
			}
		}
	}
}

// doubtedSet is planSet of which the whole is doubtful.
var doubtedSet = strings.Replace(planSet, "[nodes]", "condition = \"suspect\"\n[nodes]", 1)

// What a plan fits is good, whatever the set says of the rest: but a paper capacitor is not, and a class speaks for
// itself. A guard that is put on is good too, one that was there is not made so.
func TestWhatIsFittedIsGood(t *testing.T) {
	set, err := setfile.Load("set.toml", strings.NewReader(strings.Replace(doubtedSet, "chassis = { touch = \"chassis\" }",
		"chassis = { touch = \"chassis\" }\n\"B-\" = { touch = \"trim\", guard = \"cover\" }\n\"line 1\" = { touch = \"jack\", guard = \"cover\" }", 1)))
	if err != nil {
		t.Fatal(err)
	}
	plan, err := Parse("plan.toml", planFile(
		"do = \"replace\"\npart = \"C1\"\nas = { kind = \"condenser\", ends = [\"B-\", \"chassis\"], value = \"4.7 nF\", class = \"Y2\" }",
		"do = \"replace\"\npart = \"C2\"\nas = { kind = \"Capacitor\", ends = [\"B-\", \"B+\"], value = \"40 uF\" }",
		"do = \"fit\"\npart = \"C3\"\nas = { kind = \"capacitor\", ends = [\"B-\", \"B+\"], value = \"0.1 uF\", type = \"paper\" }",
		"do = \"fit\"\npart = \"C4\"\nas = { kind = \"capacitor\", ends = [\"B-\", \"B+\"], value = \"0.1 uF\", type = \"paper\", class = \"X2\" }",
		"do = \"fit\"\npart = \"TH1\"\nas = { kind = \"ntc\", ends = [\"B-\", \"B+\"], hot = \"44\", cold = \"400\" }",
		"do = \"fit\"\npart = \"R9\"\nas = { kind = \"resistor\", ends = [\"B-\", \"B+\"], value = \"22k\", condition = \"failed\" }",
		"do = \"move\"\npart = \"TH1\"\nfrom = \"B+\"\nto = \"inner\"",
		"do = \"mark\"\nnode = \"chassis\"\nas = { guard = \"cabinet\" }",
		"do = \"mark\"\nnode = \"B-\"\nas = { guard = \"cover\" }",
		"do = \"mark\"\nnode = \"line 1\"\nas = { guard = \"sleeve\" }",
		"do = \"mark\"\nnode = \"inner\"\nas = { touch = \"jack\", guard = \"knob\", guard_condition = \"failed\" }",
	))
	if err != nil {
		t.Fatal(err)
	}
	after, err := plan.ApplyAll(set)
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]netlist.Condition{
		"C1": netlist.Good, "C2": netlist.Good, "C3": netlist.Suspect, "C4": netlist.Suspect, "TH1": netlist.Good, "R9": netlist.Failed, "R1": netlist.Suspect,
	} {
		if got := after.Part(name).Condition; got != want {
			t.Errorf("%s is %s, want %s", name, got, want)
		}
	}
	for name, want := range map[string]bool{"chassis": false, "B-": true, "line 1": false, "inner": true} {
		if got := after.Node(name).GuardSuspect; got != want {
			t.Errorf("the guard of %s is doubtful: %v, want %v", name, got, want)
		}
	}
	if d, _ := after.Part("TH1").Detail.(*netlist.Thermistor); d == nil || d.Ends != (netlist.Ends{"B-", "inner"}) || d.Hot != 44 {
		t.Errorf("TH1 is %+v", d)
	}
	var b bytes.Buffer
	if err := plan.Write(&b); err != nil || strings.Contains(b.String(), "condenser") || !strings.Contains(b.String(), `kind = "thermistor"`) {
		t.Errorf("written back: %v\n%s", err, b.String())
	}
}

// A change of a key takes out what says the same under another name, or in another way.
func TestChangeKnowsOtherNames(t *testing.T) {
	stages := applied(t,
		"do = \"change\"\npart = \"R1\"\nas = { rating = \"1/2 W\", body_end_dot = \"red green yellow\" }",
		"do = \"change\"\npart = \"R1\"\nas = { watts = 2 }",
		"do = \"fit\"\npart = \"DS1\"\nas = { kind = \"dial lamp\", ends = [\"B-\", \"B+\"], volts = 7, amps = 1 }",
		"do = \"change\"\npart = \"DS1\"\nas = { type = \"44\" }",
		"do = \"change\"\npart = \"R1\"\nas = { rating = \"1/4 W\" }")
	half, _ := stages[1].Set.Part("R1").Detail.(*netlist.Resistor)
	two, _ := stages[2].Set.Part("R1").Detail.(*netlist.Resistor)
	if half.Watts != 0.5 || half.Ohms != 250e3 || two.Watts != 2 || two.Ohms != 250e3 {
		t.Errorf("R1 is %+v, then %+v", half, two)
	}
	if quarter, _ := stages[5].Set.Part("R1").Detail.(*netlist.Resistor); quarter.Watts != 0.25 {
		t.Errorf("R1 has %v W, and was given a quarter", quarter.Watts)
	}
	if lamp, _ := stages[4].Set.Part("DS1").Detail.(*netlist.Lamp); lamp.Volts != 6.3 || lamp.Amps != 0.25 {
		t.Errorf("DS1 is %+v", lamp)
	}
}

func TestPlanFitsNoCan(t *testing.T) {
	_, err := Parse("plan.toml", planFile("do = \"fit\"\npart = \"C9\"\nas = { kind = \"can\", sections = [\"1 uF\"], positive = [\"B+\"], negative = \"B-\" }"))
	if err == nil || !strings.HasPrefix(err.Error(), "plan.toml:5:15: step 1: a can is several parts") {
		t.Errorf("got %v", err)
	}
}

// What a replacement does not say of its kind and its ends it takes over, and no more: not what only the old
// part had.
func TestReplaceTakesOverKindAndEnds(t *testing.T) {
	stages := applied(t,
		"do = \"replace\"\npart = \"C1\"\nas = { value = \"4.7 nF\", class = \"Y2\" }",
		"do = \"replace\"\npart = \"C2\"\nas = { value = \"22 uF\", type = \"film\" }",
		"do = \"replace\"\npart = \"R1\"\nas = { kind = \"fuse\", amps = \"1/2 A\" }",
		"do = \"replace\"\npart = \"V1\"\nas = { type = \"12AT6\" }",
		"do = \"replace\"\npart = \"PL1\"\nas = { style = \"polarized\", hot = \"line 1\", neutral = \"line 2\" }",
		"do = \"replace\"\npart = \"SL1\"\nas = { positions = [\"fast\", \"slow\"] }",
		"do = \"replace\"\npart = \"R2\"\nas = { kind = \"pot\", ends = [\"B+\", \"inner\"], wiper = \"line 1\", value = \"1 meg\" }",
		"do = \"replace\"\npart = \"R2\"\nas = { value = \"2 meg\" }",
		"do = \"replace\"\npart = \"R2\"\nas = { ends = [\"B+\", \"inner\"], value = \"2 meg\" }")
	set := stages[len(stages)-1].Set
	for part, want := range map[string]netlist.Detail{
		"C1":  &netlist.Capacitor{Ends: netlist.Ends{"B-", "chassis"}, Farads: 4.7e-9, Class: "Y2"},
		"C2":  &netlist.Capacitor{Ends: netlist.Ends{"B+", "B-"}, Farads: 22e-6, Type: "film"},
		"R1":  &netlist.Fuse{Ends: netlist.Ends{"line 1", "B-"}, Amps: 0.5},
		"PL1": &netlist.Plug{Style: "polarized", Hot: "line 1", Neutral: "line 2"},
		"SL1": &netlist.Selector{Decks: []netlist.Deck{{Common: "line 1", Throws: []string{"hi", "lo"}}}, Positions: []string{"fast", "slow"}},
		"R2":  &netlist.Potentiometer{Ends: netlist.Ends{"B+", "inner"}, Ohms: 2e6},
	} {
		if diff := cmp.Diff(want, set.Part(part).Detail, cmpopts.EquateApprox(1e-9, 0)); diff != "" {
			t.Errorf("%s is another (-want +is):\n%s", part, diff)
		}
	}
	if v, _ := set.Part("V1").Detail.(*netlist.Tube); v == nil || v.Type.Name != "12AT6" || v.Node(3) != "h" {
		t.Errorf("V1 is %+v", v)
	}
	if r, _ := stages[8].Set.Part("R2").Detail.(*netlist.Potentiometer); r == nil || r.Wiper != "line 1" || r.Ohms != 2e6 {
		t.Errorf("R2 is %+v before its ends are said without a wiper", r)
	}
}

// A plug that is said to have no earth leaves the old one's earth behind; the ends of another sort of part are not
// taken over, and the step is blamed.
func TestReplaceTakesOverWhatFits(t *testing.T) {
	earthed := strings.Replace(planSet, `ends = ["line 1", "line 2"] }`, `style = "grounding", hot = "line 1", neutral = "line 2", earth = "chassis" }`, 1)
	set, err := setfile.Load("set.toml", strings.NewReader(earthed))
	if err != nil {
		t.Fatal(err)
	}
	try := func(step string) (*netlist.Set, error) {
		plan, err := Parse("plan.toml", planFile(step))
		if err != nil {
			return nil, err
		}
		return plan.ApplyAll(set)
	}
	after, err := try("do = \"replace\"\npart = \"PL1\"\nas = { style = \"polarized\" }")
	if err != nil {
		t.Fatal(err)
	}
	if _, plug := after.Plug(); plug.Earth != "" || plug.Hot != "line 1" || plug.Style != "polarized" {
		t.Errorf("PL1 is %+v", plug)
	}
	after, err = try("do = \"replace\"\npart = \"PL1\"\nas = { style = \"grounding\", note = \"new\" }")
	if err != nil {
		t.Fatal(err)
	}
	if _, plug := after.Plug(); plug.Earth != "chassis" {
		t.Errorf("PL1 is %+v", plug)
	}
	set = loadPlanSet(t)
	after, err = try("do = \"replace\"\npart = \"PL1\"\nas = { style = \"plain\", note = \"new\" }")
	if err != nil || after.Part("PL1").Terminals[1].Node != "line 2" {
		t.Errorf("a plain plug for a plain one: %v", err)
	}
	if _, err := try("do = \"replace\"\npart = \"SL1\"\nas = { kind = \"switch\" }"); err == nil || !strings.Contains(err.Error(), "neither ends nor poles") {
		t.Errorf("a selector's points for a switch: %v", err)
	}
	if _, err := try("do = \"replace\"\npart = \"R1\"\nas = {}"); err == nil || !strings.Contains(err.Error(), "as is empty") {
		t.Errorf("nothing said: %v", err)
	}
}

// The plan that the topic has to copy is one, and can be carried out.
func TestTopicCanBeCopied(t *testing.T) {
	plan, err := Parse("plan.toml", []byte(Topic().Example))
	if err != nil {
		t.Fatal(err)
	}
	stages, err := plan.Apply(loadPlanSet(t))
	if err != nil {
		t.Fatal(err)
	}
	if c, _ := stages[len(stages)-1].Set.Part("C1").Detail.(*netlist.Capacitor); c == nil || c.Class != "Y2" || c.Ends[1] != "chassis" {
		t.Errorf("C1 is %+v", c)
	}
}

// TestProblemOfAMovedEndIsAtItsStep: what a set cannot have once an end was moved is told where the step says to.
func TestProblemOfAMovedEndIsAtItsStep(t *testing.T) {
	plan, err := Parse("plan.toml", planFile("do = \"move\"\npart = \"PL1\"\nfrom = \"line 2\"\nto = \"building earth\""))
	if err != nil {
		t.Fatal(err)
	}
	_, err = plan.Apply(loadPlanSet(t))
	if err == nil || !strings.HasPrefix(err.Error(), "plan.toml:6:6: ") || !strings.Contains(err.Error(), "a plug's terminal is a point of the set") {
		t.Errorf("told as %v", err)
	}
}
