package overview

import (
	"slices"
	"strings"
	"testing"

	"coldcheck/netlist/setfile"
)

// What is on the way and not in the file is told in the order of what it may change, and no more than two of it.
func TestUntraced(t *testing.T) {
	const (
		head     = "[set]\nname = \"bench\"\n[nodes]\nchassis = { touch = \"chassis\" }\n"
		antenna  = "lead = { touch = \"antenna\" }\n"
		shaft    = "shaft = { touch = \"control\" }\n"
		parts    = "[parts]\nPL1 = { kind = \"plug\", hot = \"line 1\", neutral = \"B-\" }\nI1 = { kind = \"insulation\", ends = [\"B-\", \"chassis\"] }\n"
		lead     = "C1 = { kind = \"capacitor\", ends = [\"lead\", \"B-\"], value = \"1 nF\" }\n"
		loose    = "W1 = { kind = \"wire\", ends = [\"shaft\", \"a\"] }\n"
		bare     = "V1 = { kind = \"tube\", type = \"12BE6\", pins = { 3 = \"h1\", 4 = \"B-\" } }\n"
		bareRect = "V2 = { kind = \"tube\", type = \"35W4\", pins = { 3 = \"h1\", 4 = \"line 1\" } }\n"
		wired    = "V1 = { kind = \"tube\", type = \"12BE6\", pins = { 2 = \"B-\", 3 = \"h1\", 4 = \"B-\" } }\n"
		rect     = "V2 = { kind = \"tube\", type = \"35W4\", pins = { 3 = \"h1\", 4 = \"line 1\", 5 = \"line 1\", 7 = \"B+\" } }\n"
		audio    = "V1 = { kind = \"tube\", type = \"50C5\", pins = { 1 = \"B-\", 3 = \"h1\", 4 = \"B-\" } }\n"
	)
	for _, tt := range []struct {
		name, text string
		want       []string
	}{
		{"all is there", head + antenna + parts + lead + wired + rect, nil},
		{"no antenna", head + parts + wired + rect, []string{"the antenna"}},
		{"no antenna is due", head + parts + audio + rect, nil},
		{"a touch point adrift", head + antenna + shaft + parts + lead + loose + wired + rect, []string{"what holds shaft to the set"}},
		{"tubes without pins", head + antenna + parts + lead + bare + bareRect, []string{"what pin 5 (plate) and pin 7 (cathode) of V2 are on", "what pin 2 ("}},
		{"more than two", head + shaft + parts + loose + bare + bareRect, []string{"what holds shaft", "the antenna"}},
	} {
		t.Run(tt.name, func(t *testing.T) {

			set, err := setfile.Load("f", strings.NewReader(tt.text))
			if err != nil {
				t.Fatal(err)
			}
			got := Untraced(set)
			if !slices.EqualFunc(got, tt.want, strings.HasPrefix) {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}
