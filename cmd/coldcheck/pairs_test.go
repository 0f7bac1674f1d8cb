package main

import (
	"fmt"
	"strings"
	"testing"
)

// TestUnpairedIsTold: where the touch points are too many to be looked at in pairs, every form of the
// report says what was left out.
func TestUnpairedIsTold(t *testing.T) {
	for _, c := range []struct {
		points            int
		suspect           bool
		words, key, other string
	}{
		{45, true, "hand to hand where a suspect part fails beside another part: 45 touch points", `"not_paired_beside": true`, `"not_paired": true`},
		{65, true, "hand to hand: 65 touch points", `"not_paired": true`, `"not_paired_beside": true`},
		{45, false, "", "", `"not_paired`},
		{12, true, "", "", `"not_paired`},
	} {
		text := manyPoints(c.points, c.suspect)
		brief, _ := ran(t, text, "inspect", "--brief", "-")
		full, _ := ran(t, text, "inspect", "-")
		page, _ := ran(t, text, "inspect", "--format", "html", "-")
		json, _ := ran(t, text, "inspect", "--format", "json", "-")
		for form, out := range map[string]string{"brief": brief, "text": full, "page": page} {
			out = strings.Join(strings.Fields(out), " ")
			if told := strings.Contains(out, "too many to take in pairs"); told != (c.words != "") || !strings.Contains(out, c.words) {
				t.Errorf("%d points, suspect %v: the %s has no %q", c.points, c.suspect, form, c.words)
			}
		}
		if !strings.Contains(json, c.key) || strings.Contains(json, c.other) {
			t.Errorf("%d points, suspect %v: JSON has not %s, or has %s", c.points, c.suspect, c.key, c.other)
		}
	}
}

// manyPoints is a set with so many touch points, each behind a capacitor of its own; the first is
// suspect, if so wanted.
func manyPoints(points int, suspect bool) string {
	var nodes, parts strings.Builder
	for i := range points {
		fmt.Fprintf(&nodes, "\"screw %d\" = { touch = \"fastener\" }\n", i)
		condition := ""
		if suspect && i == 0 {
			condition = `, condition = "suspect"`
		}
		fmt.Fprintf(&parts, "C%d = { kind = \"capacitor\", ends = [\"line 1\", \"screw %d\"], value = \"0.001 uF\", type = \"film\", rating = \"400 V\"%s }\n", i, i, condition)
	}
	return "[set]\nname = \"many screws\"\n[nodes]\n" + nodes.String() +
		"[parts]\nPL1 = { kind = \"plug\", hot = \"line 1\", neutral = \"line 2\" }\nM1 = { kind = \"motor\", ends = [\"line 1\", \"line 2\"], volts = 120, watts = 20 }\n" + parts.String()
}
