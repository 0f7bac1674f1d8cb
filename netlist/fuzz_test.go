package netlist

import (
	"bytes"
	"errors"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Whatever the bytes: no panic; on error no set, and every problem at a place inside the file; a
// set that loads is written and read back the same.
func FuzzLoad(f *testing.F) {
	for _, file := range slices.Concat(fixtures(f, "testdata/valid/*.toml"), fixtures(f, "testdata/invalid/*.toml")) {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	for _, text := range []string{"", "\xff\xfe[\x00", byteOrderMark, "a = [[[[", "[parts]\nR1.x.y = {}", "[a.b]\n[[a.c]]\n", "x = \"\\", "'''", "a.b = 1\n[a]\n"} {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if text, problems := plainText("f", data); problems == nil {
			if _, what := tooDeep(text); what == "" {
				checkLocator(t, text)
			}
		}
		set, err := Load("f", bytes.NewReader(data))
		if err != nil {
			checkProblemPlaces(t, set, err, data)
			return
		}
		for _, n := range set.Notices {
			checkPlace(t, n.Pos, data)
		}
		back, text := writeAndRead(t, set.Document())
		if diff := cmp.Diff(set, back, sameSet); diff != "" {
			t.Errorf("the set differs (-was +is):\n%s\n%s", diff, text)
		}
	})
}

func checkProblemPlaces(t *testing.T, set *Set, err error, data []byte) {
	t.Helper()
	var problems Problems
	if set != nil || !errors.As(err, &problems) || len(problems) == 0 {
		t.Fatalf("set %v, error %v (%T)", set, err, err)
	}
	for _, p := range problems {
		checkPlace(t, p.Pos, data)
		if strings.ContainsFunc(p.Text, func(r rune) bool { return r != '\n' && invisible(r) }) || p.Text == "" {
			t.Errorf("%q has something invisible in it", p.Text)
		}
	}
}

func checkPlace(t *testing.T, pos Pos, data []byte) {
	t.Helper()
	if pos.Line == 0 && pos.Col == 0 {
		return // of the file as a whole
	}
	lines := strings.Split(strings.TrimPrefix(string(data), byteOrderMark), "\n")
	if pos.Line < 1 || pos.Line > len(lines) || pos.Col < 1 || pos.Col > len([]rune(lines[pos.Line-1]))+1 {
		t.Errorf("%v is outside the file", pos)
	}
}
