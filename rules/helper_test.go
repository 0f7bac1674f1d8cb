package rules

import (
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

// head is the start of every small set: one bare chassis, 120 V 60 Hz. What follows are lines of
// [parts], unless they open a section of their own.
const head = `[set]
name = "trial"
[nodes]
chassis = { touch = "chassis" }
[parts]
`

// load reads a set of head and these lines.
func load(t *testing.T, lines ...string) *netlist.Set {
	t.Helper()
	return loadWhole(t, head+strings.Join(lines, "\n")+"\n")
}

// loadWhole reads a whole set file.
func loadWhole(t *testing.T, text string) *netlist.Set {
	t.Helper()
	return settest.Load(t, text)
}

// check examines a set of head and these lines on the mains.
func check(t *testing.T, lines ...string) *Report {
	t.Helper()
	return checkOn(t, analysis.Bench{}, lines...)
}

// checkOn does so on a bench.
func checkOn(t *testing.T, bench analysis.Bench, lines ...string) *Report {
	t.Helper()
	return checkSet(t, load(t, lines...), bench)
}

func checkSet(t *testing.T, set *netlist.Set, bench analysis.Bench) *Report {
	t.Helper()
	return Check(analysistest.New(t, set, bench), analysis.Options{Faults: analysis.DefaultFaults})
}

// findings are those of one rule.
func findings(r *Report, rule string) []Finding {
	var found []Finding
	for _, f := range r.Findings {
		if f.Rule.Name == rule {
			found = append(found, f)
		}
	}
	return found
}

// one expects exactly one finding of a rule, with that signal, whose message holds these words.
func one(t *testing.T, r *Report, rule string, signal Signal, words ...string) Finding {
	t.Helper()
	found := findings(r, rule)
	if len(found) != 1 {
		t.Fatalf("%d findings of %s, expected one:\n%s", len(found), rule, messages(r))
	}
	f := found[0]
	if f.Signal != signal {
		t.Errorf("%s is %s, expected %s: %s", rule, f.Signal, signal, f.Message)
	}
	for _, w := range words {
		if !strings.Contains(f.Message, w) {
			t.Errorf("%s does not say %q: %s", rule, w, f.Message)
		}
	}
	return f
}

// silent expects no finding of a rule.
func silent(t *testing.T, r *Report, rule string) {
	t.Helper()
	if n := len(findings(r, rule)); n > 0 {
		t.Errorf("%d findings of %s, expected none:\n%s", n, rule, messages(r))
	}
}

func messages(r *Report) string {
	var b strings.Builder
	for _, f := range r.Findings {
		b.WriteString(f.Signal.String() + " " + f.Rule.Name + ": " + f.Message + "\n")
	}
	return b.String()
}

// The line side of the small sets: cord, switch, a load of 800 Ω, and a class Y capacitor from
// B-minus to the chassis.
const (
	plain     = `PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }`
	polarized = `PL1 = { kind = "plug", style = "polarized", hot = "line 1", neutral = "line 2" }`
	grounding = `PL1 = { kind = "plug", style = "grounding", hot = "line 1", neutral = "line 2", earth = "chassis" }`
	loadHB    = `R1 = { kind = "resistor", ends = ["H", "B-"], value = 800 }`
	toChassis = `CY = { kind = "capacitor", ends = ["B-", "chassis"], value = "4.7 nF", class = "Y2" }`
	switchHot = `S1 = { kind = "switch", ends = ["line 1", "H"] }`
	wireHot   = `W1 = { kind = "wire", ends = ["line 1", "H"] }`
	wireNeut  = `W2 = { kind = "wire", ends = ["line 2", "B-"] }`
	switchNeu = `S1 = { kind = "switch", ends = ["line 2", "B-"] }`
	switchTwo = `S1 = { kind = "switch", poles = [["line 1", "H"], ["line 2", "B-"]] }`
)
