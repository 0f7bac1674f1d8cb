package netlist

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestExamplesLoadWithoutNotices(t *testing.T) {
	all := Examples()
	if len(all) != len(fixtures(t, "examples/*.toml")) {
		t.Errorf("%d examples, but another number of files", len(all))
	}
	if !slices.IsSortedFunc(all, func(a, b Example) int { return strings.Compare(a.Name, b.Name) }) {
		t.Error("the examples are not sorted")
	}
	for _, e := range all {
		t.Run(e.Name, func(t *testing.T) {
			set, err := Load(e.Name, strings.NewReader(e.Text))
			if err != nil {
				t.Fatal(err)
			}
			for _, n := range set.Notices {
				t.Errorf("%s: %s", n.Pos, n.Text)
			}
			if e.Title == "" || e.Title != set.Name {
				t.Errorf("the title is %q, the set's name %q", e.Title, set.Name)
			}
			data, err := os.ReadFile(filepath.Join("examples", e.Name+".toml"))
			if err != nil || string(data) != e.Text {
				t.Errorf("the text is not the file's (%v)", err)
			}
			if found, ok := FindExample(e.Name + ".toml"); !ok || found != e {
				t.Errorf("FindExample does not find it")
			}
		})
	}
	if _, ok := FindExample("none"); ok {
		t.Error("FindExample finds what is not there")
	}
}
