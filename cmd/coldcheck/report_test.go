package main

import (
	"encoding/json"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/settest"
)

// told is what these tests read of the JSON of inspect.
type told struct {
	TouchPoints []struct {
		Node   string `json:"node"`
		Normal figure `json:"normal"`
	} `json:"touch_points"`
	Findings []struct {
		Rule    string   `json:"rule"`
		Signal  string   `json:"signal"`
		Nodes   []string `json:"nodes"`
		Parts   []string `json:"parts"`
		Message string   `json:"message"`
	} `json:"findings"`
	InShort []struct {
		figure
		Nodes  []string `json:"nodes"`
		Signal string   `json:"signal"`
		Off    figure   `json:"off"`
	} `json:"in_short"`
}

type figure struct {
	Milliamps   *float64     `json:"milliamps"`
	MilliampsDC *float64     `json:"milliamps_dc"`
	State       *statedState `json:"state"`
}

type statedState struct {
	Switches map[string]string `json:"switches"`
	Blown    []string          `json:"blown"`
}

// severity weighs AC and DC by the limits that each has (IEC 62368-1 table 4, ES2).
func (f figure) severity() float64 {
	if f.Milliamps == nil {
		return -1
	}
	return *f.Milliamps/5 + *f.MilliampsDC/25
}

func inspected(t *testing.T, text string, args ...string) string {
	t.Helper()
	out, _ := ran(t, text, append(append([]string{"inspect"}, args...), "-")...)
	return out
}

func toldOf(t *testing.T, text string, args ...string) told {
	t.Helper()
	out := inspected(t, text, append([]string{"--format", "json"}, args...)...)
	var r told
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// The whole of a forty-part set stands in 80 lines, with 8 more for each piece of metal over three.
func TestReportIsShort(t *testing.T) {
	const lines, metals, each = 80, 3, 8
	for _, e := range examples.Sets() {
		out := inspected(t, e.Text)
		most := lines + each*max(0, len(toldOf(t, e.Text).InShort)-metals)
		if n := strings.Count(out, "\n"); n > most {
			t.Errorf("%s: %d lines, and at most %d are wanted", e.Name, n, most)
		}
	}
}

// unwrapped is a text on one line, so that no name is broken by the end of a line.
func unwrapped(text string) string { return strings.Join(strings.Fields(text), " ") }

// Nothing that JSON has is missing in the text: what a finding speaks of is named there, at every width.
func TestReportHasEveryFinding(t *testing.T) {
	findings, narrow := 0, false
	holds := func(t *testing.T, text string, args ...string) {
		r := toldOf(t, text, args...)
		outs := []string{inspected(t, text, args...)}
		if narrow = !narrow; narrow { // every other set, for time
			outs = append(outs, inspected(t, text, append([]string{"--width", "60"}, args...)...))
		}
		for _, out := range outs {
			out = unwrapped(out)
			for _, f := range r.Findings {
				findings++
				named := func(name string) bool { return strings.Contains(out, unwrapped(netlist.Visible(name))) }
				if len(f.Nodes)+len(f.Parts) > 0 && !slices.ContainsFunc(f.Nodes, named) && !slices.ContainsFunc(f.Parts, named) {
					t.Errorf("%s: %s %v %v is not in the text: %s", f.Signal, f.Rule, f.Nodes, f.Parts, f.Message)
				}
				if !slices.ContainsFunc(f.Nodes, named) && f.Rule == "live-between" {
					t.Errorf("no metal of a pair is named: %s", f.Message)
				}
			}
		}
	}
	for _, e := range examples.Sets() {
		holds(t, e.Text)
	}
	portable, _ := examples.FindSet("three-way-portable")
	holds(t, portable.Text, "--supply", "isolated", "--earthed", "chassis")
	if findings < 200 {
		t.Errorf("only %d findings", findings)
	}
}

var careSection = regexp.MustCompile(`(?s)\nTake care\n(.*?)\n\n`)

// Each caution is told once: no sentence of the section comes twice, in it or anywhere else.
func TestEachCautionOnce(t *testing.T) {
	sentences := 0
	for _, e := range examples.Sets() {
		out := inspected(t, e.Text)
		section := careSection.FindStringSubmatch(out)
		if section == nil {
			t.Fatalf("%s: no section of cautions", e.Name)
		}
		whole := unwrapped(out)
		for _, s := range strings.SplitAfter(unwrapped(section[1]), ". ") {
			sentences++
			if n := strings.Count(whole, strings.TrimSpace(s)); n != 1 {
				t.Errorf("%s: %d times: %s", e.Name, n, s)
			}
		}
	}
	if sentences < 100 {
		t.Errorf("only %d cautions", sentences)
	}
}

// The last line of a report repeats its worst finding.
func TestLastLineIsTheWorst(t *testing.T) {
	for _, e := range examples.Sets() {
		out := inspected(t, e.Text)
		end := out[strings.LastIndex(out, "\n"+toldOf(t, e.Text).Findings[0].Signal)+1:]
		if !strings.Contains(end, " worst: ") || strings.Count(end, "\n") > 4 {
			t.Errorf("%s ends with %q", e.Name, end)
		}
	}
}

// statesOf is the table of the states without faults, every position of the controls among them.
func statesOf(t *testing.T, text string, args ...string) []tableRow {
	t.Helper()
	out, _ := ran(t, text, append(append([]string{"states", "--faults", "0", "--controls", "--format", "json"}, args...), "-")...)
	var table struct {
		States []tableRow `json:"states"`
	}
	if err := json.Unmarshal([]byte(out), &table); err != nil {
		t.Fatal(err)
	}
	return table.States
}

type tableRow struct {
	Switches map[string]string `json:"switches"`
	Cleared  bool              `json:"cleared"`
	Points   []struct {
		Node        string  `json:"node"`
		Milliamps   float64 `json:"milliamps"`
		MilliampsDC float64 `json:"milliamps_dc"`
	} `json:"points"`
}

// worstOf is the worst at a node over the rows that keep lets through and that are not cleared, -1 where
// there is none.
func worstOf(rows []tableRow, node string, keep func(tableRow) bool) float64 {
	worst := -1.0
	for _, row := range rows {
		if row.Cleared || !keep(row) {
			continue
		}
		for _, p := range row.Points {
			if p.Node == node {
				worst = max(worst, figure{&p.Milliamps, &p.MilliampsDC, nil}.severity())
			}
		}
	}
	return worst
}

// signals are the words of in_short, the weakest first.
var signals = []string{"under the limit", "NOTICE", "CAUTION", "WARNING", "DANGER"}

// The answer in short is what the touch points, the findings and the table of states say: each point in one
// row, the worst first, with the worst of everyday use and of every switch off.
func TestInShort(t *testing.T) {
	offs := 0
	holds := func(t interface{ Errorf(string, ...any) }, r told, rows []tableRow) {
		var nodes []string
		last := len(signals)
		for _, row := range r.InShort {
			nodes = append(nodes, row.Nodes...)
			if at := slices.Index(signals, row.Signal); at < 0 || at > last {
				t.Errorf("%v: %s comes after %s", row.Nodes, row.Signal, signals[min(last, len(signals)-1)])
			} else {
				last = at
			}
			strongest := 0
			for _, f := range r.Findings {
				about := !slices.Contains([]string{"live-between", "line-short", "file-notice", "bench-supply", "readings-differ"}, f.Rule) && !strings.HasPrefix(f.Message, "touched by one hand together")
				if about && slices.ContainsFunc(row.Nodes, func(n string) bool { return slices.Contains(f.Nodes, n) }) {
					strongest = max(strongest, slices.Index(signals, f.Signal))
				}
			}
			if signals[strongest] != row.Signal {
				t.Errorf("%v: %s, and its findings say %s", row.Nodes, row.Signal, signals[strongest])
			}
			worst := -1.0
			for _, p := range r.TouchPoints {
				if slices.Contains(row.Nodes, p.Node) {
					worst = max(worst, p.Normal.severity())
				}
			}
			if got := row.severity(); got != worst && (got < 0.98*worst || got > 1.0001*worst) {
				t.Errorf("%v: %v in short, and at its points %v", row.Nodes, got, worst)
			}
			stands := func(at string) func(tableRow) bool {
				return func(s tableRow) bool {
					for _, position := range s.Switches {
						if position == at {
							return true
						}
					}
					return false
				}
			}
			canBeOff, on := slices.ContainsFunc(rows, stands("off")), stands("on")
			cleared := slices.ContainsFunc(rows, func(s tableRow) bool { return s.Cleared && !on(s) })
			off := worstOf(rows, row.Nodes[0], func(s tableRow) bool { return !on(s) })
			switch got := row.Off.severity(); {
			case !canBeOff && row.Off.State != nil:
				t.Errorf("%v: off, and no switch turns off", row.Nodes)
			case !canBeOff:
			case row.Off.State != nil && len(row.Off.State.Blown) > 0: // the table leaves out what a blown fuse leaves
			case off < 0 && got < 0: // every such state is cleared
			case cleared && got >= 0.98*off: // the table leaves out what stands with a failed part's short left out
			case got < 0.98*off || got > 1.001*max(off, 0)+0.001:
				t.Errorf("%v: off %v, and the table says %v", row.Nodes, got, off)
			default:
				offs++
				for name, at := range stated(row.Off.State) {
					if at == "on" {
						t.Errorf("%v: off with %s on", row.Nodes, name)
					}
				}
			}
		}
		var points []string
		for _, p := range r.TouchPoints {
			points = append(points, p.Node)
		}
		slices.Sort(nodes)
		slices.Sort(points)
		if !slices.Equal(nodes, points) {
			t.Errorf("in short are %v, touch points %v", nodes, points)
		}
	}
	for _, e := range examples.Sets() {
		t.Run(e.Name, func(t *testing.T) {
			holds(t, toldOf(t, e.Text), statesOf(t, e.Text))
		})
	}
	bench, _ := examples.FindSet("hot-chassis")
	holds(t, toldOf(t, bench.Text, "--supply", "isolated"), statesOf(t, bench.Text, "--supply", "isolated"))
	settest.Check(t, 25, func(rt *rapid.T) {
		text := settest.Draw(rt, settest.Limits{Parts: [2]int{2, 14}, Switches: 2, Controls: 1, Sections: 2, Failed: true}).Text()
		holds(rt, toldOf(t, text), statesOf(t, text))
	})
	if offs < 20 {
		t.Errorf("only %d rows tell what a switch does that is off", offs)
	}
}

func stated(s *statedState) map[string]string {
	if s == nil {
		return nil
	}
	return s.Switches
}
