package record

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
	"coldcheck/rules"
)

// bench is a set with an insulated bus: PLUG, MAINS, SWITCH and CHASSIS are put in.
const bench = `[set]
name = "Bench set, as found"
MAINS
[nodes]
chassis = { touch = "chassis" }
[parts]
PLUG
F1 = { kind = "fuse", ends = ["line 1", "fused"], amps = 0.5 }
SWITCH
R1 = { kind = "resistor", ends = ["on", "B-"], value = 800, watts = 25 }
CHASSIS
`

// The usual of each.
const (
	polarized = `PL1 = { kind = "plug", style = "polarized", hot = "line 1", neutral = "B-" }`
	plain     = `PL1 = { kind = "plug", ends = ["line 1", "B-"] }`
	grounding = `PL1 = { kind = "plug", style = "grounding", hot = "line 1", neutral = "B-", earth = "chassis" }`
	switched  = `S1 = { kind = "switch", ends = ["fused", "on"] }`
	straight  = `W9 = { kind = "wire", ends = ["fused", "on"] }`
	classY1   = `C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "4.7 nF", rating = "250 V AC", class = "Y1" }`
	film      = `C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "0.1 uF", rating = "600 V", type = "film" }`
	tied      = `W1 = { kind = "wire", ends = ["B-", "chassis"] }`
)

func benchSet(mains, plug, sw, chassis string) string {
	return strings.NewReplacer("MAINS", mains, "PLUG", plug, "SWITCH", sw, "CHASSIS", chassis).Replace(bench)
}

func load(t *testing.T, text string) *netlist.Set {
	t.Helper()
	set, err := setfile.Load("set.toml", strings.NewReader(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return set
}

func ownerOf(t *testing.T, text string) string {
	t.Helper()
	set := load(t, text)
	return strings.Join(OfSets(set, set).Owner, "\n")
}

// What the owner has to know follows from what remains: each statement is there where it holds, and not where it
// does not.
func TestOwner(t *testing.T) {
	const (
		unfit     = "Pull the plug and leave it out. The set is not fit to be used"
		isolating = "it needs an isolating transformer"
		hands     = "While the plug is in, keep hands off"
		either    = "The plug goes in either way round, and nothing tells which"
		backwards = "Where an outlet is wired backwards"
		marked    = "polarized and tested. No adapter"
		earth     = "with an earth contact that was tested. No adapter"
		bothHot   = "Both legs of these mains are hot, each 120 V to earth"
		nowhere   = "Nothing of these mains is earthed"
		noSwitch  = "It has no switch for the line"
		hangs     = "Switched off it"
		guard     = "the knob over chassis"
		behind    = "Behind it chassis is live."
		like      = "Replace only like by like: F1 (fuse, 0.5 A) and C1 (class Y1)."
		readings  = "Readings taken on the set are not what"
	)
	all := []string{unfit, isolating, hands, either, backwards, marked, earth, bothHot, nowhere, noSwitch, hangs, guard, behind, like, readings}
	for _, c := range []struct {
		name, set string
		want      []string
	}{
		{"class Y1, polarized", benchSet("", polarized, switched, classY1), []string{backwards, marked, like}},
		{"class Y1, plain", benchSet("", plain, switched, classY1), []string{either, hangs, like}},
		{"earthed", benchSet("", grounding, switched, classY1), []string{earth, like}},
		{"plain film", benchSet("", polarized, switched, film), []string{hands, marked, backwards, hangs}},
		{"tied, plain", benchSet("", plain, switched, tied), []string{unfit, isolating, hands, either, hangs}},
		{"tied, polarized", benchSet("", polarized, switched, tied), []string{unfit, isolating, hands, marked, hangs}},
		{"no switch", benchSet("", polarized, straight, classY1), []string{marked, backwards, noSwitch, like}},
		{"both hot", benchSet("mains = \"240 V 60 Hz\"\nearthed = \"midpoint\"", plain, switched, classY1), []string{bothHot, hangs, like}},
		{"earthed nowhere", benchSet(`earthed = "nowhere"`, plain, switched, classY1), []string{nowhere, hangs, like}},
		{"knob", strings.Replace(benchSet("", polarized, switched, classY1), `touch = "chassis"`, `touch = "chassis", guard = "knob"`, 1), []string{guard, marked, like}},
		{"live behind a knob", strings.Replace(benchSet("", plain, switched, tied), `touch = "chassis"`, `touch = "chassis", guard = "knob"`, 1), []string{guard, behind, either, hangs}},
		{"live behind a doubtful knob", strings.Replace(benchSet("", plain, switched, tied), `touch = "chassis"`, `touch = "chassis", guard = "knob", guard_condition = "suspect"`, 1),
			[]string{unfit, isolating, hands, either, hangs}},
		{"readings", benchSet("", polarized, switched, classY1) + "[[readings]]\nat = [\"chassis\", \"building earth\"]\nvolts = 90\n", []string{readings, backwards, marked, like}},
	} {
		told := ownerOf(t, c.set)
		for _, words := range all {
			if has := strings.Contains(told, words); has != slices.Contains(c.want, words) {
				t.Errorf("%s: tells %q: %v\n%s", c.name, words, has, told)
			}
		}
		for _, words := range []string{notNew, pullIt, "Inside is line voltage", "and no other"} {
			if !strings.Contains(told, words) {
				t.Errorf("%s: does not tell %q", c.name, words)
			}
		}
	}
}

// A set that a plan leaves off its cord is told first as what it is.
func TestOwnerOfASetOffTheCord(t *testing.T) {
	p, err := plan.Parse("plan.toml", []byte("plan = \"cord off\"\n[[steps]]\ndo = \"move\"\npart = \"PL1\"\nfrom = \"line 1\"\nto = \"aside\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	r, err := OfPlan(load(t, benchSet("", polarized, switched, film)), p)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(r.Owner[0], "As described the set is off the line") || len(r.left(rules.OneCapacitor, rules.Warning)) == 0 {
		t.Errorf("told %q, left %d", r.Owner[0], len(r.Left))
	}
}

// What a plan did is told with what each part is and was, moves from one point to another in one go; the set is
// named as reworked.
func TestStepsOfAPlan(t *testing.T) {
	set := load(t, benchSet("", plain, switched, film+`
R2 = { kind = "resistor", ends = ["B-", "chassis"], value = "220k", watts = 0.5, note = "static drain" }
C2 = { kind = "capacitor", ends = ["chassis", "on"], value = "0.05 uF", rating = "400 V", type = "paper" }
C3 = { kind = "capacitor", ends = ["on", "chassis"], value = "10 nF", rating = "400 V", type = "film" }
SW2 = { kind = "switch", ends = ["on", "lamp"], frame = "shaft" }
R3 = { kind = "resistor", ends = ["lamp", "B-"], value = "10k" }`))
	p, err := plan.Parse("plan.toml", []byte(`plan = "all sorts"
[[steps]]
do = "replace"
part = "C1"
as = { kind = "capacitor", ends = ["B-", "chassis"], value = "4.7 nF", rating = "250 V AC", class = "Y1", type = "ceramic", note = "blue disc" }
[[steps]]
do = "remove"
part = "R2"
[[steps]]
do = "move"
part = "C2"
from = "chassis"
to = "B-"
[[steps]]
do = "move"
part = "C3"
from = "chassis"
to = "B-"
[[steps]]
do = "change"
part = "PL1"
as = { style = "polarized", hot = "cord", neutral = "B-" }
[[steps]]
do = "fit"
part = "F2"
as = { kind = "fuse", ends = ["cord", "line 1"], amps = 0.25 }
[[steps]]
do = "change"
part = "C2"
as = { condition = "good" }
[[steps]]
do = "replace"
part = "SW2"
as = { kind = "switch", ends = ["on", "lamp"] }
[[steps]]
do = "mark"
node = "chassis"
as = { guard = "cabinet" }
`))
	if err != nil {
		t.Fatal(err)
	}
	r, err := OfPlan(set, p)
	if err != nil {
		t.Fatal(err)
	}
	want := []Done{
		{1, 1, "replaced C1: capacitor, 4.7 nF ceramic, 250 V AC, class Y1 (blue disc); it was 0.1 µF film, 600 V"},
		{2, 2, "removed R2: resistor, 220 kΩ, 0.5 W (static drain)"},
		{3, 4, "moved from chassis to B-: C2 and C3"},
		{5, 5, "changed PL1: now polarized plug; it was plain plug; hot from line 1 to cord"},
		{6, 6, "fitted F2: fuse, 0.25 A, cord to line 1"},
		{7, 7, "changed C2: taken as good; it was doubtful"},
		{8, 8, "replaced SW2: switch, 1 pole; its metal no more on shaft"},
		{9, 9, "put a cabinet on chassis"},
	}
	if got := r.Done(); !slices.Equal(got, want) {
		t.Errorf("told\n%v\nwant\n%v", got, want)
	}
	if name := r.After.Case.Set.Name; name != "Bench set, reworked" {
		t.Errorf("it is called %q", name)
	}
}

// What two files have different is told as what was done.
func TestDifferences(t *testing.T) {
	before := load(t, benchSet("", plain, switched, film+`
R2 = { kind = "resistor", ends = ["B-", "chassis"], value = "220k" }
C2 = { kind = "capacitor", ends = ["on", "B-"], value = "0.05 uF", rating = "400 V", type = "paper" }`))
	after := load(t, strings.Replace(benchSet("", polarized, switched, classY1+`
C2 = { kind = "capacitor", ends = ["fused", "B-"], value = "0.05 uF", rating = "400 V", type = "paper", condition = "good" }
F2 = { kind = "fuse", ends = ["B-", "return"] }
R4 = { kind = "resistor", ends = ["return", "on"], value = "1 meg" }`), `{ touch = "chassis" }`, `{ touch = "chassis", guard = "cover" }`, 1))
	var got []string
	for i, s := range OfSets(before, after).Steps {
		if s.Number != i+1 || s.Part == "" || s.Do == "" {
			t.Errorf("step %d is %+v", i+1, s)
		}
		got = append(got, s.Text)
	}
	want := []string{
		"replaced PL1: polarized plug; it was plain plug",
		"replaced C1: capacitor, 4.7 nF, 250 V AC, class Y1; it was 0.1 µF film, 600 V",
		"removed R2: resistor, 220 kΩ",
		"changed C2: taken as good; it was doubtful; end 1 from on to fused",
		"fitted F2: fuse, no rating given, B- to return",
		"fitted R4: resistor, 1 MΩ, return to on",
		"put a cover on chassis",
	}
	if !slices.Equal(got, want) {
		t.Errorf("told\n%v\nwant\n%v", got, want)
	}
	if same := OfSets(before, before); len(same.Steps) != 0 || len(same.Left) == 0 {
		t.Errorf("of a set against itself %d steps, %d left", len(same.Steps), len(same.Left))
	}
}

// Of every piece of metal of every example there is a hot check both ways of the plug, and none where it is live in
// any position of the switches; and nothing that is told of it promises anything.
func TestExamples(t *testing.T) {
	promise := regexp.MustCompile(`(?i)\b(safe|safely|passed|certif\w+|approved)\b`)
	barred, asked := 0, 0
	for _, e := range examples.Sets() {
		set := load(t, e.Text)
		r := OfSets(set, set)
		told := slices.Concat(r.Owner, r.Cautions)
		for _, i := range r.Left {
			told = append(told, i.Message)
		}
		if said := promise.FindString(strings.Join(told, "\n")); said != "" {
			t.Errorf("%s: says %q", e.Name, said)
		}
		hot := 0
		for i := range r.Readings {
			x := &r.Readings[i]
			if !x.HotCheck() {
				continue
			}
			hot++
			class := 0
			for _, m := range r.Now.Metals {
				if slices.Contains(m.Nodes(), x.A) && m.Normal != nil && m.Normal.State.Plug == x.Plug {
					class = int(m.Normal.Class())
				}
			}
			switch {
			case x.Bar == NoBar && class == 2:
				t.Errorf("%s: %s with the plug %s is live, and is to be read", e.Name, x.A, x.Plug)
			case x.Bar == NoBar:
				asked++
			default:
				barred++
			}
		}
		if hot != 2*len(r.Now.Metals) {
			t.Errorf("%s: %d hot checks of %d pieces of metal", e.Name, hot, len(r.Now.Metals))
		}
	}
	if barred < 5 || asked < 20 {
		t.Errorf("%d barred, %d asked for", barred, asked)
	}
}

// TestHandsOff: the owner is told of which metal no hand belongs on, and why: what is live, what startles, what one failure
// makes live, what one layer keeps the line off.
func TestHandsOff(t *testing.T) {
	layer := `T1 = { kind = "transformer", windings = { primary = ["on", "B-"], secondary = ["chassis", "s"] }, volts = { primary = 120, secondary = 6.3 } }`
	for chassis, want := range map[string]string{
		tied: "chassis is live, as told above",
		`C1 = { kind = "capacitor", ends = ["on", "chassis"], value = "0.02 uF", rating = "600 V", type = "film" }`: "chassis is enough to startle",
		`C1 = { kind = "capacitor", ends = ["B-", "chassis"], value = "1 nF", rating = "600 V", type = "film" }`:    "chassis is one failure from live",
		layer:   "One layer of insulation is all that keeps the line off chassis: do not touch it",
		classY1: "",
	} {
		set := load(t, benchSet("", polarized, switched, chassis))
		if got := OfSets(set, set).notToTouch(); want == "" && got != "" || !strings.Contains(got, want) {
			t.Errorf("%s\ntold: %s\nwant: %s", chassis, got, want)
		}
	}
}
