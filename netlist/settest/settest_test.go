package settest

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"coldcheck/netlist"
)

// TestRandomSetsReachEveryKind proves that the sets that the properties are held on have every kind
// of part, every style of plug, every condition, guards, frames and each sort of selector.
func TestRandomSetsReachEveryKind(t *testing.T) {
	missing := map[string]bool{}
	for _, k := range kindWeights {
		missing[fmt.Sprintf("kind = %q", k.kind)] = true
	}
	for _, word := range []string{`"grounding"`, `"polarized"`, "ends = [\"line 1\", \"line 2\"]", `"failed"`, `"suspect"`, `"paper"`, "guard =",
		"guard_condition", "frame =", "decks", "fixed", "poles", "measured", "wiper", "leakage", netlist.BuildingEarth, `"X1/Y1"`, `"6X5GT"`,
		`earthed = "midpoint"`, `earthed = "star"`, `earthed = "nowhere"`, "\ncondition = \"suspect\"", "\nRJ =", "\nRR =", "\nF0 =", "\nK2 ="} {
		missing[word] = true
	}
	for seed := 0; len(missing) > 0 && seed < 3000; seed++ {
		text := rapid.Custom(func(t *rapid.T) string { return Draw(t, Limits{[2]int{8, 16}, 2, 2, 2, true}).Text() }).Example(seed)
		for word := range missing {
			if strings.Contains(text, word) {
				delete(missing, word)
			}
		}
	}
	for word := range missing {
		t.Errorf("no random set has %s", word)
	}
}

// TestSixtyPartsOnFile: the set of sixty parts that the program is timed on is the generator's.
func TestSixtyPartsOnFile(t *testing.T) {
	const file = "../../testdata/large/sixty-parts.toml"
	have, err := os.ReadFile(file)
	if want := Large(60, 1); err != nil || string(have) != want {
		t.Errorf("%s is not what the generator makes (%v); COLDCHECK_LARGE=../../testdata/large go test ./netlist/settest -run TestWriteLarge writes it", file, err)
	}
}

// TestWriteLarge writes the sets that the program is timed on, where COLDCHECK_LARGE names a folder: sixty
// parts, then 500 to 8,000 by doubling, 20,000, and a thousand sets of forty parts.
func TestWriteLarge(t *testing.T) {
	large := os.Getenv("COLDCHECK_LARGE")
	if large == "" {
		t.Skip("COLDCHECK_LARGE names no folder")
	}
	write := func(name, text string) {
		name = filepath.Join(large, name)
		if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write("sixty-parts.toml", Large(60, 1))
	if filepath.Base(large) == "large" {
		return // the repository's own folder holds that one alone
	}
	for _, parts := range []int{500, 1000, 2000, 4000, 8000, 19980} {
		write(fmt.Sprintf("parts-%d.toml", parts), Large(parts, 1))
	}
	for seed := range 1000 {
		write(fmt.Sprintf("forty/set-%04d.toml", seed), Large(40, uint64(seed)))
	}
}
