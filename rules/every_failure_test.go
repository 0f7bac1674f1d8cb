package rules

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/settest"
	"coldcheck/rules/phrase"
)

// Every single failure that makes a point live is named by some finding that speaks of the point.
func TestEverySingleFailureIsTold(t *testing.T) {
	// However few random sets are drawn, one has a single failure.
	e, _ := examples.FindSet("floating-b-minus")
	if everyFailureTold(t, e.Text) == 0 {
		t.Fatal("no single failure makes the chassis of the floating set live")
	}
	settest.Check(t, 300, func(t *rapid.T) {
		everyFailureTold(t, settest.Draw(t, lawful).Text())
	})
}

// everyFailureTold looks at one set, and counts the failures.
func everyFailureTold(t settest.TB, text string) (told int) {
	r := Check(analysistest.New(t, settest.Load(t, text), analysis.Bench{}), analysis.Options{Faults: 1})
	for _, p := range r.Case.Result.Points {
		for _, s := range p.FaultSets {
			if len(s.Faults) != 1 || s.Faults[0].Kind == analysis.GuardOff {
				continue
			}
			told++
			if !names(r, p.Name, s.Faults[0]) {
				t.Fatalf("%s: no finding names %s\n%s\n%s", p.Name, s.Faults[0], tellAll(r), text)
			}
		}
	}
	return told
}

func names(r *Report, node string, f *analysis.Fault) bool {
	for _, x := range r.Findings {
		if !slices.Contains(x.Nodes, node) {
			continue
		}
		words := x.Message + strings.Join(x.Notes, "\n")
		switch {
		case slices.Contains(x.Parts, f.Part), strings.Contains(words, phrase.Fault(f)):
			return true
		case f.Kind == analysis.NeutralLost && strings.Contains(words, phrase.Once(f)):
			return true
		case r.Case.Set.Earthed == netlist.EarthedNowhere && x.Rule.Live:
			return true // live as soon as anything else of the line meets earth, by whatever part
		case f.Kind == analysis.EarthLost && strings.Contains(words, "earth"):
			return true
		}
	}
	return false
}

// The neutral lost and the earth lost are two failures of the supply, and each is told by its name.
func TestNeutralAndEarthAreToldApart(t *testing.T) {
	r := check(t, grounding, `W1 = { kind = "wire", ends = ["line 1", "chassis"] }`,
		`V1 = { kind = "tube", type = "35W4", pins = { 5 = "line 1", 7 = "line 1" } }`,
		`C1 = { kind = "capacitor", ends = ["line 1", "line 2"], value = "20 uF" }`,
		`S1 = { kind = "switch", ends = ["line 1", "line 2"] }`)
	for _, fault := range []string{"the earth is lost", "the neutral is lost"} {
		if !slices.ContainsFunc(findings(r, "one-fault"), func(f Finding) bool { return strings.HasSuffix(f.Message, fault) }) {
			t.Errorf("no finding says that %s:\n%s", fault, messages(r))
		}
	}
}
