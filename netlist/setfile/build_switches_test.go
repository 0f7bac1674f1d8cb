package setfile

import (
	"slices"
	"strings"
	"testing"
)

// TestThrowsAreCalledByPosition: a lead of a selector is called by the position that its throw is of, by where it leads
// where positions have no names, and by its deck where there are several.
func TestThrowsAreCalledByPosition(t *testing.T) {
	for keys, want := range map[string][]string{
		`common = "L", throws = ["a", "b"], positions = ["mains", "battery"]`: {"common", "throw mains", "throw battery"},
		`common = "L", throws = ["a", "b"]`:                                   {"common", "throw a", "throw b"},
		`decks = [{ common = "L", throws = ["a", "b"] }, { common = "N", throws = ["c", "chassis"] }], positions = ["mains", "battery"]`: {"deck 1 common", "deck 1 throw mains", "deck 1 throw battery", "deck 2 common", "deck 2 throw mains", "deck 2 throw battery"},
	} {
		set, err := Load("set.toml", strings.NewReader("[set]\nname = \"a sum\"\n[nodes]\nchassis = { touch = \"chassis\" }\n[parts]\nPL1 = { kind = \"plug\", hot = \"L\", neutral = \"N\" }\n"+
			"R1 = { kind = \"resistor\", ends = [\"a\", \"chassis\"], value = \"1k\" }\nR2 = { kind = \"resistor\", ends = [\"b\", \"c\"], value = \"1k\" }\n"+
			"SL1 = { kind = \"selector\", "+keys+" }\n"))
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, at := range set.Part("SL1").Terminals {
			got = append(got, at.Name)
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", keys, got, want)
		}
	}
}
