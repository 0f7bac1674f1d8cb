package setfile

import (
	"strings"
	"testing"
)

// A capacitor marked as parts lists do, with its rating behind its value, is told how to be written; cans of two
// sections are told as such.
func TestValueWithRating(t *testing.T) {
	for value, want := range map[string]string{
		".05-400":       `write value = ".05 uF", rating = "400 V"`,
		"16-450":        `write value = "16 uF", rating = "450 V"`,
		"16 MFD 450V":   `write value = "16 uF", rating = "450 V"`,
		".05 mfd 600 V": `write value = ".05 uF", rating = "600 V"`,
		"40 @ 150":      `write value = "40 uF", rating = "150 V"`,
		"50-30 mfd":     `sections = ["50 uF", "30 uF"]`,
		"20-20":         `sections = ["20 uF", "20 uF"]`,
		".05 MFD.":      "",
	} {
		_, err := Load("f", strings.NewReader("[set]\nname = \"x\"\nmains = \"120 V 60 Hz\"\n[nodes]\nchassis = { touch = \"chassis\" }\n"+
			"[parts]\nPL1 = { kind = \"plug\", hot = \"L\", neutral = \"N\" }\n[capacitors]\nC1 = { ends = [\"N\", \"chassis\"], value = \""+value+"\" }\n"))
		all := ""
		if err != nil {
			all = err.Error()
		}
		if want == "" && all != "" || !strings.Contains(all, want) {
			t.Errorf("%s: %s, want %s", value, all, want)
		}
	}
}
