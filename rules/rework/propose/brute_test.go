package propose

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/analysis/budget"
	"coldcheck/rules/rework/internal/examine"
	"coldcheck/rules/rework/internal/reworktest"
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

// bruteCases is how many small sets are searched by brute force, and bruteRemedies up to how many remedies.
const (
	bruteCases    = 24
	bruteRemedies = 3
)

// TestNoSmallerPlan tries, for small sets, every set of the list's remedies that has fewer than the
// first plan: none may end well, with nothing nearer to the line than before. The larger measures are banned one after the other, as for plans of
// another kind, so that plans need more remedies.
func TestNoSmallerPlan(t *testing.T) {
	sizes := make([]int, maxRemedies+1)
	tried, harms := 0, 0
	for i := range bruteCases {
		text := smallSet.Example(i)
		s := newSearch(reworktest.Load(t, text), budget.Candidates)
		s.before = examine.Report(s.set, examine.OneFailure).Case.Result
		l := lawOf(s.set)
		for _, c := range s.getAll(alone(s)) { // what one remedy does alone
			if c.invalid {
				continue
			}
			if at := l.broken(c.set); c.harms != (at != "") {
				t.Errorf("%q brings %q nearer to the line, and the search says %t, for\n%s", keyOf(c.remedies), at, c.harms, text)
			}
			harms += flag(c.harms)
		}
		for _, ban := range []measure{switching, isolating, earthing, guarding} {
			if ban != switching { // which is never banned, and stands for none
				s.banned[ban] = true
			}
			found := s.smallest()
			if s.stopped {
				t.Fatalf("the bound ended the search for\n%s", text)
			}
			least := bruteRemedies + 1
			if len(found) > 0 {
				least = len(found[0].remedies)
				sizes[least]++
			}
			n, c := bruteForce(s, l, min(least, bruteRemedies+1))
			tried += n
			for _, c := range found {
				if at := l.broken(c.set); at != "" {
					t.Errorf("a plan brings %s nearer to the line: %q, for\n%s", at, keyOf(c.remedies), text)
				}
			}
			if c != nil {
				t.Errorf("%d remedies end well: %q, and the search found %d plans of %d, for\n%s", len(c.remedies), keyOf(c.remedies), len(found), least, text)
			}
		}
	}
	if sizes[2] < 5 || sizes[3] < 3 || tried < 500 || harms == 0 {
		t.Errorf("too easy: plans by size %v, %d altered sets tried, %d remedies that harm", sizes, tried, harms)
	}
}

// alone are the remedies of the list, each alone.
func alone(s *search) (all [][]*remedy) {
	for _, r := range s.getAll([][]*remedy{nil})[0].all {
		all = append(all, []*remedy{r})
	}
	return all
}

func flag(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// bruteForce tries every set of fewer remedies and gives one that ends well and keeps the law, nil where none
// does, and how many it tried.
func bruteForce(s *search, l *law, fewer int) (tried int, well *candidate) {
	level := s.getAll([][]*remedy{nil})
	root := level[0]
	seen := map[string]bool{}
	for n := 0; n < fewer; n++ {
		var next [][]*remedy
		for _, c := range level {
			switch {
			case c.invalid:
				continue
			case len(c.open) == 0 && l.broken(c.set) == "":
				return tried, c
			}
			remedies := c.all
			if len(c.open) == 0 {
				remedies = root.all // nothing is left that would ask for one
			}
			for _, r := range s.allowed(c, remedies) {
				if remedies := with(c.remedies, r); !seen[keyOf(remedies)] {
					seen[keyOf(remedies)] = true
					next = append(next, remedies)
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

// getAll is examineAll without the budgets.
func (s *search) getAll(all [][]*remedy) []*candidate {
	left, work := s.left, s.work
	out := make([]*candidate, 0, len(all))
	for now := range slices.Chunk(all, together) {
		s.left, s.work = budget.New(together), budget.New(budget.Plans)
		out = append(out, s.examineAll(now)...)
	}
	s.left, s.work = left, work
	return out
}
