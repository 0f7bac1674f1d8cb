package main

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"coldcheck/rules/phrase"
)

// TestUnpairedIsTold: up to 16 pieces of metal are looked at in pairs; of more, every form of the report
// names those that were left out.
func TestUnpairedIsTold(t *testing.T) {
	const most = 16
	for _, points := range []int{12, most, most + 1, 45} {
		text := manyPoints(points)
		brief, _ := ran(t, text, "inspect", "--brief", "-")
		full, _ := ran(t, text, "inspect", "-")
		page, _ := ran(t, text, "inspect", "--format", "html", "-")
		out, _ := ran(t, text, "inspect", "--format", "json", "-")
		var report struct {
			Between []struct{ Nodes [2]string }
			LeftOut [][]string `json:"pairs_left_out"`
		}
		if err := json.Unmarshal([]byte(out), &report); err != nil {
			t.Fatal(err)
		}
		paired := min(points, most)
		if len(report.Between) != paired*(paired-1)/2 || len(report.LeftOut) != points-paired {
			t.Errorf("%d points: %d pairs, and %d pieces left out", points, len(report.Between), len(report.LeftOut))
		}
		met := map[string]bool{}
		for _, pair := range report.Between {
			met[pair.Nodes[0]], met[pair.Nodes[1]] = true, true
		}
		var names []string
		for _, piece := range report.LeftOut {
			names = append(names, piece...)
			if met[piece[0]] {
				t.Errorf("%d points: %s is in pairs and left out", points, piece[0])
			}
		}
		words := "hand to hand: " + phrase.List(names) + ", for the pieces of metal are too many to take in pairs"
		for form, out := range map[string]string{"brief": brief, "text": full, "page": page} {
			out = strings.Join(strings.Fields(out), " ")
			if told := strings.Contains(out, "too many to take in pairs"); told != (points > most) || told && !strings.Contains(out, words) {
				t.Errorf("%d points: the %s has not %q", points, form, words)
			}
		}
	}
}

// manyPoints is a set with so many touch points, each behind a capacitor of its own.
func manyPoints(points int) string {
	var nodes, parts strings.Builder
	for i := range points {
		fmt.Fprintf(&nodes, "\"screw %d\" = { touch = \"fastener\" }\n", i)
		fmt.Fprintf(&parts, "C%d = { kind = \"capacitor\", ends = [\"line 1\", \"screw %d\"], value = \"0.001 uF\", type = \"film\", rating = \"400 V\" }\n", i, i)
	}
	return "[set]\nname = \"many screws\"\n[nodes]\n" + nodes.String() +
		"[parts]\nPL1 = { kind = \"plug\", hot = \"line 1\", neutral = \"line 2\" }\nM1 = { kind = \"motor\", ends = [\"line 1\", \"line 2\"], volts = 120, watts = 20 }\n" + parts.String()
}
