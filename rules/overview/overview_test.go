package overview

import (
	"slices"
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist/settest"
	"coldcheck/rules"
)

// of puts in order what is found in a set of one chassis and these parts.
func of(t *testing.T, parts string) *Overview {
	t.Helper()
	text := "[set]\nname = \"trial\"\n[nodes]\nchassis = { touch = \"chassis\" }\nclip = { touch = \"antenna\" }\n[parts]\n" +
		"I8 = { kind = \"insulation\", ends = [\"line 2\", \"chassis\"], grade = \"reinforced\" }\n" +
		"I9 = { kind = \"insulation\", ends = [\"line 2\", \"clip\"], grade = \"reinforced\" }\n" + parts
	return Of(rules.Check(analysistest.New(t, settest.Load(t, text), analysis.Bench{}), analysis.Options{Faults: analysis.DefaultFaults}))
}

// what is a failure in a word.
func what(failures []Failure) string {
	var words []string
	for _, f := range failures {
		words = append(words, f.Part)
	}
	return strings.Join(words, " ")
}

// What lets go first comes first, whatever the order of the file: doubtful paper, other doubtful parts,
// capacitors, insulation, windings, what is lost or pulled, resistors.
func TestAloneInTheOrderInWhichThingsLetGo(t *testing.T) {
	o := of(t, `PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
R1 = { kind = "resistor", ends = ["line 1", "chassis"], value = "1M" }
T1 = { kind = "transformer", windings = { primary = ["line 1", "line 2"], secondary = ["chassis", "s"] } }
I1 = { kind = "insulation", ends = ["line 1", "chassis"], grade = "basic" }
C1 = { kind = "capacitor", ends = ["line 1", "chassis"], value = "1 nF", type = "mica" }
`)
	if len(o.Metals) != 2 {
		t.Fatalf("%d pieces of metal", len(o.Metals))
	}
	if got, want := what(o.Metals[0].Alone), "C1 I1 T1 R1"; got != want {
		t.Errorf("alone %s, want %s", got, want)
	}
	doubtful := of(t, `PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
I1 = { kind = "insulation", ends = ["line 1", "chassis"], grade = "functional" }
C2 = { kind = "capacitor", ends = ["line 1", "chassis"], value = "1 nF", type = "paper" }
`)
	if got, want := what(doubtful.Metals[0].Alone), "C2 I1"; got != want {
		t.Errorf("alone %s, want %s", got, want)
	}
	if o := doubtful.Metals[0].Alone; o[0].Order != Paper || o[1].Order != Doubtful {
		t.Errorf("orders %v and %v", o[0].Order, o[1].Order)
	}
}

// The worst metal comes first, metal of which nothing is found last, and every finding has its place.
func TestMetalsWorstFirst(t *testing.T) {
	o := of(t, `PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
S1 = { kind = "switch", ends = ["line 2", "clip"] }
R1 = { kind = "resistor", ends = ["line 1", "clip"], value = 100 }
`)
	if first := o.Metals[0]; first.Node() != "clip" || first.Signal != rules.Danger || !first.Found {
		t.Errorf("first is %s, %s", first.Node(), first.Signal)
	}
	if last := o.Metals[1]; last.Node() != "chassis" || last.Found {
		t.Errorf("last is %s, found %v", last.Node(), last.Found)
	}
	if off := o.Metals[0].Off; off == nil || off.Class() != analysis.Live || off.State.At("S1") != "off" {
		t.Errorf("off is %v", off)
	}
	told := 0
	for _, m := range o.Metals {
		told += len(m.Findings())
	}
	for _, ideas := range [][]Idea{o.Line, o.Parts, o.Notes} {
		for _, i := range ideas {
			told += len(i.Findings)
		}
	}
	if n := len(o.Report.Findings); told+len(o.Hands) != n {
		t.Errorf("%d of %d findings have a place", told+len(o.Hands), n)
	}
	if w := o.Worst(); w == nil || w.Rule != rules.HotChassis {
		t.Errorf("worst is %v", w)
	}
}

// A set without a switch has no off.
func TestNoOffWithoutASwitch(t *testing.T) {
	o := of(t, `PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
R1 = { kind = "resistor", ends = ["line 1", "line 2"], value = 100 }
`)
	if m := o.Metals[0]; m.HasOff || m.Off != nil {
		t.Errorf("off is %v", m.Off)
	}
}

func TestGist(t *testing.T) {
	long := strings.Repeat("word ", 18)
	for _, x := range []struct{ remedy, want string }{
		{"Fit a fuse.", "Fit a fuse"},
		{"fit one (4.7 nF keeps it small), or two", "fit one, or two"},
		{"fit this; then " + long + long, "fit this"},
		{"Fit this. " + long + ". Then that.", "Fit this. " + long[:len(long)-1]},
		{long + long + "; and more", long + long[:len(long)-1]},
		{long + long, long + long[:len(long)-1]},
		{"choose 1.5 nF" + long + ", or 2 nF " + long, "choose 1.5 nF" + long[:len(long)-1]},
	} {
		if got := Gist(x.remedy); got != x.want {
			t.Errorf("Gist(%q) = %q, want %q", x.remedy, got, x.want)
		}
	}
}

// Every rule whose findings stand in the line side, the parts or the notes has its few words.
func TestEveryIdeaHasItsWords(t *testing.T) {
	for _, r := range rules.All {
		if needs := r.Subject != rules.OfMetal && r.Subject != rules.OfPair; needs != (short[r] != "") {
			t.Errorf("%s: needs words %v, has %q", r.Name, needs, short[r])
		}
	}
}

// What is said of the line side alone has no part's name before it; what is said of parts has.
func TestOfParts(t *testing.T) {
	for rule, want := range map[*rules.Rule]bool{rules.NoFuse: false, rules.NoSwitch: false, rules.LineShort: false, rules.CapacitorClass: true, rules.FuseRating: true} {
		if got := (Idea{Rule: rule}).OfParts(); got != want {
			t.Errorf("%s: of parts %v", rule.Name, got)
		}
	}
}

// No sentence is told twice, and none that says what holds for all work beside the one that does.
func TestCaresOnce(t *testing.T) {
	var findings []rules.Finding
	for _, r := range rules.All {
		for range 2 {
			findings = append(findings, rules.Finding{Rule: r, Signal: rules.Warning, Caution: r.Caution})
		}
	}
	var texts []string
	for _, c := range caresOf(&rules.Report{Findings: findings}) {
		if slices.Contains(texts, c.Text) {
			t.Errorf("twice: %s", c.Text)
		}
		if c.Rule != nil && isGeneral(c.Text) {
			t.Errorf("%s says what holds for all work: %s", c.Rule.Name, c.Text)
		}
		if !strings.HasSuffix(c.Text, ".") {
			t.Errorf("no sentence: %s", c.Text)
		}
		texts = append(texts, c.Text)
	}
	if len(texts) < len(general)+20 {
		t.Errorf("only %d cautions", len(texts))
	}
}

// What makes two points of one piece of metal live does so in one way.
func TestOnePieceIsMadeLiveInOneWay(t *testing.T) {
	o := of(t, `PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
C1 = { kind = "capacitor", ends = ["line 1", "chassis"], value = "1 nF", type = "mica" }
W1 = { kind = "wire", ends = ["chassis", "clip"] }
`)
	if got := o.Metals[0].Alone; len(o.Metals) != 1 || len(got) != 1 || got[0].Part != "C1" || got[0].Ways != 1 {
		t.Errorf("%d pieces, alone %+v", len(o.Metals), got)
	}
}
