package setfile

import (
	"bytes"
	"errors"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/filetest"
	"coldcheck/netlist/internal/tomltext"
	"coldcheck/netlist/internal/words"
)

// Whatever the bytes: no panic; on error no set, and every problem at a place inside the file; a
// set that loads is written and read back the same, and a meter may show its readings.
func FuzzLoad(f *testing.F) {
	for _, file := range slices.Concat(filetest.Fixtures(f, "testdata/valid/*.toml"), filetest.Fixtures(f, "testdata/invalid/*.toml"), filetest.Fixtures(f, "testdata/trade/*.toml")) {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	for _, text := range []string{"", "\xff\xfe[\x00", tomltext.ByteOrderMark, "a = [[[[", "[parts]\nR1.x.y = {}", "[a.b]\n[[a.c]]\n", "x = \"\\", "'''", "a.b = 1\n[a]\n"} {
		f.Add([]byte(text))
	}
	for _, line := range []string{
		"[capacitors]\nC1 = { ends = [\"a\", \"b\"], value = \"1 uF\" }\nC2 = { kind = \"can\", sections = [\"40 uF\", \"20 uF\"], positive = [\"a\", \"b\"], negative = \"chassis\", rating = [\"150 V\", 25] }",
		"[cans]\nC1 = { sections = [\"1 uF\"], positive = [\"a\"], negative = \"a\" }\nC1A = { sections = [], positive = \"a\", negative = [] }",
		"[[readings]]\nat = [\"chassis\", \"building earth\"]\nohms = \"OL\"\n[[readings]]\nat = [\"line 1\", \"line 2\"]\nmilliamps = \"0.3 mA\"\nplug = \"reversed\"\nmeter = \"1.5 k\"",
		"[[readings]]\nat = [\"line 1\", \"line 1\"]\ndc_volts = \"−5 V\"\nlifted = [\"BOND\", \"PL1\"]\npulled = [\"V1\"]\nswitches = { S1 = \"on\" }\ncontrols = { P1 = \"middle\" }\nvolts = \"open\"",
	} {
		f.Add([]byte(filetest.BenchHead + line + "\n"))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		set, err := Load("f", bytes.NewReader(data))
		if err != nil {
			checkProblemPlaces(t, set, err, data)
			return
		}
		for _, r := range set.Readings {
			unit := netlist.FindKey(netlist.ReadingKeys(), r.Quantity).Unit
			if _, most := unit.Range(); !(math.Abs(r.Value) <= most*1e3) || r.Value < 0 && r.Quantity != "dc_volts" || (r.Quantity == "ohms") != (r.Plug == "out") || r.Meter <= 0 {
				t.Errorf("a reading is %+v", r)
			}
		}
		for _, n := range set.Notices {
			filetest.CheckPlace(t, n.Pos, data)
		}
		back, text := writeAndRead(t, set.Document())
		if diff := cmp.Diff(set, back, sameSet); diff != "" {
			t.Errorf("the set differs (-was +is):\n%s\n%s", diff, text)
		}
	})
}

func checkProblemPlaces(t *testing.T, set *netlist.Set, err error, data []byte) {
	t.Helper()
	var problems netlist.Problems
	if set != nil || !errors.As(err, &problems) || len(problems) == 0 {
		t.Fatalf("set %v, error %v (%T)", set, err, err)
	}
	for _, p := range problems {
		filetest.CheckPlace(t, p.Pos, data)
		if strings.ContainsFunc(p.Text, func(r rune) bool { return r != '\n' && words.Invisible(r) }) || p.Text == "" {
			t.Errorf("%q has something invisible in it", p.Text)
		}
	}
}
