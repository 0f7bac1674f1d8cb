package setfile

import (
	"bytes"
	"errors"
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
// set that loads is written and read back the same.
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
	f.Fuzz(func(t *testing.T, data []byte) {
		set, err := Load("f", bytes.NewReader(data))
		if err != nil {
			checkProblemPlaces(t, set, err, data)
			return
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
