package main

import (
	"encoding/json"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/setfile"
)

// How long a checklist of so many parts may be: one or two pages.
const (
	pageParts = 30
	pageLines = 120
)

// TestChecklistFits: every example's checklist fits the paper and promises nothing.
func TestChecklistFits(t *testing.T) {
	for _, e := range examples.Sets() {
		out, status := ran(t, e.Text, "checklist", "-")
		if status != statusOK {
			t.Errorf("%s: status %d", e.Name, status)
		}
		lines := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
		for _, line := range lines {
			if n := utf8.RuneCountInString(line); n > text.Width {
				t.Errorf("%s: %d columns: %s", e.Name, n, line)
			}
		}
		set, err := setfile.Load(e.Name, strings.NewReader(e.Text))
		if err != nil {
			t.Fatal(err)
		}
		if most := pageLines * max(len(set.Parts), pageParts) / pageParts; len(lines) > most {
			t.Errorf("%s: %d lines for %d parts", e.Name, len(lines), len(set.Parts))
		}
		for _, promise := range []string{"is safe", "are safe", "safe to"} {
			if strings.Contains(strings.ToLower(out), promise) {
				t.Errorf("%s says %q", e.Name, promise)
			}
		}
		if again, _ := ran(t, e.Text, "checklist", "-"); again != out {
			t.Errorf("%s: two runs differ:\n%s", e.Name, cmp.Diff(out, again))
		}
	}
}

// TestChecklistForbidsLive: no hot check is asked for in a state in which the metal is live, in any
// rectifier's state, nor, on a plain plug, where it is live the other way round.
func TestChecklistForbidsLive(t *testing.T) {
	forbidden := 0
	for _, e := range examples.Sets() {
		set, err := setfile.Load(e.Name, strings.NewReader(e.Text))
		if err != nil {
			t.Fatal(err)
		}
		c, err := analysis.New(set, analysis.Bench{})
		if err != nil {
			t.Fatal(err)
		}
		_, plug := set.Plug()
		live := map[string]bool{}
		for _, row := range c.Judged() {
			for k, r := range row.Readings {
				if row.Cleared || r.Class() != analysis.Live {
					continue
				}
				ways := []analysis.Polarity{row.State.Plug}
				if plug.Style == "plain" {
					ways = append(ways, row.State.Plug.Other())
				}
				for _, way := range ways {
					live[key(c.Points[k].Name, string(way), slices.Concat(row.State.Settings, row.State.Controls))] = true
				}
			}
		}
		out, _ := ran(t, e.Text, "checklist", "--format", "json", "-")
		var list struct {
			Held bool `json:"hot_held"`
			Hot  []struct {
				Node  string `json:"node"`
				Do    bool   `json:"do"`
				Meter struct {
					Plug     string              `json:"plug"`
					Switches []map[string]string `json:"switches"`
					Controls map[string]string   `json:"controls"`
				} `json:"meter_10_meg"`
			} `json:"hot"`
			Agree *bool `json:"agree"`
		}
		if err := json.Unmarshal([]byte(out), &list); err != nil {
			t.Fatalf("%s: %v", e.Name, err)
		}
		if list.Held != (list.Agree != nil && !*list.Agree) {
			t.Errorf("%s: held %v, agree %v", e.Name, list.Held, list.Agree)
		}
		for _, h := range list.Hot {
			for _, switches := range h.Meter.Switches {
				var settings []analysis.Setting
				for _, control := range c.Switches {
					settings = append(settings, analysis.Setting{Name: control.Name, At: switches[control.Name]})
				}
				for _, control := range c.Controls {
					settings = append(settings, analysis.Setting{Name: control.Name, At: h.Meter.Controls[control.Name]})
				}
				if live[key(h.Node, h.Meter.Plug, settings)] {
					forbidden++
					if h.Do {
						t.Errorf("%s: asks for a reading of live metal: %s, %s, %v", e.Name, h.Node, h.Meter.Plug, switches)
					}
				}
			}
		}
	}
	if forbidden == 0 {
		t.Error("no example has live metal: nothing was looked at")
	}
}

func key(node, way string, settings []analysis.Setting) string {
	var b strings.Builder
	b.WriteString(node + "\x00" + way)
	for _, s := range settings {
		b.WriteString("\x00" + s.At)
	}
	return b.String()
}

// TestChecklistGolden holds two whole checklists, one with readings that differ, against those that
// were read and found right.
func TestChecklistGolden(t *testing.T) {
	for _, name := range []string{"floating-b-minus", "line-bypass-leaky"} {
		e, ok := examples.FindSet(name)
		if !ok {
			t.Fatalf("no example %s", name)
		}
		got, _ := ran(t, e.Text, "checklist", "-")
		want := filepath.Join("testdata", "checklist", name+".txt")
		golden(t, want, got)
	}
}
