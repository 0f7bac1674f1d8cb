package setfile

import (
	"slices"
	"strings"
	"testing"

	"coldcheck/netlist/internal/filetest"
)

// TestThrowsAreCalledByPosition: a lead of a selector is called by the position that its throw is of, by where it leads
// where positions have no names, and by its deck where there are several.
func TestThrowsAreCalledByPosition(t *testing.T) {
	for keys, want := range map[string][]string{
		`common = "line 1", throws = ["a", "b"], positions = ["mains", "battery"]`: {"common", "throw mains", "throw battery"},
		`common = "line 1", throws = ["a", "b"]`:                                   {"common", "throw a", "throw b"},
		`decks = [{ common = "line 1", throws = ["a", "b"] }, { common = "line 2", throws = ["c", "chassis"] }], positions = ["mains", "battery"]`: {"deck 1 common", "deck 1 throw mains", "deck 1 throw battery", "deck 2 common", "deck 2 throw mains", "deck 2 throw battery"},
	} {
		set, err := Load("set.toml", strings.NewReader(filetest.BenchHead+`R1 = { kind = "resistor", ends = ["a", "chassis"], value = "1k" }
R2 = { kind = "resistor", ends = ["b", "c"], value = "1k" }
SL1 = { kind = "selector", `+keys+" }\n"))
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
