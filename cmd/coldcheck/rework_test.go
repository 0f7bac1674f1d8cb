package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/plan"
	"coldcheck/netlist/setfile"
)

// reworkExamples goes into a folder of its own for each example plan, with set.toml and plan.toml in
// it.
func reworkExamples(t *testing.T, visit func(t *testing.T, name string)) {
	t.Helper()
	for _, p := range examples.Plans() {
		t.Run(p.Name, func(t *testing.T) {
			set, ok := examples.FindSet(strings.TrimSuffix(p.Name, examples.PlanSuffix))
			if !ok {
				t.Fatal("no set for the plan")
			}
			t.Chdir(t.TempDir())
			for name, text := range map[string]string{"set.toml": set.Text, "plan.toml": p.Text} {
				if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			visit(t, p.Name)
		})
	}
}

// TestGoldenPlans holds the whole report of every example plan against the one that was read and
// found right.
func TestGoldenPlans(t *testing.T) {
	folder, err := filepath.Abs(filepath.Join("..", "..", "testdata", "golden"))
	if err != nil {
		t.Fatal(err)
	}
	reworkExamples(t, func(t *testing.T, name string) {
		for format, ending := range map[string]string{formatText: ".txt", formatJSON: ".json"} {
			got, status := ran(t, "", "rework", "--format", format, "set.toml", "plan.toml")
			if status != statusOK {
				t.Errorf("status %d: the plan leaves a WARNING or more", status)
			}
			want := filepath.Join(folder, name+ending)
			golden(t, want, got)
		}
	})
}

// TestReworkFits: no line of a report is wider than the page but the keys of a step, and none
// promises safety.
func TestReworkFits(t *testing.T) {
	proposed := false
	reworkExamples(t, func(t *testing.T, name string) {
		commands := [][]string{{"rework", "set.toml", "plan.toml"}}
		if proposed = !proposed; proposed { // every other set: looking for plans takes its time
			commands = append(commands, []string{"rework", "--propose", "set.toml"})
		}
		for _, args := range commands {
			out, _ := ran(t, "", args...)
			for line := range strings.Lines(out) {
				if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > text.Width && !strings.HasPrefix(line, "as ") {
					t.Errorf("%s: %d columns: %s", args, n, line)
				}
			}
			for _, promise := range []string{"is safe", "are safe", "safe to"} {
				if strings.Contains(strings.ToLower(out), promise) {
					t.Errorf("%s says %q", args, promise)
				}
			}
		}
	})
}

// TestReworkWrites: what --write writes is the set that the report judged, read back.
func TestReworkWrites(t *testing.T) {
	reworkExamples(t, func(t *testing.T, name string) {
		var out, errs bytes.Buffer
		if status := run([]string{"rework", "--write", "after.toml", "set.toml", "plan.toml"}, nil, &out, &errs); status != statusOK {
			t.Fatalf("status %d: %s", status, &errs)
		}
		if !strings.Contains(errs.String(), "remarks (#) of set.toml") {
			t.Errorf("not told that remarks are not kept: %s", &errs)
		}
		set, err := setfile.LoadFile("set.toml", nil)
		if err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile("plan.toml")
		if err != nil {
			t.Fatal(err)
		}
		plan, err := plan.Parse("plan.toml", data)
		if err != nil {
			t.Fatal(err)
		}
		want, err := plan.ApplyAll(set)
		if err != nil {
			t.Fatal(err)
		}
		got, err := setfile.LoadFile("after.toml", nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(got.Parts) != len(want.Parts) || len(got.Parts) == 0 {
			t.Fatalf("%d parts, want %d", len(got.Parts), len(want.Parts))
		}
		for i, p := range want.Parts {
			q := got.Parts[i]
			if p.Name != q.Name || p.Kind != q.Kind || p.Condition != q.Condition || p.Frame != q.Frame {
				t.Errorf("%+v reads back as %+v", p, q)
			}
			if diff := cmp.Diff(p.Detail, q.Detail); diff != "" {
				t.Errorf("%s (-want +got):\n%s", p.Name, diff)
			}
		}
		for i, n := range want.Nodes {
			m := got.Nodes[i]
			if n.Name != m.Name || n.Touch != m.Touch || n.Guard != m.Guard || n.GuardSuspect != m.GuardSuspect {
				t.Errorf("%+v reads back as %+v", n, m)
			}
		}
	})
}

// TestReworkUnlooked: what is not looked at of a large set is told in every form of the report.
func TestReworkUnlooked(t *testing.T) {
	t.Chdir(t.TempDir())
	set := "[set]\nname = \"Switches\"\n[nodes]\nchassis = { touch = \"chassis\" }\n[parts]\n" +
		"PL1 = { kind = \"plug\", hot = \"L\", neutral = \"N\" }\nC1 = { kind = \"capacitor\", ends = [\"N\", \"chassis\"], value = \"0.1 uF\", type = \"paper\" }\n"
	for i := range 9 {
		set += fmt.Sprintf("S%d = { kind = \"switch\", ends = [\"L\", \"s%d\"] }\nQ%d = { kind = \"resistor\", ends = [\"s%d\", \"N\"], value = 1000 }\n", i, i, i, i)
	}
	plan := "plan = \"loads\"\n"
	for i := range 8 {
		plan += fmt.Sprintf("[[steps]]\ndo = \"fit\"\npart = \"X%d\"\nas = { kind = \"resistor\", ends = [\"L\", \"N\"], value = 1000 }\n", i)
	}
	for name, text := range map[string]string{"set.toml": set, "plan.toml": plan} {
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for _, format := range []string{formatText, formatJSON, formatHTML} {
		var out, errs bytes.Buffer
		if status := run([]string{"rework", "--format", format, "set.toml", "plan.toml"}, nil, &out, &errs); status != statusFound || errs.Len() > 0 {
			t.Fatalf("%s: status %d: %s", format, status, &errs)
		}
		if format == formatJSON {
			checkUnlooked(t, out.String())
			continue
		}
		begin := map[string]string{formatText: "not looked at  what stands on the way after steps ", formatHTML: "Not looked at:</strong> what stands on the way after steps "}[format]
		told := out.String()
		flat := strings.Join(strings.Fields(told), " ")
		if !strings.Contains(told, begin) || !strings.Contains(flat, "do not plug in before step 8 is done") {
			t.Errorf("%s does not tell what was not looked at:\n%s", format, told)
		}
	}
}

// checkUnlooked holds the JSON of eight steps, not all of them looked at, to say which.
func checkUnlooked(t *testing.T, text string) {
	t.Helper()
	var got struct {
		Unlooked int `json:"unlooked_from"`
		Searched int
		Stages   []struct{ Step int }
	}
	if err := json.Unmarshal([]byte(text), &got); err != nil {
		t.Fatal(err)
	}
	if n := len(got.Stages); n == 0 || n >= 7 || got.Unlooked != got.Stages[n-1].Step+1 {
		t.Errorf("stages %v are told, and those from step %d on were not looked at", got.Stages, got.Unlooked)
	}
	if got.Searched != analysis.DefaultFaults {
		t.Errorf("looked at up to %d failures at once, want %d", got.Searched, analysis.DefaultFaults)
	}
	checkJSON(t, printedSchema(t, "rework", true), text)
}
